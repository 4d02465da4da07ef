#include "consequence/consequence.h"

#include <algorithm>
#include <map>
#include <string_view>

#include "quantity/pipe_size.h"

namespace lagline {
namespace {

using S = SegmentField;

/// Fills the rows of one block.
class Filler {
  public:
    Filler(const Plant& plant, const ConsequenceRules& rules, ConsequenceColumns& out)
        : segments_(plant.segments), plant_(plant), rules_(rules), out_(out) {}

    void fill(std::uint32_t row, Eigen::Index at) {
        const bool priced = rules_.money && can_be_priced(segments_, row);
        if (rules_.money) out_.priced[at] = priced ? 1 : 0;
        if (!priced) {
            by_category(row, at);
            return;
        }
        add_up(*rules_.money, row, at);
        hold(*rules_.money, row, at);
    }

  private:
    void by_category(std::uint32_t row, Eigen::Index at) {
        const bool has_cost = segments_.has(S::leak_cost, row);
        if (segments_.has(S::consequence_category, row)) {
            out_.consequence_category[at] = segments_.codes(S::consequence_category)[row];
        } else {
            out_.consequence_category[at] = category_of(segments_.numbers(S::leak_cost)[row]);
        }
        out_.leak_cost[at] = has_cost
                                 ? segments_.numbers(S::leak_cost)[row]
                                 : rules_.cost_of_category->value(out_.consequence_category[at]) *
                                       rules_.plant_per_usd;  // eq. 21
        if (!rules_.money) return;
        const MoneyRules::Words& basis = rules_.money->basis;
        out_.consequence_basis[at] = has_cost ? basis.leak_cost : basis.category;
    }

    void add_up(const MoneyRules& money, std::uint32_t row, Eigen::Index at) {
        const double nps = pipe_sizes()[segments_.codes(S::nominal_size)[row]].nps_inches;
        const std::uint8_t fluid = segments_.codes(S::fluid_class)[row];
        const double per_m = money.replace_run_per_m.value_or(
            money.replace_cost->find(0, nps).value * rules_.plant_per_usd);
        out_.repair_cost[at] = money.repair_fixed + money.repair_length_m * per_m;  // eq. 50
        const double margin = lost_margin_per_day(plant_, row).value_or(money.lost_margin_per_day);
        out_.outage_cost[at] = segments_.numbers(S::outage)[row] * margin;  // eq. 51
        const std::uint8_t size = money.release_size->find(0, nps).code;
        out_.release_size[at] = size;
        out_.release_cost[at] =
            money.release_cost->at(fluid, size).value * rules_.plant_per_usd;  // eq. 52
        const std::uint8_t injury = money.injury_class->code(fluid);
        out_.injury_class[at] = injury;
        out_.injury_cost[at] = money.injury_chance->value(fluid) *
                               money.injury_value->value(injury) * rules_.plant_per_usd;  // eq. 53
        out_.money_cost[at] = out_.repair_cost[at] + out_.outage_cost[at] + out_.release_cost[at] +
                              out_.injury_cost[at];  // eq. 54
    }

    // The sum is a rule of thumb; the category is what somebody who knows the line said of it.
    void hold(const MoneyRules& money, std::uint32_t row, Eigen::Index at) {
        const double sum = out_.money_cost[at];
        out_.consequence_basis[at] = money.basis.money;
        out_.leak_cost[at] = sum;
        if (!segments_.has(S::consequence_category, row)) {
            out_.consequence_category[at] = category_of(sum);
            return;
        }
        const std::uint8_t category = segments_.codes(S::consequence_category)[row];
        const AxisRange& limits = rules_.limits[category];
        out_.consequence_category[at] = category;
        out_.leak_cost[at] = std::clamp(sum, limits.from * rules_.plant_per_usd,
                                        limits.to * rules_.plant_per_usd);  // eq. 55
        if (out_.leak_cost[at] != sum) out_.consequence_basis[at] = money.basis.money_held;
    }

    [[nodiscard]] std::uint8_t category_of(double plant_money) const {
        return rules_.category_of_cost->find(0, plant_money / rules_.plant_per_usd).code;
    }

    const SegmentSheet& segments_;
    const Plant& plant_;
    const ConsequenceRules& rules_;
    ConsequenceColumns& out_;
};

// Of a segment that is priced.
bool lacks_margin(const Plant& plant, std::size_t segment) {
    return plant.segments.numbers(S::outage)[segment] > 0.0 && !lost_margin_per_day(plant, segment);
}

}  // namespace

bool ConsequenceColumns::assumes_margin(const Plant& plant, std::uint32_t segment,
                                        std::size_t row) const {
    if (priced.size() == 0 || priced[static_cast<Eigen::Index>(row)] == 0) return false;
    return lacks_margin(plant, segment);
}

std::vector<MarginGap> margin_gaps(const Plant& plant, const RuleSet& rules) {
    if (!models_of(rules).money) return {};
    std::map<std::string_view, std::size_t> counts;
    for (std::size_t row = 0; row < plant.segments.rows(); ++row) {
        if (can_be_priced(plant.segments, row) && lacks_margin(plant, row)) {
            ++counts[plant.segments.texts(S::unit)[row]];
        }
    }
    std::vector<MarginGap> gaps;
    for (const auto& [unit, count] : counts) gaps.push_back({std::string{unit}, count});
    return gaps;
}

void fill_consequence(const Plant& plant, const ConsequenceRules& rules,
                      std::span<const std::uint32_t> rows, RowRange range,
                      ConsequenceColumns& out) {
    Filler filler{plant, rules, out};
    for (std::size_t i = range.begin; i < range.end; ++i) {
        filler.fill(rows[i], static_cast<Eigen::Index>(i));
    }
}

}  // namespace lagline
