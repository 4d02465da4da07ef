#include "ranking/risk.h"

#include <array>

namespace lagline {
namespace {

using Key = std::string_view;

constexpr std::array needs{
    TableNeed{.name = "probability_category",
              .kind = TableKind::bands,
              .axis = "probability_of_failure",
              .gives = "probability_category"},
    TableNeed{.name = "risk_matrix",
              .kind = TableKind::grid,
              .by = "probability_category",
              .columns = "consequence_category",
              .gives = "risk_category"},
};

constexpr std::array probability_inputs{Key{"probability_of_failure"}};
constexpr std::array probability_tables{Key{"probability_category"}};
constexpr std::array matrix_inputs{Key{"probability_category"}, Key{"consequence_category"}};
constexpr std::array matrix_tables{Key{"risk_matrix"}};
constexpr std::array risk_inputs{Key{"probability_of_failure"}, Key{"leak_cost"}};

constexpr Key risk_unit = "\u00A4/y";  // currency_sign a year

constexpr auto probability_info =
    word_info("probability_category", "probability_category", "category", "eq. 23",
              "by the probability of failure",
              "API RP 581, 3rd edition, Part 1, Tables 4.1 and 4.2 (recalled)",
              "category of the probability, 1 (least) to 5", Barrier::risk, probability_inputs,
              probability_tables);
constexpr auto matrix_info =
    word_info("risk_category", "risk_category", "category", "eq. 23", "cell of the risk matrix",
              "API RP 581, 3rd edition, Part 1, risk matrix (recalled)", "band of the risk",
              Barrier::risk, matrix_inputs, matrix_tables);
constexpr auto risk_info =
    number_info("risk", risk_unit, "R", "eq. 22", "R = P_f CoF", "API RP 581, 3rd edition, Part 1",
                "expected loss a year", Barrier::risk, risk_inputs);

}  // namespace

void RiskColumns::resize(Eigen::Index rows) {
    make_rows(probability_category, rows);
    make_rows(risk_category, rows);
    make_rows(risk_per_year, rows);
}

std::vector<ColumnView> RiskColumns::views() const {
    return {view(risk_info, risk_per_year), view(probability_info, probability_category),
            view(matrix_info, risk_category)};
}

std::span<const TableNeed> risk_needs() { return needs; }

RiskRules risk_rules(const RuleSet& rules) {
    return {&rules.band("probability_category"), &rules.grid("risk_matrix")};
}

void fill_risk(const RiskRules& rules, const LikelihoodColumns& likelihood,
               const ConsequenceColumns& consequence, RowRange range, RiskColumns& out) {
    const auto begin = static_cast<Eigen::Index>(range.begin);
    const auto size = static_cast<Eigen::Index>(range.size());
    const auto probability = likelihood.probability_of_failure_per_year.segment(begin, size);
    out.risk_per_year.segment(begin, size) =
        probability * consequence.leak_cost.segment(begin, size);  // eq. 22
    for (Eigen::Index i = 0; i < size; ++i) {
        const std::uint8_t category = rules.probability_category->find(0, probability[i]).code;
        out.probability_category[begin + i] = category;
        out.risk_category[begin + i] =
            rules.matrix->at(category, consequence.consequence_category[begin + i]).code;  // eq. 23
    }
}

}  // namespace lagline
