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
Governing governing_level(const ServiceLevels& levels, const BandTable& table,
                          std::uint8_t driver) {
    Governing worst{levels.all().front(), table.find(driver, levels.all().front().metal_degc).code};
    for (const ServiceLevel& level : levels.all().subspan(1)) {
        const std::uint8_t susceptibility = table.find(driver, level.metal_degc).code;
        const bool worse =
            susceptibility > worst.susceptibility ||
            (susceptibility == worst.susceptibility && level.share > worst.level.share);
        if (worse) worst = {level, susceptibility};
    }
    return worst;
}

}  // namespace

void fill_susceptibility(const BlockOfRows& block, const DegradationRules& rules,
                         const ExposureColumns& exposure, std::size_t first,
                         std::span<const ServiceLevels> levels, CrackingColumns& out) {
    const SegmentSheet& segments = block.plant.segments;
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto own = static_cast<Eigen::Index>(i - first);
        const std::uint32_t segment = block.segments[i];
        const BandTable& table = *rules.susceptibility[segments.codes(S::material)[segment]];
        const Governing worst = governing_level(levels[i - block.range.begin], table,
                                                exposure.driver[static_cast<Eigen::Index>(i)]);
        out.level_degc[own] = worst.level.metal_degc;
        out.level_share[own] = worst.level.share;
        out.susceptibility[own] = worst.susceptibility;
        out.steps[own] =
            rules.complexity_step->value(segments.codes(S::complexity)[segment]) +
            rules.condition_step->value(insulation_condition(block.plant, exposure, i, segment)) +
            rules.insulation_step->value(segments.codes(S::insulation_type)[segment]);
    }
}

std::uint8_t severity_of(const DegradationRules& rules, std::uint8_t susceptibility, double steps,
                         bool cracks_found) {
    if (cracks_found) return rules.severity->code(rules.worst_susceptibility);
    if (susceptibility == 0) return rules.severity->code(susceptibility);
    const double stepped = std::clamp(static_cast<double>(susceptibility) + steps, 0.0,
                                      static_cast<double>(rules.worst_susceptibility));
    return rules.severity->code(static_cast<std::uint8_t>(stepped));
}

void fill_severity(const BlockOfRows& block, const DegradationRules& rules, std::size_t first,
                   CoatingColumns& coating, CrackingColumns& out) {
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const auto own = static_cast<Eigen::Index>(i - first);
        const CrackHistory history = read_crack_history(block.plant, block.segments[i], block.at,
                                                        block.effectiveness, rules.history);
        out.cracks_found[own] = history.found ? 1 : 0;
        out.severity[own] =
            severity_of(rules, out.susceptibility[own], out.steps[own], history.found);
        out.time_since_inspection_years[own] =
            std::max(0.0, years_between(history.clear, block.at));
        const ProtectedTime time = protected_time(block, rules, coating, i, history.clear, block.at,
                                                  coating.failed[row] != 0);
        coating.credit_years[row] = time.credit_years;
        coating.exposed_time_years[row] = time.exposed_years;
    }
}

}  // namespace lagline
