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

void count(std::uint8_t category, InspectionCounts& counts) {
    if (category < telling_categories) counts[category] += 1.0;
}

// The looks of one day: each technique once, by its most effective look.
void count_day(const Plant& plant, std::span<const std::uint32_t> rows,
               std::span<const std::uint8_t> effectiveness, InspectionCounts& counts) {
    std::array<std::uint8_t, 256> best{};  // by code of the technique
    best.fill(static_cast<std::uint8_t>(telling_categories));
    const auto technique = plant.inspections.codes(InspectionField::technique);
    for (const std::uint32_t row : rows) {
        best[technique[row]] = std::min(best[technique[row]], effectiveness[row]);
    }
    for (const std::uint8_t category : best) count(category, counts);
}

}  // namespace

InspectionCounts count_inspections(const Plant& plant, std::uint32_t segment, Date until,
                                   std::span<const std::uint8_t> effectiveness) {
    return count_inspections_from(plant.inspection_begin[segment], plant, segment, until,
                                  effectiveness);
}

InspectionCounts count_inspections_from(std::uint32_t begin, const Plant& plant,
                                        std::uint32_t segment, Date until,
                                        std::span<const std::uint8_t> effectiveness) {
    InspectionCounts counts{};
    const auto days = plant.inspections.days(InspectionField::date);
    const std::uint32_t end = plant.inspection_begin[segment + 1];
    const auto* const order = plant.inspection_order.data();
    for (std::uint32_t i = begin; i < end;) {
        const std::int32_t day = days[order[i]];
        if (Date{day} > until) break;
        std::uint32_t next = i + 1;
        while (next < end && days[order[next]] == day) ++next;
        if (next == i + 1) {
            count(effectiveness[order[i]], counts);
        } else {
            count_day(plant, {order + i, order + next}, effectiveness, counts);
        }
        i = next;
    }
    return counts;
}

bool counts_for_its_day(const Plant& plant, std::uint32_t segment, std::uint32_t row,
                        std::span<const std::uint8_t> effectiveness) {
    const auto days = plant.inspections.days(InspectionField::date);
    const auto technique = plant.inspections.codes(InspectionField::technique);
    bool before = true;
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t other = plant.inspection_order[i];
        if (other == row) {
            before = false;
        } else if (days[other] == days[row] && technique[other] == technique[row]) {
            if (effectiveness[other] < effectiveness[row]) return false;
            if (before && effectiveness[other] == effectiveness[row]) return false;
        }
    }
    return true;
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
