#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "likelihood/likelihood.h"
#include "planning/futures.h"
#include "planning/pre_posterior.h"
#include "planning/treatment.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What may be done in answer to an inspection: treatments, by date, and what they cost.
struct Reaction {
    double cost = 0.0;  ///< present value, plant currency: see Horizon::discount()
    std::span<const DatedTreatment> treatments = {};  ///< none: leave it
};

/// Expected discounted losses of segments under treatments.  Keeps references; one object a thread,
/// since it keeps its working memory.
class FutureLoss {
  public:
    /// @throws std::out_of_range  when `rules` lack a table: see future_needs()
    FutureLoss(const RuleSet& rules, const Futures& futures);

    /// Present value of the losses by a leak from today to the horizon, in each damage state
    /// (eq. 87), if the segment is left alone.  All the same for cracking.
    [[nodiscard]] StateLosses left(std::size_t row);

    /// The same under treatments in the order of their dates.  What lies before the first of them
    /// is in it, so that losses of any strategies compare.
    [[nodiscard]] StateLosses treated(std::size_t row, std::span<const DatedTreatment> treatments);

    /// Expectation over the damage states as they are known today.
    [[nodiscard]] double expected(std::size_t row, const StateLosses& losses) const;

    /// Probability of failure [1/y] at each date of the futures under treatments, over the states
    /// as known today.  At the day of a treatment what holds after it counts.
    [[nodiscard]] std::vector<double> probabilities(std::size_t row,
                                                    std::span<const DatedTreatment> treatments);

    /// The tree of opening and inspecting the segment.  The cost of the inspection is not in it.
    /// @param effectiveness  code of that vocabulary
    /// @param at_years       day of the inspection, for cracking only: its credit begins there
    /// @param reactions      1 to most_reactions, the first of equal ones is taken
    [[nodiscard]] InspectionTree inspect(std::size_t row, std::uint8_t effectiveness,
                                         double at_years, std::span<const Reaction> reactions);

  private:
    const Futures& futures_;
    const GridTable& conditional_;
};

}  // namespace lagline
