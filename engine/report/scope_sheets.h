#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "planning/plan.h"
#include "ranking/hot_spots.h"
#include "ranking/ranking.h"

namespace lagline {

/// What is to be done on one segment, in words; texts of the plant are as the files have them.
struct ScopeSegment {
    std::size_t row = 0;        ///< of the futures
    std::uint32_t segment = 0;  ///< row of segments.csv
    WorkAction action{};
    bool inspects = false;
    std::vector<HotSpot> hot_spots;  ///< where to look first, the most telling first
    std::string inspection;          ///< how well; empty where nothing is looked at
    std::string coating;             ///< what it is coated with; empty where it is not
    std::string take_off;
    CraftHours hours{};                        ///< whatever is found, a shared scaffold apart
    CraftHours follow_hours{};                 ///< expected more, by what is found
    std::string follow_ups;                    ///< by what is found; empty where nothing follows
    std::optional<std::size_t> follow_window;  ///< where that is not the window of the sheet
};

/// A danger, and the segments of the sheet that it is met on.
struct ScopeCaution {
    std::string text;
    std::vector<std::uint32_t> segments;  ///< rows of segments.csv
};

/// The work of one window in one scaffold group, or on segments of a unit that share no scaffold.
struct ScopeSheet {
    std::size_t window = 0;
    std::optional<std::uint32_t> group;  ///< of Plan::groups
    std::string unit;                    ///< of segments without a group
    std::vector<ScopeSegment> segments;
    std::vector<ScopeCaution> cautions;

    [[nodiscard]] bool needs_scaffold(const Plan& plan) const {
        return group && plan.groups.needs_scaffold(*group);
    }
};

/// The sheets of a plan, by window, then by group or unit.
/// @param window  the only one wanted; nothing: all
[[nodiscard]] std::vector<ScopeSheet> scope_sheets(const Plant& plant, const RuleSet& rules,
                                                   const Ranking& ranking, const Plan& plan,
                                                   std::optional<std::size_t> window = {});

/// "scaffold group SG-0001", "unit U2, no scaffold group": fit for one line.
[[nodiscard]] std::string area_of(const ScopeSheet& sheet, const Plan& plan);

}  // namespace lagline
