#include "ranking/matrix.h"

#include <map>
#include <utility>

#include "consequence/consequence.h"

namespace lagline {
namespace {

void make_cells(const RuleSet& rules, RiskMatrix& matrix) {
    const GridTable& bands = rules.grid("risk_matrix");
    for (std::size_t p = 0; p < matrix.probabilities.size(); ++p) {
        for (std::size_t c = 0; c < matrix.costs.size(); ++c) {
            MatrixCell cell;
            cell.probability = static_cast<std::uint8_t>(p);
            cell.consequence = static_cast<std::uint8_t>(c);
            cell.band = bands.at(cell.probability, cell.consequence).code;
            matrix.cells.push_back(std::move(cell));
        }
    }
}

void sort_in(const Ranking& ranking, RiskMatrix& matrix) {
    for (const std::uint32_t row : ranking.order) {
        const auto at = static_cast<Eigen::Index>(row);
        const std::size_t probability = ranking.risk.probability_category[at];
        const std::size_t consequence = ranking.consequence.consequence_category[at];
        MatrixCell& cell = matrix.cells[probability * matrix.costs.size() + consequence];
        cell.rows.push_back(row);
        cell.risk_per_year += ranking.risk.risk_per_year[at];
        ++matrix.bands[ranking.risk.risk_category[at]];
    }
}

void count_hazards(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                   RiskMatrix& matrix) {
    // By band and place in the vocabulary; what is not recorded comes last.
    std::map<std::pair<std::uint8_t, std::size_t>, std::size_t> counts;
    const Vocabulary& words = rules.vocabulary("service_hazard");
    for (const std::uint32_t row : ranking.order) {
        const Word* hazard = service_hazard(plant, rules, ranking.segment_rows[row]);
        const auto word = hazard == nullptr ? words.words.size()
                                            : static_cast<std::size_t>(hazard - words.words.data());
        ++counts[{ranking.risk.risk_category[static_cast<Eigen::Index>(row)], word}];
    }
    for (std::size_t band = matrix.bands.size(); band-- > 0;) {
        for (std::size_t word = 0; word <= words.words.size(); ++word) {
            const auto found = counts.find({static_cast<std::uint8_t>(band), word});
            if (found == counts.end()) continue;
            HazardCount count;
            if (word < words.words.size()) {
                if (words.words[word].key == no_hazard) continue;
                count.hazard = words.words[word].key;
                count.meaning = words.words[word].meaning;
            }
            count.band = static_cast<std::uint8_t>(band);
            count.count = found->second;
            matrix.hazards.push_back(count);
        }
    }
}

std::size_t count_held(const RuleSet& rules, const Ranking& ranking) {
    const Codes& basis = ranking.consequence.consequence_basis;
    if (basis.size() == 0) return 0;
    const std::uint8_t held = rules.vocabulary("consequence_basis").code("money_held").value();
    std::size_t count = 0;
    for (const std::uint32_t row : ranking.order) {
        if (basis[static_cast<Eigen::Index>(row)] == held) ++count;
    }
    return count;
}

}  // namespace

RiskMatrix risk_matrix(const Plant& plant, const RuleSet& rules, const Ranking& ranking) {
    RiskMatrix matrix;
    matrix.probabilities =
        rules.band("probability_category")
            .ranges_of_words(rules.vocabulary("probability_category").words.size());
    const ConsequenceRules consequence = consequence_rules(rules, plant);
    for (const AxisRange& usd : consequence.category_of_cost->ranges_of_words(
             rules.vocabulary("consequence_category").words.size())) {
        matrix.costs.push_back(
            {usd.from * consequence.plant_per_usd, usd.to * consequence.plant_per_usd});
    }
    matrix.bands.assign(rules.vocabulary("risk_category").words.size(), 0);
    make_cells(rules, matrix);
    sort_in(ranking, matrix);
    count_hazards(plant, rules, ranking, matrix);
    matrix.held = count_held(rules, ranking);
    return matrix;
}

}  // namespace lagline
