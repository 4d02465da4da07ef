#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "plant/plant.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// One cell of the risk matrix and the ranked segments in it.
struct MatrixCell {
    std::uint8_t probability = 0;     ///< code of `probability_category`
    std::uint8_t consequence = 0;     ///< code of `consequence_category`
    std::uint8_t band = 0;            ///< code of `risk_category`
    std::vector<std::uint32_t> rows;  ///< of the ranking, the greatest risk first
    double risk_per_year = 0.0;       ///< their risk together, plant currency a year
};

/// Ranked segments of a band whose fluid is a hazard of its own.
struct HazardCount {
    std::string_view hazard;  ///< word of `service_hazard`; empty: fluid class not recorded
    std::string_view meaning;
    std::uint8_t band = 0;
    std::size_t count = 0;
};

/// The ranking sorted into the risk matrix, with the limits of its categories.
struct RiskMatrix {
    std::vector<MatrixCell> cells;         ///< by probability, then consequence
    std::vector<AxisRange> probabilities;  ///< 1/y, by code of `probability_category`
    std::vector<AxisRange> costs;          ///< plant currency, by code of `consequence_category`
    std::vector<std::size_t> bands;        ///< segments by code of `risk_category`
    std::vector<HazardCount> hazards;      ///< the highest band first, then by word; none empty
    std::size_t held = 0;  ///< segments whose money does not fit the category that the site gives

    [[nodiscard]] const MatrixCell& cell(std::size_t probability, std::size_t consequence) const {
        return cells[probability * costs.size() + consequence];
    }
};

/// @param ranking  of `plant` by `rules`
[[nodiscard]] RiskMatrix risk_matrix(const Plant& plant, const RuleSet& rules,
                                     const Ranking& ranking);

}  // namespace lagline
