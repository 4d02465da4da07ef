#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "planning/recoat.h"
#include "planning/take_off.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// A danger of work on a segment; words of `work_caution`, in this order, whose meanings are what
/// is printed.
enum class Caution : std::uint8_t {
    asbestos,
    asbestos_possible,
    lead_in_paint,
    zinc_on_stainless,
    chloride_in_coating,
    chloride_in_insulation,
    thin_wall,
    wall_unknown,
    hot_metal,
    hot_work_flammable,
    service_hazard,
    fluid_unknown,
};
inline constexpr std::size_t caution_count = 12;

/// The rule values of the cautions, taken out of the rule set once.
struct CautionRules {
    int asbestos_before_year = 0;
    int lead_before_year = 0;
    double thin_wall_ratio = 0.0;  ///< of the expected to the minimum wall
    double touch_limit_degc = 0.0;
    std::vector<bool> stainless;       ///< by code of `material`
    std::vector<bool> holds_zinc;      ///< by code of `coating_system`
    std::vector<bool> zinc_jacket;     ///< by code of `jacket`
    std::vector<bool> holds_asbestos;  ///< by code of `insulation_type`
    std::vector<bool> flammable;       ///< by code of `fluid_class`
    std::vector<bool> hazardous;       ///< by code of `fluid_class`
    std::uint8_t no_coating = 0;       ///< word `none` of `coating_system`
};
[[nodiscard]] CautionRules caution_rules(const RuleSet& rules);
[[nodiscard]] std::span<const TableNeed> caution_needs();

/// The work whose dangers are asked for.
struct WorkOnSegment {
    WorkAction action{};
    WorkState state{};
    std::optional<double> expected_wall_mm;  ///< nothing where the segment loses no wall
    std::optional<double> minimum_wall_mm;
};

/// Which cautions hold; bit n is Caution n.  Cheap: no text is made.
[[nodiscard]] std::uint32_t cautions(const Plant& plant, const CautionRules& rules,
                                     std::uint32_t segment, const WorkOnSegment& work);

[[nodiscard]] constexpr bool holds(std::uint32_t set, Caution caution) {
    return ((set >> static_cast<unsigned>(caution)) & 1U) != 0;
}

/// What is printed for each caution of `set`, in the order of Caution: the words of the rules, and
/// what of the segment calls for them.
[[nodiscard]] std::vector<std::string> caution_lines(const Plant& plant, const RuleSet& rules,
                                                     std::uint32_t segment,
                                                     const WorkOnSegment& work, std::uint32_t set);

}  // namespace lagline
