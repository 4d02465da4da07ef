#pragma once

#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "planning/futures.h"
#include "planning/plan_rules.h"
#include "planning/surface.h"

namespace lagline {

/// Segments that one scaffold reaches, paid once a window.
struct AccessGroups {
    static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

    std::vector<std::uint32_t> of_row;  ///< by row of the futures; none without a scaffold_group
    std::vector<std::string> names;     ///< by group, in the order of their first row
    std::vector<double> elevation_m;    ///< highest of its segments
    std::vector<double> money;          ///< of the scaffold, prices of today; 0 from the ground
    std::vector<double> hours;          ///< of scaffolders

    [[nodiscard]] std::size_t size() const { return names.size(); }
    [[nodiscard]] bool needs_scaffold(std::uint32_t group) const {
        return group != none && money[group] > 0.0;
    }
};
[[nodiscard]] AccessGroups access_groups(const Plant& plant, const RuleSet& rules,
                                         const Futures& futures);

}  // namespace lagline
