#pragma once

#include <cstdint>
#include <memory>
#include <mutex>
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

/// Lends out objects that are costly to make, so that each thread has one of its own.
template <class Object>
class Pool {
  public:
    template <class Make>
    std::unique_ptr<Object> take(Make make) {
        {
            const std::lock_guard lock{mutex_};
            if (!idle_.empty()) {
                auto object = std::move(idle_.back());
                idle_.pop_back();
                return object;
            }
        }
        return make();
    }
    void give_back(std::unique_ptr<Object> object) {
        const std::lock_guard lock{mutex_};
        idle_.push_back(std::move(object));
    }

  private:
    std::mutex mutex_;
    std::vector<std::unique_ptr<Object>> idle_;
};

}  // namespace lagline
