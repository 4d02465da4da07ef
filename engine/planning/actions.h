#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "planning/cautions.h"
#include "planning/future_loss.h"
#include "planning/plan_rules.h"
#include "planning/recoat.h"
#include "planning/take_off.h"
#include "planning/treatment.h"
#include "planning/windows.h"
#include "ranking/ranking.h"

namespace lagline {

/// Parts of what work on a segment costs.
enum class CostPart : std::uint8_t {
    screening,
    insulation,  ///< stripping, and insulation and jacket put back
    inspection,
    coating,
    guard,
    pipe,
    lost_production,  ///< of a line that must stop while the plant runs
    scaffold,         ///< of a segment that shares none; a shared one is paid by its group
};
inline constexpr std::size_t cost_parts = 8;
[[nodiscard]] std::string_view describe(CostPart part);

/// Money by part, plant currency, prices of today.
struct CostBuildUp {
    std::array<double, cost_parts> parts{};
    [[nodiscard]] double& of(CostPart part) { return parts[static_cast<std::size_t>(part)]; }
    [[nodiscard]] double sum() const;
};

/// Why an action cannot be had in a window.
enum class ActionRefusal : std::uint8_t {
    none,
    no_window_after,   ///< screening: nothing could follow
    no_coating,        ///< no system can be applied in the state and the months of the window
    serves_purpose,    ///< removal: the insulation is needed, or nobody can tell
    needs_shutdown,    ///< on stream, and plant.yaml does not say what an outage costs
    hazard_on_stream,  ///< a thin or unknown wall of a hazardous service is not stripped on stream
};
[[nodiscard]] std::string_view describe(ActionRefusal refusal);

/// What may follow once a segment has been looked at; words for outputs.
enum class FollowUp : std::uint8_t { nothing, coat, strip_recoat, replace_run };
[[nodiscard]] std::string_view describe(FollowUp follow_up);

/// An action on one segment in one window, with every number that led to its place in the plan.
struct ActionStudy {
    WorkAction action{};
    std::size_t window = 0;
    ActionRefusal refusal{};
    // The rest is filled only where there is no refusal.
    CostBuildUp committed;  ///< what is paid whatever is found
    TakeOff quantities;     ///< of the same; the coating is in the follow-ups
    std::optional<RecoatOption> coating;
    bool inspects = false;
    InspectionTree tree;  ///< where it inspects: reactions as in `follow_ups`
    std::array<FollowUp, most_reactions> follow_ups{};
    std::array<double, most_reactions> follow_money{};  ///< prices of today
    std::array<CraftHours, most_reactions> follow_hours{};
    std::size_t follow_window = 0;  ///< `window`, or the one after for screening
    // Expected over the outcomes:
    double follow_chance = 0.0;    ///< that anything but the first reaction is best
    double expected_follow = 0.0;  ///< money of the reactions, prices of today
    CraftHours expected_hours{};   ///< of the reactions
    double cost = 0.0;             ///< present value of all money, a shared scaffold apart
    double loss = 0.0;             ///< present value of leaks from today to the horizon
    std::uint32_t cautions = 0;

    [[nodiscard]] double value() const { return cost + loss; }
};

/// Money of one scaffold of this height: hire and hours; 0 for what is reached from the ground.
[[nodiscard]] double scaffold_money(const PlanRules& prices, const TakeOffRules& norms,
                                    double elevation_m);

/// Studies actions on segments.  Keeps references; one object a thread.
class ActionPlanner {
  public:
    /// @throws std::out_of_range  when `rules` lack a table: see plan_needs()
    ActionPlanner(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                  const Futures& futures, std::span<const PlanWindow> windows);

    /// Takes up the segment of a row of the futures.
    void start(std::size_t row);
    /// Present value of its leaks if it is left alone.
    [[nodiscard]] double loss_if_left() const { return left_; }
    [[nodiscard]] std::size_t row() const { return row_; }
    [[nodiscard]] const SegmentSurface& surface() const { return surface_; }
    /// @param later  what is found is answered in the window after, not at once; only where
    ///               can_follow_later(); screening always is
    [[nodiscard]] ActionStudy study(WorkAction action, std::size_t window, bool later = false);
    [[nodiscard]] bool can_follow_later(WorkAction action, std::size_t window) const {
        return action == WorkAction::open_part && window + 1 < windows_.size();
    }
    /// What follows when a reaction of a study is taken, to be put into FutureLoss.
    [[nodiscard]] std::vector<DatedTreatment> treatments(const ActionStudy& study,
                                                         std::size_t reaction) const;

    [[nodiscard]] FutureLoss& losses() { return losses_; }
    [[nodiscard]] const PlanRules& prices() const { return prices_; }
    [[nodiscard]] const TakeOffRules& norms() const { return norms_; }

  private:
    struct WindowWork {
        std::optional<RecoatOption> coating;
        bool thin_and_hazardous = false;
    };

    [[nodiscard]] ActionRefusal refusal(WorkAction action, std::size_t window) const;
    void add_cost(WorkAction action, std::size_t window, ActionStudy& study) const;
    void add_follow_up(ActionStudy& study, FollowUp follow_up) const;
    void weigh(ActionStudy& study);
    [[nodiscard]] double pipe_cost() const;
    /// Of stopping the unit for a window on stream; nothing where it cannot be told.
    [[nodiscard]] std::optional<double> lost_production() const;
    [[nodiscard]] double stop_cost(WorkAction action, std::size_t window) const;
    [[nodiscard]] TakeOff measured(WorkAction action, const RecoatOption* coating) const;
    [[nodiscard]] std::optional<Treatment> treatment_of(WorkAction action, FollowUp follow_up,
                                                        std::size_t window) const;
    [[nodiscard]] std::uint32_t cautions_of(WorkAction action, std::size_t window) const;
    [[nodiscard]] double discount(std::size_t window) const;

    const Plant& plant_;
    const RuleSet& rules_;
    const Ranking& ranking_;
    const Futures& futures_;
    std::span<const PlanWindow> windows_;
    PlanRules prices_;
    TakeOffRules norms_;
    CautionRules caution_rules_;
    RecoatPlanner recoat_;
    Treatments treatments_;
    FutureLoss losses_;

    // The segment taken up:
    std::size_t row_ = 0;
    std::uint32_t segment_ = 0;
    std::uint32_t ranking_row_ = 0;
    SegmentSurface surface_;
    double strip_renew_ = 0.0;  ///< money for the whole segment
    double left_ = 0.0;
    bool shares_scaffold_ = false;
    std::vector<WindowWork> work_;
    std::optional<RecoatOption> shop_coating_;  ///< of a new run
};

}  // namespace lagline
