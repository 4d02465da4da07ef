// What may follow an inspection, and what the action is worth over all that may be found.
#include <algorithm>

#include "planning/actions.h"

namespace lagline {
namespace {

using S = SegmentField;

CraftHours difference(const CraftHours& all, const CraftHours& part) {
    CraftHours left{};
    for (std::size_t craft = 0; craft < crafts; ++craft) left[craft] = all[craft] - part[craft];
    return left;
}

Weibull life_of(const std::optional<RecoatOption>& coating) {
    if (!coating) return {};
    return coating->life.life ? *coating->life.life : one_life(coating->life.credit_years);
}

// What may follow, the usual one first: it needs no finding to be taken.
std::span<const FollowUp> follow_ups_of(WorkAction action) {
    static constexpr std::array after_a_look{FollowUp::nothing, FollowUp::strip_recoat,
                                             FollowUp::replace_run};
    static constexpr std::array after_renewal{FollowUp::nothing, FollowUp::coat,
                                              FollowUp::replace_run};
    static constexpr std::array stripped{FollowUp::coat, FollowUp::replace_run};
    switch (action) {
        case WorkAction::screen:
        case WorkAction::open_part:
            return after_a_look;
        case WorkAction::renew_insulation:
            return after_renewal;
        case WorkAction::strip_recoat:
        case WorkAction::remove_insulation:
            return stripped;
        case WorkAction::replace_run:
            return {};
    }
    return {};
}

}  // namespace

std::optional<Treatment> ActionPlanner::treatment_of(WorkAction action, FollowUp follow_up,
                                                     std::size_t window) const {
    if (follow_up == FollowUp::replace_run || action == WorkAction::replace_run) {
        return Treatments::replace_run(plant_.segments.numbers(S::nominal_wall)[segment_],
                                       life_of(shop_coating_));
    }
    const std::uint8_t insulation = plant_.segments.codes(S::insulation_type)[segment_];
    const bool coats = follow_up == FollowUp::coat || follow_up == FollowUp::strip_recoat;
    Treatment treatment;
    if (action == WorkAction::remove_insulation) {
        treatment = treatments_.remove_insulation(row_);
    } else if (coats || action == WorkAction::renew_insulation) {
        treatment = treatments_.renew_insulation(row_, insulation);
    } else {
        return std::nullopt;
    }
    if (coats) treatment.coat = life_of(work_[window].coating);
    return treatment;
}

std::vector<DatedTreatment> ActionPlanner::treatments(const ActionStudy& study,
                                                      std::size_t reaction) const {
    const FollowUp follow_up = study.inspects ? study.follow_ups[reaction] : FollowUp::replace_run;
    const std::size_t window = study.inspects ? study.follow_window : study.window;
    const auto treatment = treatment_of(study.action, follow_up, window);
    if (!treatment) return {};
    return {{*treatment, windows_[window].at_years}};
}

void ActionPlanner::add_follow_up(ActionStudy& study, FollowUp follow_up) const {
    const std::size_t window = study.follow_window;
    const auto& coating = work_[window].coating;
    // In a window of its own it needs a scaffold again; in the same one that of the look stands.
    const bool again = window != study.window;
    double money = 0.0;
    CraftHours hours{};
    switch (follow_up) {
        case FollowUp::nothing:
            break;
        case FollowUp::coat:
            if (!coating) return;
            money = coating->coating_cost;
            hours = difference(measured(WorkAction::strip_recoat, &*coating).hours,
                               measured(WorkAction::strip_recoat, nullptr).hours);
            break;
        case FollowUp::strip_recoat: {
            if (refusal(WorkAction::strip_recoat, window) != ActionRefusal::none) return;
            ActionStudy whole;
            add_cost(WorkAction::strip_recoat, window, whole);
            if (!again) whole.committed.of(CostPart::scaffold) = 0.0;
            money = whole.committed.sum() + coating->coating_cost;
            hours = measured(WorkAction::strip_recoat, &*coating).hours;
            break;
        }
        case FollowUp::replace_run: {
            if (refusal(WorkAction::replace_run, window) != ActionRefusal::none) return;
            money = pipe_cost() + stop_cost(WorkAction::replace_run, window);
            if (again && !shares_scaffold_)
                money += scaffold_money(prices_, norms_, surface_.elevation_m);
            hours =
                measured(WorkAction::replace_run, shop_coating_ ? &*shop_coating_ : nullptr).hours;
            break;
        }
    }
    if (!again) hours[static_cast<std::size_t>(Craft::scaffold)] = 0.0;
    const std::size_t place = study.tree.reaction_count++;
    study.follow_ups[place] = follow_up;
    study.follow_money[place] = money;
    study.follow_hours[place] = hours;
}

void ActionPlanner::weigh(ActionStudy& study) {
    if (!study.inspects) {
        const auto treated = treatments(study, 0);
        study.loss = losses_.expected(row_, losses_.treated(row_, treated));
        study.cost = study.committed.sum() * discount(study.window);
        return;
    }
    std::array<std::vector<DatedTreatment>, most_reactions> treated;
    std::array<Reaction, most_reactions> reactions;
    const std::size_t count = study.tree.reaction_count;
    for (std::size_t r = 0; r < count; ++r) {
        treated[r] = treatments(study, r);
        reactions[r] = {study.follow_money[r] * discount(study.follow_window), treated[r]};
    }
    const auto& by_action =
        losses_.of_cracking(row_) ? prices_.crack_effectiveness : prices_.effectiveness;
    study.tree =
        losses_.inspect(row_, by_action[static_cast<std::size_t>(study.action)],
                        windows_[study.window].at_years, std::span(reactions).first(count));
    for (std::size_t j = 0; j < study.tree.outcome_count(); ++j) {
        const InspectionTree::Outcome& outcome = study.tree.outcomes[j];
        const std::size_t best = outcome.best;
        if (best != 0) study.follow_chance += outcome.probability;
        study.expected_follow += outcome.probability * study.follow_money[best];
        for (std::size_t craft = 0; craft < crafts; ++craft) {
            study.expected_hours[craft] += outcome.probability * study.follow_hours[best][craft];
        }
    }
    const double follow = study.expected_follow * discount(study.follow_window);
    study.loss = study.tree.loss_informed - follow;
    study.cost = study.committed.sum() * discount(study.window) + follow;
}

ActionStudy ActionPlanner::study(WorkAction action, std::size_t window, bool later) {
    ActionStudy study;
    study.action = action;
    study.window = window;
    study.refusal = refusal(action, window);
    if (study.refusal != ActionRefusal::none) return study;
    study.follow_window = later || action == WorkAction::screen ? window + 1 : window;
    if (action != WorkAction::screen && action != WorkAction::open_part) {
        study.coating = action == WorkAction::replace_run ? shop_coating_ : work_[window].coating;
    }
    add_cost(action, window, study);
    const bool with_coating = action == WorkAction::replace_run;
    study.quantities = measured(action, with_coating && study.coating ? &*study.coating : nullptr);
    study.inspects = action != WorkAction::replace_run;
    for (const FollowUp follow_up : follow_ups_of(action)) add_follow_up(study, follow_up);
    weigh(study);
    study.cautions = cautions_of(action, window);
    return study;
}

}  // namespace lagline
