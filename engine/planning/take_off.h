#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>

#include "planning/recoat.h"
#include "planning/surface.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Work on a segment; words of `work_action`, in this order.
enum class WorkAction : std::uint8_t {
    screen,             ///< from outside, without stripping
    open_part,          ///< strip part, inspect, make good
    strip_recoat,       ///< strip all, inspect, recoat, renew insulation and jacket
    renew_insulation,   ///< strip all, inspect, renew insulation and jacket; the coating stays
    remove_insulation,  ///< strip all, inspect; recoat; nothing is put back but a guard
    replace_run,        ///< new pipe, coated and insulated
};
inline constexpr std::size_t work_actions = 6;

/// Words of `craft`, in this order: the hours of a window in turnarounds.csv.
enum class Craft : std::uint8_t { scaffold, insulation, coating, inspection, welding };
inline constexpr std::size_t crafts = 5;
using CraftHours = std::array<double, crafts>;

/// The parts that work is made of; words of `work_task`, in this order.
enum class WorkTask : std::uint8_t { screen, strip, look, coat, insulate, guard, cut_and_weld };
inline constexpr std::size_t work_tasks = 7;

/// The rule tables of the take-off, taken out of the rule set once.
struct TakeOffRules {
    const GridTable* extent = nullptr;       ///< work_action x work_task: share of the segment
    const LookupTable* hours = nullptr;      ///< by work_task [h], for one unit of its measure
    const LookupTable* craft = nullptr;      ///< by work_task
    const LookupTable* measure = nullptr;    ///< by work_task; words of task_measure
    const BandTable* size_factor = nullptr;  ///< by nominal_size, on the hours of a measure of area
    double scaffold_from_m = 0.0;            ///< height reached from the ground
    double scaffold_fixed_hours = 0.0;
    double scaffold_hours_per_m = 0.0;  ///< of height
    double spool_m = 0.0;               ///< length of pipe between two welds
    double opened_share = 0.0;          ///< of the segment, where no other is asked for
};
[[nodiscard]] TakeOffRules take_off_rules(const RuleSet& rules);
[[nodiscard]] std::span<const TableNeed> take_off_needs();

/// Quantities of one action on one segment.
struct TakeOff {
    double stripped_m = 0.0;    ///< insulation taken off, as length of pipe
    double inspected_m2 = 0.0;  ///< steel looked at
    double coated_m2 = 0.0;
    double insulated_m = 0.0;                   ///< insulation put on, as length of pipe
    double jacket_m2 = 0.0;                     ///< jacket put on
    double pipe_m = 0.0;                        ///< pipe replaced
    std::array<double, most_coats> material{};  ///< of each coat: litres, or m2 of a wrap
    CraftHours hours{};  ///< scaffold: as if the segment had one of its own; a group pays it once
    [[nodiscard]] double hours_of(Craft craft) const {
        return hours[static_cast<std::size_t>(craft)];
    }
};
/// @param coating  the system that is applied; null where the action applies none or it is open:
///                 then no material and no hours of coating are counted
/// @param opened   share of the segment that open_part strips, 0 to 1; negative: that of the rules
[[nodiscard]] TakeOff take_off(const Plant& plant, const TakeOffRules& rules, std::uint32_t segment,
                               const SegmentSurface& surface, WorkAction action,
                               const RecoatOption* coating, double opened = -1.0);

/// Hours to put up and take down one scaffold; 0 for what is reached from the ground.
[[nodiscard]] double scaffold_hours(const TakeOffRules& rules, double elevation_m);

/// Material of one coat for an area: litres (recoat.md, eq. 4).
/// @param film_um  dry, > 0;  @param solids  share by volume, > 0;  @param loss  share, below 1
[[nodiscard]] double coat_litres(double area_m2, double film_um, double solids, double loss);

}  // namespace lagline
