#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "degradation/degradation.h"
#include "likelihood/likelihood.h"
#include "planning/futures.h"
#include "planning/pre_posterior.h"
#include "planning/treatment.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What may be done in answer to an inspection: treatments, by date, and what they cost.
struct Reaction {
    double cost = 0.0;  ///< present value, plant currency: see Horizon::discount()
    std::span<const DatedTreatment> treatments = {};  ///< none: leave it
};

/// Expected discounted losses of segments under treatments.  Keeps references; one object a
/// thread, since it keeps its working memory.
class FutureLoss {
  public:
    /// @throws std::out_of_range  when `rules` lack a table: see ranking_needs(), future_needs()
    FutureLoss(const Plant& plant, const RuleSet& rules, const Futures& futures);

    /// True where cracking stands for the segment.
    [[nodiscard]] bool of_cracking(std::size_t row) const {
        return futures_.cracks[static_cast<Eigen::Index>(row)] != 0;
    }

    /// Present value of the losses by leaks from today to the horizon, in each damage state
    /// (eq. 87), if the segment is left alone [plant currency].  All the same for cracking.
    [[nodiscard]] StateLosses left(std::size_t row) { return treated(row, {}); }

    /// The same under treatments in the order of their dates.  What lies before the first of them
    /// is in it, so that losses of any strategies compare.
    [[nodiscard]] StateLosses treated(std::size_t row, std::span<const DatedTreatment> treatments);

    /// Expectation over the damage states as they are known today.
    [[nodiscard]] double expected(std::size_t row, const StateLosses& losses) const;

    /// Probability of failure [1/y] at each date of the futures under treatments, over the states
    /// as known today.  At the day of a treatment what holds after it counts.
    [[nodiscard]] std::vector<double> probabilities(std::size_t row,
                                                    std::span<const DatedTreatment> treatments);
    /// The same, weighed by these parts of the damage states.
    [[nodiscard]] std::vector<double> probabilities(
        std::size_t row, std::span<const DatedTreatment> treatments,
        const std::array<double, damage_states>& states);

    /// The tree of opening and inspecting the segment.  The cost of the inspection is not in it.
    /// @param effectiveness  code of that vocabulary
    /// @param at_years       day of the inspection from today.  A wall's damage state does not
    ///                       depend on it; the credit for cracking begins there
    /// @param reactions      1 to most_reactions; of equal ones the first is taken
    [[nodiscard]] InspectionTree inspect(std::size_t row, std::uint8_t effectiveness,
                                         double at_years, std::span<const Reaction> reactions);

  private:
    struct Course;  ///< a segment on its way through the years

    [[nodiscard]] Course start(std::size_t row) const;
    void apply(const Treatment& treatment, Course& course) const;
    [[nodiscard]] double exposed_by(const Course& course, double years) const;
    void fill_nodes(const Course& course, double until);
    void fill_wall(const Course& course);
    void heed_unseen(const Course& course, std::size_t state);
    void fill_cracking(const Course& course);
    void finish(const Course& course);
    void fill_probabilities(const Course& course);
    void end_at(double until);
    void move_on(double until, Course& course) const;
    [[nodiscard]] EndWeights weights_after(Eigen::Index node) const;
    template <class Use>
    void walk(std::size_t row, std::span<const DatedTreatment> treatments, const Use& use);
    [[nodiscard]] std::span<const DatedTreatment> with_inspection(
        std::span<const DatedTreatment> treatments, std::uint8_t effectiveness, double at_years);

    const Futures& futures_;
    DegradationRules degradation_;
    LikelihoodRules likelihood_;
    double last_years_;
    std::vector<EndWeights> year_weights_;  ///< of the years between the dates
    // Times of the piece at hand and what holds there; as many rows as a piece can have.
    Eigen::Index count_ = 0;
    Numbers at_years_;
    Numbers exposed_years_;  ///< since the piece began
    Numbers fraction_;
    Numbers ratio_;
    Numbers index_;
    Numbers unseen_fraction_;
    Numbers unseen_ratio_;
    Numbers unseen_index_;
    std::array<Numbers, damage_states> probability_per_year_;
    std::vector<DatedTreatment> inspected_;
};

}  // namespace lagline
