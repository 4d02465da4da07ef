#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "ranking/sampled_plant.h"

namespace lagline {

/// Outcomes of the samples of one segment; one outcome where nothing of it is drawn.
struct SampledOutcome {
    std::span<const double> risk_per_year;  ///< not a number where a rule table refused a value
    std::span<const double> damage_factor;
};

/// Calculates the samples of some segments by the method that ranks.  Used again and again.
class SampleRisks {
  public:
    SampleRisks(const Plant& plant, const RuleSet& rules, const InputDraws& draws,
                const SobolPoints& points);

    void run(std::span<const SampledSegment> segments);
    [[nodiscard]] SampledOutcome outcome(std::size_t segment) const;
    [[nodiscard]] SampledPlant& sampled() { return sampled_; }

  private:
    const RuleSet& rules_;
    SampledPlant sampled_;
    std::vector<double> risk_;
    std::vector<double> damage_;
};

}  // namespace lagline
