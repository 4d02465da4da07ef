#include <algorithm>
#include <cmath>

#include "degradation/degradation.h"
#include "quantity/date.h"

namespace lagline {
namespace {

using S = SegmentField;

struct Governing {
    ServiceLevel level;
    std::uint8_t susceptibility = 0;
};

// The worst level of the cycle governs; among equals the longest.
Governing governing_level(const ServiceLevels& levels, const SusceptibilityTables& tables,
                          std::uint8_t driver) {
    Governing worst{levels.all().front(), tables.find(driver, levels.all().front().metal_degc)};
    for (const ServiceLevel& level : levels.all().subspan(1)) {
        const std::uint8_t susceptibility = tables.find(driver, level.metal_degc);
        const bool worse =
            susceptibility > worst.susceptibility ||
            (susceptibility == worst.susceptibility && level.share > worst.level.share);
        if (worse) worst = {level, susceptibility};
    }
    return worst;
}

// Outside the window of the table nothing is susceptible, however wet it is kept.
bool outside_window(const SusceptibilityTables& tables, std::uint8_t drivers, double metal_degc) {
    for (std::uint8_t driver = 0; driver < drivers; ++driver) {
        if (tables.find(driver, metal_degc) != 0) return false;
    }
    return true;
}

}  // namespace

std::uint8_t SusceptibilityTables::find(std::uint8_t driver, double metal_degc) const {
    const std::uint8_t code = table->find(driver, metal_degc).code;
    if (other_unit == nullptr) return code;
    return std::max(code, other_unit->find(driver, metal_degc).code);
}

void fill_susceptibility(const BlockOfRows& block, const DegradationRules& rules,
                         const ExposureColumns& exposure, std::size_t first,
                         std::span<const ServiceLevels> levels, CrackingColumns& out,
                         Codes& outside_range) {
    const SegmentSheet& segments = block.plant.segments;
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto own = static_cast<Eigen::Index>(i - first);
        const std::uint32_t segment = block.segments[i];
        const SusceptibilityTables& tables =
            rules.susceptibility[segments.codes(S::material)[segment]];
        const Governing worst = governing_level(levels[i - block.range.begin], tables,
                                                exposure.driver[static_cast<Eigen::Index>(i)]);
        out.level_degc[own] = worst.level.metal_degc;
        out.level_share[own] = worst.level.share;
        out.susceptibility[own] = worst.susceptibility;
        outside_range[static_cast<Eigen::Index>(i)] =
            outside_window(tables, rules.drivers, worst.level.metal_degc) ? 1 : 0;
        out.steps[own] =
            rules.complexity_step->value(segments.codes(S::complexity)[segment]) +
            rules.condition_step->value(insulation_condition(block.plant, exposure, i, segment)) +
            rules.insulation_step->value(segments.codes(S::insulation_type)[segment]);
    }
}

std::uint8_t adjusted_susceptibility(std::uint8_t susceptibility, double steps, bool cracks_found,
                                     std::uint8_t worst) {
    if (cracks_found) return worst;
    if (susceptibility == 0) return susceptibility;
    const double stepped =
        std::clamp(static_cast<double>(susceptibility) + steps, 0.0, static_cast<double>(worst));
    return static_cast<std::uint8_t>(stepped);
}

std::uint8_t severity_of(const DegradationRules& rules, std::uint8_t susceptibility, double steps,
                         bool cracks_found) {
    return rules.severity->code(
        adjusted_susceptibility(susceptibility, steps, cracks_found, rules.worst_susceptibility));
}

void fill_severity(const BlockOfRows& block, const DegradationRules& rules, std::size_t first,
                   CoatingColumns& coating, CrackingColumns& out) {
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const auto own = static_cast<Eigen::Index>(i - first);
        const CrackHistory history = read_crack_history(block.plant, block.segments[i], block.at,
                                                        block.crack_effectiveness, rules.cracks);
        out.cracks_found[own] = history.found ? 1 : 0;
        out.severity[own] =
            severity_of(rules, out.susceptibility[own], out.steps[own], history.found);
        out.time_since_inspection_years[own] =
            std::max(0.0, years_between(history.clear, block.at));
        out.found_by[static_cast<std::size_t>(own)] = history.found_row;
        out.credit_begin[static_cast<std::size_t>(own)] = history.credit_begin;
        out.cleared_by[static_cast<std::size_t>(own)] = history.cleared_row;
        const ProtectedTime time =
            history.found
                ? ProtectedTime{0.0, out.time_since_inspection_years[own]}
                : protected_time(block, rules, coating, i, history.clear, block.at, block.at);
        coating.credit_years[row] = time.credit_years;
        coating.exposed_time_years[row] = time.exposed_years;
    }
}

}  // namespace lagline
