#include <algorithm>

#include "consequence/consequence.h"
#include "planning/actions.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

using S = SegmentField;

}  // namespace

double scaffold_money(const PlanRules& prices, const TakeOffRules& norms, double elevation_m) {
    const double hours = scaffold_hours(norms, elevation_m);
    if (hours <= 0.0) return 0.0;
    return prices.scaffold_each + hours * prices.hour[static_cast<std::size_t>(Craft::scaffold)];
}

std::optional<double> ActionPlanner::lost_production() const {
    const auto margin = lost_margin_per_day(plant_, segment_);
    if (!margin || !plant_.segments.has(S::outage, segment_)) return std::nullopt;
    return *margin * plant_.segments.numbers(S::outage)[segment_];
}

double ActionPlanner::stop_cost(WorkAction action, std::size_t window) const {
    const bool stops = windows_[window].state == WorkState::on_stream &&
                       !prices_.on_stream[static_cast<std::size_t>(action)];
    return stops ? lost_production().value_or(0.0) : 0.0;
}

double ActionPlanner::pipe_cost() const {
    const double nps = pipe_sizes()[plant_.segments.codes(S::nominal_size)[segment_]].nps_inches;
    const double per_m = prices_.site_replace_per_m.value_or(
        prices_.replace_cost->find(0, nps).value * prices_.plant_per_usd);
    return per_m * surface_.length_m;
}

TakeOff ActionPlanner::measured(WorkAction action, const RecoatOption* coating) const {
    TakeOff found = take_off(plant_, norms_, segment_, surface_, action, coating);
    // A shared scaffold is counted where its group pays it.
    if (shares_scaffold_) found.hours[static_cast<std::size_t>(Craft::scaffold)] = 0.0;
    return found;
}

void ActionPlanner::add_cost(WorkAction action, std::size_t window, ActionStudy& study) const {
    CostBuildUp& cost = study.committed;
    const double inspect = prices_.inspect_per_m * surface_.equivalent_m;
    switch (action) {
        case WorkAction::screen:
            cost.of(CostPart::screening) = prices_.screen_per_m * surface_.length_m;
            break;
        case WorkAction::open_part:
            cost.of(CostPart::insulation) = norms_.opened_share * strip_renew_;
            cost.of(CostPart::inspection) = norms_.opened_share * inspect;
            break;
        case WorkAction::strip_recoat:
        case WorkAction::renew_insulation:
            cost.of(CostPart::insulation) = strip_renew_;
            cost.of(CostPart::inspection) = inspect;
            break;
        case WorkAction::remove_insulation: {
            const RuleEntry& share = norms_.extent->at(static_cast<std::uint8_t>(action),
                                                       static_cast<std::uint8_t>(WorkTask::guard));
            cost.of(CostPart::insulation) = prices_.strip_share * strip_renew_;
            cost.of(CostPart::inspection) = inspect;
            cost.of(CostPart::guard) = prices_.guard_per_m * surface_.length_m * share.value;
            break;
        }
        case WorkAction::replace_run:
            cost.of(CostPart::pipe) = pipe_cost();
            cost.of(CostPart::lost_production) = stop_cost(action, window);
            break;
    }
    if (!shares_scaffold_) {
        cost.of(CostPart::scaffold) = scaffold_money(prices_, norms_, surface_.elevation_m);
    }
}

}  // namespace lagline
