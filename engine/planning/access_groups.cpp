#include "planning/access_groups.h"

#include <algorithm>
#include <map>

#include "planning/actions.h"

namespace lagline {

AccessGroups access_groups(const Plant& plant, const RuleSet& rules, const Futures& futures) {
    using S = SegmentField;
    const SurfaceRules surfaces = surface_rules(rules, plant);
    AccessGroups groups;
    std::map<std::string_view, std::uint32_t> known;
    for (const std::uint32_t segment : futures.segment_rows) {
        if (!plant.segments.has(S::scaffold_group, segment)) {
            groups.of_row.push_back(AccessGroups::none);
            continue;
        }
        const std::string_view name = plant.segments.texts(S::scaffold_group)[segment];
        const auto [place, is_new] =
            known.try_emplace(name, static_cast<std::uint32_t>(groups.names.size()));
        if (is_new) {
            groups.names.emplace_back(name);
            groups.elevation_m.push_back(0.0);
        }
        const std::uint32_t group = place->second;
        groups.of_row.push_back(group);
        groups.elevation_m[group] = std::max(groups.elevation_m[group],
                                             segment_surface(plant, surfaces, segment).elevation_m);
    }
    const PlanRules prices = plan_rules(rules, plant);
    const TakeOffRules norms = take_off_rules(rules);
    for (const double elevation : groups.elevation_m) {
        groups.money.push_back(scaffold_money(prices, norms, elevation));
        groups.hours.push_back(scaffold_hours(norms, elevation));
    }
    return groups;
}

}  // namespace lagline
