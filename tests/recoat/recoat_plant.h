#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "planning/recoat.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {

/// Twelve equal months.
[[nodiscard]] Climate months_of(double air_degc, double humidity_percent);

/// A plant of one segment, NPS 6 carbon steel at 70 degC with changes, its ranking and a planner.
class RecoatPlant {
  public:
    struct Made {
        Cells cells = {};
        std::optional<Climate> climate = months_of(20.0, 50.0);
        std::map<std::string, UnitCost> unit_costs = {};
        const RuleSet& rules = extended_rules();
    };
    explicit RecoatPlant(const Made& made);
    // The planner refers to the plant beside it.
    RecoatPlant(const RecoatPlant&) = delete;
    RecoatPlant& operator=(const RecoatPlant&) = delete;

    [[nodiscard]] RecoatOption option(std::string_view system,
                                      WorkState state = WorkState::shutdown) const;
    [[nodiscard]] std::vector<RecoatOption> options(WorkState state = WorkState::shutdown) const;
    [[nodiscard]] RecoatRefusal refusal(std::string_view system,
                                        WorkState state = WorkState::shutdown) const {
        return option(system, state).refusal;
    }
    [[nodiscard]] std::string reason(std::string_view system,
                                     WorkState state = WorkState::shutdown) const;
    [[nodiscard]] SegmentSurface surface() const;
    [[nodiscard]] NewLife new_life(std::string_view system, std::string_view preparation) const;

    const RuleSet& rules;
    Plant plant;
    Ranking ranking;
    RecoatPlanner planner;
    SegmentService service;
};

/// The service at one temperature all the time.
[[nodiscard]] Cells held_at_degc(int degc);

}  // namespace lagline
