#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What can make a segment due: a fact that needs an engineer now, or a criterion that is reached.
enum class Criterion : std::uint8_t { fact, wall, probability, risk };
inline constexpr std::array all_criteria{Criterion::fact, Criterion::wall, Criterion::probability,
                                         Criterion::risk};
[[nodiscard]] std::string_view to_string(Criterion criterion);

/// What a segment must not go beyond, and who says so.
struct Criteria {
    bool wall = false;                           ///< expected wall below the minimum thickness
    std::optional<double> probability_per_year;  ///< 1/y
    std::optional<double> risk_per_year;         ///< plant currency a year
    bool of_the_plant = false;                   ///< from plant.yaml, else defaults of the rules

    /// True where the criterion is set; a fact is nobody's to set.
    [[nodiscard]] bool has(Criterion criterion) const;
};

/// The criteria of plant.yaml; where it states none at all, those of the rule set.
[[nodiscard]] Criteria criteria_of(const Plant& plant, const RuleSet& rules);

/// "expected wall at minimum, leak 0.01/y, risk 20 000 EUR/y (plant.yaml)".
[[nodiscard]] std::string describe(const Criteria& criteria, std::string_view currency);

[[nodiscard]] std::span<const TableNeed> criteria_needs();

}  // namespace lagline
