#include "consequence/consequence.h"

#include <array>

namespace lagline {
namespace {

using S = SegmentField;
using Key = std::string_view;

constexpr std::array needs{
    TableNeed{.name = "consequence_category_of_cost",
              .kind = TableKind::bands,
              .axis = "leak_cost",
              .gives = "consequence_category"},
    TableNeed{.name = "consequence_cost",
              .kind = TableKind::lookup,
              .dimension = Dimension::money,
              .by = "consequence_category"},
};

constexpr std::array category_inputs{Key{"consequence_category"}, Key{"leak_cost"}};
constexpr std::array category_tables{Key{"consequence_category_of_cost"}};
constexpr std::array cost_inputs{Key{"leak_cost"}, Key{"consequence_category"}};
constexpr std::array cost_tables{Key{"consequence_cost"}};

constexpr auto category_info = word_info("consequence_category", "consequence_category", "category",
                                         "eq. 21", "as given, else by the cost of a leak",
                                         "API RP 581, 3rd edition, Part 1, Table 4.2 (recalled)",
                                         "consequence of a leak, A (least) to E",
                                         Barrier::consequence, category_inputs, category_tables);
constexpr auto cost_info = number_info(
    "leak_cost", currency_sign, "CoF", "eq. 21", "as given, else what stands for the category",
    "API RP 581, 3rd edition, Part 1, Table 4.2 (recalled)", "cost of a leak", Barrier::consequence,
    cost_inputs, cost_tables);

}  // namespace

void ConsequenceColumns::resize(Eigen::Index rows) {
    consequence_category.resize(rows);
    leak_cost.resize(rows);
}

std::vector<ColumnView> ConsequenceColumns::views() const {
    return {view(category_info, consequence_category), view(cost_info, leak_cost)};
}

std::span<const TableNeed> consequence_needs() { return needs; }

ConsequenceRules consequence_rules(const RuleSet& rules, const Plant& plant) {
    const auto& exchange = plant.description.exchange;
    const auto rate = exchange.find("USD");
    const bool in_usd = plant.description.currency == "USD" || rate == exchange.end();
    return {&rules.band("consequence_category_of_cost"), &rules.lookup("consequence_cost"),
            in_usd ? 1.0 : rate->second};
}

void fill_consequence(const Plant& plant, const ConsequenceRules& rules,
                      std::span<const std::uint32_t> rows, RowRange range,
                      ConsequenceColumns& out) {
    for (std::size_t i = range.begin; i < range.end; ++i) {
        const std::uint32_t row = rows[i];
        const auto at = static_cast<Eigen::Index>(i);
        const bool has_cost = plant.segments.has(S::leak_cost, row);
        if (plant.segments.has(S::consequence_category, row)) {
            out.consequence_category[at] = plant.segments.codes(S::consequence_category)[row];
        } else {
            const double usd = plant.segments.numbers(S::leak_cost)[row] / rules.plant_per_usd;
            out.consequence_category[at] = rules.category_of_cost->find(0, usd).code;
        }
        out.leak_cost[at] = has_cost ? plant.segments.numbers(S::leak_cost)[row]
                                     : rules.cost_of_category->value(out.consequence_category[at]) *
                                           rules.plant_per_usd;  // eq. 21
    }
}

}  // namespace lagline
