#include "planning/actions.h"

#include <numeric>

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::size_t at(WorkAction action) { return static_cast<std::size_t>(action); }

bool opens_insulation(WorkAction action) { return action != WorkAction::screen; }

bool coats_always(WorkAction action) {
    return action == WorkAction::strip_recoat || action == WorkAction::remove_insulation;
}

constexpr std::uint32_t bit(Caution caution) { return 1U << static_cast<unsigned>(caution); }
constexpr std::uint32_t weak_walls = bit(Caution::thin_wall) | bit(Caution::wall_unknown);
constexpr std::uint32_t hazards = bit(Caution::service_hazard);

// Words of `insulation_need`, in the order of the vocabulary.
constexpr std::uint8_t need_personnel_protection = 2;
constexpr std::uint8_t need_none = 4;

// Only where the heat balance says so: without it nobody can tell.
bool insulation_can_go(const Ranking& ranking, std::uint32_t row) {
    const Codes& needs = ranking.exposure.insulation_need;
    if (needs.size() == 0) return false;
    return needs[row] == need_none || needs[row] == need_personnel_protection;
}

}  // namespace

std::string_view describe(CostPart part) {
    switch (part) {
        case CostPart::screening:
            return "screening";
        case CostPart::insulation:
            return "insulation and jacket";
        case CostPart::inspection:
            return "inspection";
        case CostPart::coating:
            return "coating";
        case CostPart::guard:
            return "guard";
        case CostPart::pipe:
            return "new run";
        case CostPart::lost_production:
            return "lost production";
        case CostPart::scaffold:
            return "scaffold";
    }
    return "";
}

std::string_view describe(ActionRefusal refusal) {
    switch (refusal) {
        case ActionRefusal::none:
            return "";
        case ActionRefusal::no_window_after:
            return "no window after it in which to act on what is seen";
        case ActionRefusal::no_coating:
            return "no coating can be applied in the state and the months of the window";
        case ActionRefusal::serves_purpose:
            return "the insulation serves a purpose, or nobody can tell that it does not";
        case ActionRefusal::needs_shutdown:
            return "needs a shutdown, and plant.yaml gives no lost margin of the unit";
        case ActionRefusal::hazard_on_stream:
            return "a thin wall of a hazardous service is not stripped on stream";
    }
    return "";
}

std::string_view describe(FollowUp follow_up) {
    switch (follow_up) {
        case FollowUp::nothing:
            return "leave it";
        case FollowUp::coat:
            return "recoat";
        case FollowUp::strip_recoat:
            return "strip all and recoat";
        case FollowUp::replace_run:
            return "replace the run";
    }
    return "";
}

double CostBuildUp::sum() const { return std::accumulate(parts.begin(), parts.end(), 0.0); }

ActionPlanner::ActionPlanner(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                             const Futures& futures, std::span<const PlanWindow> windows)
    : plant_(plant),
      rules_(rules),
      ranking_(ranking),
      futures_(futures),
      windows_(windows),
      prices_(plan_rules(rules, plant)),
      norms_(take_off_rules(rules)),
      caution_rules_(caution_rules(rules)),
      recoat_(plant, rules),
      treatments_(rules, futures),
      losses_(plant, rules, futures),
      work_(windows.size()) {}

void ActionPlanner::start(std::size_t row) {
    row_ = row;
    segment_ = futures_.segment_rows[row];
    ranking_row_ = futures_.ranking_rows[row];
    surface_ = segment_surface(plant_, recoat_.surface_rules(), segment_);
    strip_renew_ = access_cost(plant_, recoat_.surface_rules(), segment_, surface_);
    left_ = losses_.expected(row, losses_.left(row));
    shares_scaffold_ = plant_.segments.has(S::scaffold_group, segment_);
    const SegmentService service = segment_service(plant_, ranking_, ranking_row_);
    for (std::size_t w = 0; w < windows_.size(); ++w) {
        const PlanWindow& window = windows_[w];
        work_[w].coating = recoat_.best(segment_, service, window.state, window.months);
        const std::uint32_t set = cautions_of(WorkAction::strip_recoat, w);
        work_[w].thin_and_hazardous =
            window.state == WorkState::on_stream && (set & weak_walls) != 0 && (set & hazards) != 0;
    }
    // A new run is coated where it is made, in any weather.
    shop_coating_ = recoat_.best(segment_, service, WorkState::shutdown);
}

double ActionPlanner::discount(std::size_t window) const {
    return futures_.horizon.discount(windows_[window].at_years);
}

std::uint32_t ActionPlanner::cautions_of(WorkAction action, std::size_t window) const {
    WorkOnSegment work;
    work.action = action;
    work.state = windows_[window].state;
    if (ranking_row_ < ranking_.mechanism_rows.wall_loss) {
        work.expected_wall_mm = ranking_.likelihood.expected_wall_mm[ranking_row_];
        work.minimum_wall_mm = ranking_.likelihood.minimum_thickness_mm[ranking_row_];
    }
    return cautions(plant_, caution_rules_, segment_, work);
}

ActionRefusal ActionPlanner::refusal(WorkAction action, std::size_t window) const {
    const bool on_stream = windows_[window].state == WorkState::on_stream;
    if (action == WorkAction::screen && window + 1 == windows_.size()) {
        return ActionRefusal::no_window_after;
    }
    if (opens_insulation(action) && action != WorkAction::replace_run &&
        work_[window].thin_and_hazardous) {
        return ActionRefusal::hazard_on_stream;
    }
    if (action == WorkAction::remove_insulation && !insulation_can_go(ranking_, ranking_row_)) {
        return ActionRefusal::serves_purpose;
    }
    if (coats_always(action) && !work_[window].coating) return ActionRefusal::no_coating;
    if (on_stream && !prices_.on_stream[at(action)] && !lost_production()) {
        return ActionRefusal::needs_shutdown;
    }
    return ActionRefusal::none;
}

}  // namespace lagline
