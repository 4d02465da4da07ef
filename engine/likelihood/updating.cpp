#include "likelihood/updating.h"

#include <algorithm>
#include <cmath>

namespace lagline {
namespace {

using States = std::array<double, damage_states>;

States scaled(States weights) {
    const double sum = weights[0] + weights[1] + weights[2];
    for (double& weight : weights) weight /= sum;  // eq. 16
    return weights;
}

// With hundreds of inspections the products of eq. 15 fall below the smallest double: the same in
// logarithms, with the largest taken out first.
States updated_in_logarithms(const States& prior, const GridTable& conditional,
                             const InspectionCounts& counts) {
    States logs{};
    for (std::size_t k = 0; k < damage_states; ++k) {
        logs[k] = std::log(prior[k]);
        for (std::size_t c = 0; c < telling_categories; ++c) {
            if (counts[c] == 0.0) continue;
            logs[k] +=
                counts[c] *
                std::log(conditional.at(static_cast<std::uint8_t>(c), static_cast<std::uint8_t>(k))
                             .value);
        }
    }
    const double most = *std::ranges::max_element(logs);
    for (double& log : logs) log = std::exp(log - most);
    return scaled(logs);
}

}  // namespace

InspectionCounts count_inspections(const Plant& plant, std::uint32_t segment, Date until,
                                   std::span<const std::uint8_t> effectiveness) {
    InspectionCounts counts{};
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t row = plant.inspection_order[i];
        if (Date{plant.inspections.days(InspectionField::date)[row]} > until) break;
        if (effectiveness[row] < telling_categories) counts[effectiveness[row]] += 1.0;
    }
    return counts;
}

std::array<double, damage_states> updated_states(const States& prior, const GridTable& conditional,
                                                 const InspectionCounts& counts) {
    constexpr double safe = 1e-200;
    States weights = prior;
    for (std::size_t k = 0; k < damage_states; ++k) {
        for (std::size_t c = 0; c < telling_categories; ++c) {
            if (counts[c] == 0.0) continue;
            const double likelihood =
                conditional.at(static_cast<std::uint8_t>(c), static_cast<std::uint8_t>(k)).value;
            weights[k] *= std::pow(likelihood, counts[c]);  // eq. 15
        }
    }
    if (*std::ranges::max_element(weights) < safe) {
        return updated_in_logarithms(prior, conditional, counts);
    }
    return scaled(weights);
}

}  // namespace lagline
