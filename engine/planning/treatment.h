#pragma once

#include <cstdint>
#include <limits>
#include <optional>

#include "degradation/weibull.h"
#include "planning/futures.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What renewed insulation and jacket do while their seals last; afterwards all is as before.
struct WaterKeptOut {
    double rate_factor = 1.0;           ///< on the corrosion rate
    double susceptibility_steps = 0.0;  ///< on the susceptibility to cracking; negative is better
    double years = std::numeric_limits<double>::infinity();
};

/// What work on one segment does to its future.  Empty: nothing.  Wall that is lost stays lost,
/// save where the run is replaced.  Parts combine: a coat and new insulation in one treatment.
struct Treatment {
    /// Life of a coat applied then; scale 0 for bare steel.  Nothing: the coat that is there goes
    /// on ageing.  A shape of 1e4 or more is one life for all (banded credit).
    std::optional<Weibull> coat;
    std::optional<WaterKeptOut> water;
    /// Corrosion rate from then on, whatever it was: insulation removed.
    std::optional<double> rate_mm_per_year;
    /// Wall of a new run: no loss so far, damage states back to the prior.
    std::optional<double> new_wall_mm;
    /// Code of `effectiveness`.  Cracking only: an inspection that finds no cracks has the
    /// published credit.  What an inspection tells of a wall goes through the tree
    /// (pre_posterior.h).
    std::optional<std::uint8_t> inspected;
};

/// A treatment and when it is done.
struct DatedTreatment {
    Treatment treatment;
    double at_years = 0.0;  ///< from today: Futures::years_to()
};

/// A coat whose life is the same for all, as the banded credit has it.
[[nodiscard]] Weibull one_life(double years);

/// Makes treatments of segments out of the rules.  Keeps references to rules and futures.
class Treatments {
  public:
    /// @throws std::out_of_range  when `rules` lack a table: see future_needs()
    Treatments(const RuleSet& rules, const Futures& futures);

    /// New insulation of this type and a new jacket: insulation and condition factor of the new
    /// state over those of the present one, for as long as jacket seals last.
    /// @param insulation_type  code of that vocabulary
    [[nodiscard]] Treatment renew_insulation(std::size_t row, std::uint8_t insulation_type) const;

    /// Insulation taken off for good: rate of steel in the open by driver (table open_air_rate);
    /// for cracking one step as the rules say, in place of those of insulation and condition.
    [[nodiscard]] Treatment remove_insulation(std::size_t row) const;

    /// A new run of this wall with a new coat.
    [[nodiscard]] static Treatment replace_run(double wall_mm, const Weibull& coat);

  private:
    const LookupTable& insulation_factor_;
    const LookupTable& insulation_step_;
    const LookupTable& open_air_rate_;
    double open_step_;
    double seal_life_years_;
    double renewed_condition_factor_ = 1.0;
    double renewed_condition_step_ = 0.0;
    const Futures& futures_;
};

}  // namespace lagline
