#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "planning/recoat_rules.h"
#include "planning/surface.h"
#include "plant/plant.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// How the line is while it is worked on; codes of `window_kind`.
enum class WorkState : std::uint8_t {
    shutdown,   ///< turnaround: the steel is at the temperature of the air
    on_stream,  ///< the steel is at that of the service
};

/// What a new coating on a segment will see.
struct SegmentService {
    std::uint8_t driver = 0;
    double highest_degc = 0.0;  ///< of the service cycle, where the ranking looks at the segment
    double lowest_degc = 0.0;   ///< the same
    double hottest_degc = 0.0;  ///< anywhere on the segment: of a dead leg, at its header
};
/// The service of the segment of ranked row `row`, from the columns of the ranking.
[[nodiscard]] SegmentService segment_service(const Plant& plant, const Ranking& ranking,
                                             std::uint32_t row);

/// How long a coating applied today will last at a service, by the coating model of the rules.
struct NewLife {
    std::optional<Weibull> life;   ///< with the life model: time to breakdown
    double credit_years = 0.0;     ///< with the banded credit: years of full protection
    double expected_years = 0.0;   ///< mean time to breakdown, or the credit: the practical life P
    std::uint8_t quality = 0;      ///< quality class of the new coating; vocabulary coating_quality
    std::uint8_t system = 0;       ///< vocabulary coating_system
    std::uint8_t preparation = 0;  ///< vocabulary surface_preparation
};

/// Why a system is not offered.
enum class RecoatRefusal : std::uint8_t {
    none,
    not_specified,  ///< no system to ask for: bare, primer alone, unknown
    substrate,      ///< not for this steel
    zinc_on_stainless,
    zinc_in_wet_heat,
    dry_heat,  ///< on this steel only for hotter service
    service_too_hot,
    service_too_cold,
    cyclic,          ///< not made for cycles
    film_too_thick,  ///< what it needs cracks when it is hot
    preparation,     ///< what it needs cannot be had in this state of the line
    steel_too_hot,   ///< to be applied on
    no_month,        ///< no month is warm and dry enough
    no_life,         ///< the coating model gives it no life at all here
};

/// Dry film of one coat [um].
struct CoatFilm {
    double least_um = 0.0;
    double target_um = 0.0;  ///< middle of the range, which the take-off counts
    double most_um = 0.0;
};

/// The twelve months, bit 0 is January.
inline constexpr std::uint16_t every_month = 0x0FFF;

/// One system for one segment, worked on in one state of the line.
struct RecoatOption {
    std::uint8_t system = 0;  ///< vocabulary coating_system
    WorkState state{};
    RecoatRefusal refusal{};
    double limit = 0.0;               ///< of a refusal by a number [degC], or [um] of a film
    double found = 0.0;               ///< what was compared with it, in the same unit
    const RuleEntry* rule = nullptr;  ///< the entry that refused it; null without a refusal
    // The rest is filled only where it is allowed.
    std::uint8_t preparation = 0;  ///< the best that can be had; vocabulary surface_preparation
    CoatingForm form{};
    std::uint8_t coats = 0;
    std::array<CoatFilm, most_coats> films{};
    bool months_known = false;  ///< the plant gives a climate
    std::uint16_t months = 0;   ///< in which the steel is warm and dry enough
    NewLife life;
    // Money in the plant's currency.
    double coating_cost_per_m2 = 0.0;           ///< preparation, material, application
    double coating_cost = 0.0;                  ///< of the whole segment
    double access_cost = 0.0;                   ///< insulation and jacket taken off and renewed
    double life_cycle_cost = 0.0;               ///< present value of the job and what follows it
    std::array<double, most_coats> material{};  ///< of each coat: litres, or m2 of a wrap
    double coating_hours_per_m2 = 0.0;

    [[nodiscard]] bool allowed() const { return refusal == RecoatRefusal::none; }
    [[nodiscard]] double job_cost() const { return coating_cost + access_cost; }
    [[nodiscard]] double film_um() const;  ///< target of all coats together
};

/// Specifies new coatings.  Takes its rules out of the rule set once; keeps references to both.
class RecoatPlanner {
  public:
    /// @throws std::out_of_range  when `rules` lack a table: see planning_needs()
    RecoatPlanner(const Plant& plant, const RuleSet& rules);

    /// Every system of the vocabulary for a segment: those allowed by life-cycle cost, the least
    /// first, ties in the order of the vocabulary; then those refused, in that order.
    /// @param[out] into  replaced; keep it between calls to spare allocation
    void options(std::uint32_t segment, const SegmentService& service, WorkState state,
                 std::vector<RecoatOption>& into) const;

    /// One system for a segment.
    [[nodiscard]] RecoatOption option(std::uint32_t segment, const SegmentService& service,
                                      WorkState state, std::uint8_t system) const;

    /// The allowed system of least life-cycle cost that can be applied in one of these months;
    /// nothing when there is none.  Without a climate the months are not looked at.
    /// @param months  of the window, bit 0 is January
    [[nodiscard]] std::optional<RecoatOption> best(std::uint32_t segment,
                                                   const SegmentService& service, WorkState state,
                                                   std::uint16_t months = every_month) const;

    /// Life of a system newly applied in the field over this preparation, in weather that suits it,
    /// with its film as specified and dry insulation over it: by the same kernel as that of the
    /// ranking.
    [[nodiscard]] NewLife new_life(std::uint32_t segment, const SegmentService& service,
                                   std::uint8_t system, std::uint8_t preparation) const;

    /// Why an option was refused, in words; empty for one that is allowed.
    [[nodiscard]] std::string reason(const RecoatOption& option) const;

    [[nodiscard]] const RecoatRules& rules() const { return rules_; }
    [[nodiscard]] const SurfaceRules& surface_rules() const { return surface_; }

  private:
    const Plant& plant_;
    const RuleSet& rule_set_;
    RecoatRules rules_;
    SurfaceRules surface_;
};

/// Present value of a job and of what follows it over the horizon, as a multiple of the cost of the
/// job (recoat.md, eq. 5).
/// @param practical_life_years  P [y]; at 0 or below the answer is infinite
[[nodiscard]] double life_cycle_factor(const MaintenanceSequence& sequence,
                                       const LifeCycleTerms& terms, double practical_life_years);

/// Months from that of one day to that of another, both included; bit 0 is January.
[[nodiscard]] std::uint16_t months_between(Date from, Date to);

}  // namespace lagline
