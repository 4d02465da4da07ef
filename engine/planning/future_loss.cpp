#include "planning/future_loss.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "likelihood/crack_factor.h"
#include "likelihood/damage_factor.h"
#include "likelihood/normal.h"

namespace lagline {
namespace {

// Between two dates a quantity runs straight, as in a forecast (eq. 58).
double between_dates(const DateTable& table, std::size_t row, double at_years) {
    const auto own = static_cast<Eigen::Index>(row);
    const auto before = static_cast<Eigen::Index>(at_years);
    const double from = table(before, own);
    const double share = at_years - static_cast<double>(before);
    if (share <= 0.0) return from;
    return from + share * (table(before + 1, own) - from);
}

}  // namespace

/// What decides the probability of failure from `at_years` on, until the next event.
struct FutureLoss::Course {
    std::size_t row = 0;
    bool cracks = false;
    double at_years = 0.0;
    double fraction = 0.0;       ///< of the wall, lost by then (wall loss)
    double exposed_years = 0.0;  ///< by then, since cracks were last excluded (cracking)
    double wall_mm = 0.0;
    double strength_ratio = 0.0;
    double rate_mm_per_year = 0.0;
    WaterKeptOut water;
    double water_until_years = std::numeric_limits<double>::infinity();
    std::optional<Weibull> coat;  ///< nothing: the one of today
    double coated_at_years = 0.0;
    bool replaced = false;
    bool cracks_found = false;
    /// By state, at `at_years`, from the years before; nothing where it jumps there.
    std::optional<StateLosses> probability_per_year;
    InspectionCounts inspections{};
};

FutureLoss::FutureLoss(const Plant& plant, const RuleSet& rules, const Futures& futures)
    : futures_(futures),
      degradation_(degradation_rules(rules, plant)),
      likelihood_(likelihood_rules(rules, plant)),
      last_years_(futures.horizon.years) {
    for (int year = 0; year < futures.horizon.years; ++year) {
        year_weights_.push_back(futures.horizon.weights(year, year + 1.0));
    }
    const auto most = static_cast<Eigen::Index>(futures.dates.size()) + 2;
    for (Numbers* column : {&at_years_, &exposed_years_, &fraction_, &ratio_, &index_,
                            &unseen_fraction_, &unseen_ratio_, &unseen_index_}) {
        column->setZero(most);
    }
    for (Numbers& column : probability_per_year_) column.setZero(most);
}

FutureLoss::Course FutureLoss::start(std::size_t row) const {
    const auto own = static_cast<Eigen::Index>(row);
    Course course;
    course.row = row;
    course.cracks = futures_.cracks[own] != 0;
    course.wall_mm = futures_.wall_mm[own];
    course.strength_ratio = futures_.strength_ratio[own];
    course.rate_mm_per_year = futures_.rate_mm_per_year[own];
    course.exposed_years = futures_.exposed_years(0, own);
    if (!course.cracks) {
        course.fraction = course.rate_mm_per_year * course.exposed_years / course.wall_mm;
    }
    course.cracks_found = futures_.cracks_found[own] != 0;
    for (std::size_t c = 0; c < telling_categories; ++c) {
        course.inspections[c] = futures_.inspections[c][own];
    }
    return course;
}

void FutureLoss::apply(const Treatment& treatment, Course& course) const {
    if (treatment.coat) {
        course.coat = treatment.coat;
        course.coated_at_years = course.at_years;
    }
    const bool jumps =
        treatment.new_wall_mm || (course.cracks && (treatment.water || treatment.inspected));
    if (jumps) course.probability_per_year.reset();
    if (treatment.water) {
        course.water = *treatment.water;
        course.water_until_years = course.at_years + course.water.years;
    }
    if (treatment.rate_mm_per_year) course.rate_mm_per_year = *treatment.rate_mm_per_year;
    if (treatment.inspected && course.cracks && !course.cracks_found) {
        const std::uint8_t effectiveness = *treatment.inspected;
        if (effectiveness < telling_categories) course.inspections[effectiveness] += 1.0;
        if (degradation_.cracks.accepted->code(effectiveness) != 0) {
            course.exposed_years = 0.0;
        }
    }
    if (treatment.new_wall_mm) {
        // Every term of the strength ratio goes with 1 / wall (eq. 12 and 13).
        course.strength_ratio *= course.wall_mm / *treatment.new_wall_mm;
        course.wall_mm = *treatment.new_wall_mm;
        course.fraction = 0.0;
        course.exposed_years = 0.0;
        course.inspections = {};
        course.cracks_found = false;
        course.replaced = true;
    }
}

double FutureLoss::exposed_by(const Course& course, double years) const {
    // Known cracks show that a coating does not stop them; only new pipe does.
    if (course.cracks_found) return years;
    if (!course.coat) return between_dates(futures_.exposed_years, course.row, years);
    return unprotected_time(*course.coat, {}, 0.0, years - course.coated_at_years);
}

// The times of a piece, its start and every date from there to `until` or the first one after it,
// and the time without protection since the start.
void FutureLoss::fill_nodes(const Course& course, double until) {
    count_ = 0;
    at_years_[count_++] = course.at_years;
    for (int date = static_cast<int>(course.at_years) + 1; date < until + 1.0; ++date) {
        at_years_[count_++] = date;
    }
    const double before = exposed_by(course, course.at_years);
    for (Eigen::Index i = 0; i < count_; ++i) {
        exposed_years_[i] = exposed_by(course, at_years_[i]) - before;
    }
}

void FutureLoss::fill_wall(const Course& course) {
    const double rate = course.rate_mm_per_year * course.water.rate_factor;
    const double frequency = futures_.frequency_per_year[static_cast<Eigen::Index>(course.row)];
    auto fraction = fraction_.head(count_);
    fraction = course.fraction + rate * exposed_years_.head(count_) / course.wall_mm;  // eq. 86
    ratio_.head(count_).setConstant(course.strength_ratio);
    const auto own = static_cast<Eigen::Index>(course.row);
    const bool at_minimum = futures_.at_minimum[own] != 0 && !course.replaced;
    const double least = at_minimum ? likelihood_.failure_at_minimum : 0.0;  // eq. 18a
    for (std::size_t k = 0; k < damage_states; ++k) {
        reliability_index(fraction, ratio_.head(count_), likelihood_.state_factor[k],
                          likelihood_.scatter, index_.head(count_));
        if (!course.replaced) heed_unseen(course, k);
        for (Eigen::Index i = 0; i < count_; ++i) {
            probability_per_year_[k][i] = frequency * (std::max(normal_cdf(-index_[i]), least) /
                                                       likelihood_.damage_factor_base);
        }
    }
    if (!course.replaced) return;
    // A new run is in no state that today's inspections speak of.
    auto mixed = index_.head(count_);
    mixed.setZero();
    for (std::size_t k = 0; k < damage_states; ++k) {
        mixed += futures_.prior[k][own] * probability_per_year_[k].head(count_);
    }
    for (Numbers& column : probability_per_year_) column.head(count_) = mixed;
}

// The surface that a reading of small coverage did not see is as the accepted readings left it, and
// counts where it is the worse (eq. 17a).
void FutureLoss::heed_unseen(const Course& course, std::size_t state) {
    const auto own = static_cast<Eigen::Index>(course.row);
    const double wall_mm = futures_.accepted_wall_mm[own];
    const double before_years = futures_.accepted_exposed_years[own];
    if (wall_mm == course.wall_mm && before_years == 0.0) return;
    const double share = course.wall_mm / wall_mm;
    const double lost_before = futures_.rate_mm_per_year[own] * before_years / wall_mm;
    unseen_fraction_.head(count_) = fraction_.head(count_) * share + lost_before;
    unseen_ratio_.head(count_) = ratio_.head(count_) * share;
    reliability_index(unseen_fraction_.head(count_), unseen_ratio_.head(count_),
                      likelihood_.state_factor[state], likelihood_.scatter,
                      unseen_index_.head(count_));
    index_.head(count_) = index_.head(count_).min(unseen_index_.head(count_));
}

void FutureLoss::fill_cracking(const Course& course) {
    const auto own = static_cast<Eigen::Index>(course.row);
    const std::uint8_t severity =
        severity_of(degradation_, futures_.susceptibility[own],
                    futures_.susceptibility_steps[own] + course.water.susceptibility_steps,
                    course.cracks_found);
    const double base =
        base_damage_factor(*likelihood_.base_damage, severity, course.inspections).value;
    const double known = course.cracks_found ? likelihood_.crack_growth.known_factor : 1.0;
    for (Eigen::Index i = 0; i < count_; ++i) {
        const double exposed = course.exposed_years + exposed_years_[i];
        probability_per_year_[0][i] =
            futures_.frequency_per_year[own] *
            aged_damage_factor(base, exposed, known, likelihood_.crack_growth);
    }
    for (std::size_t k = 1; k < damage_states; ++k) {
        probability_per_year_[k].head(count_) = probability_per_year_[0].head(count_);
    }
}

// What the other mechanism of the segment adds, as if left alone, and the ceiling (eq. 20).
void FutureLoss::finish(const Course& course) {
    const auto own = static_cast<Eigen::Index>(course.row);
    for (Numbers& column : probability_per_year_) {
        if (futures_.excess_damage_factor.size() > 0) {
            for (Eigen::Index i = 0; i < count_; ++i) {
                column[i] += futures_.frequency_per_year[own] *
                             between_dates(futures_.excess_damage_factor, course.row, at_years_[i]);
            }
        }
        column.head(count_) = column.head(count_).min(likelihood_.probability_cap);
    }
}

// From a date to the next one the probability runs straight (eq. 58), also up to an event in
// between: the last node, the date after it, moves there.
void FutureLoss::end_at(double until) {
    const Eigen::Index last = count_ - 1;
    if (at_years_[last] <= until) return;
    const double share = (until - at_years_[last - 1]) / (at_years_[last] - at_years_[last - 1]);
    for (Numbers& column : probability_per_year_) {
        column[last] = column[last - 1] + share * (column[last] - column[last - 1]);
    }
    at_years_[last] = until;
}

void FutureLoss::move_on(double until, Course& course) const {
    const double exposed = exposed_by(course, until) - exposed_by(course, course.at_years);
    if (!course.cracks) {
        course.fraction +=
            course.rate_mm_per_year * course.water.rate_factor * exposed / course.wall_mm;
    }
    course.exposed_years += exposed;
    course.at_years = until;
    course.probability_per_year.emplace();
    for (std::size_t k = 0; k < damage_states; ++k) {
        (*course.probability_per_year)[k] = probability_per_year_[k][count_ - 1];
    }
    if (until < course.water_until_years) return;
    course.water = {};
    course.water_until_years = std::numeric_limits<double>::infinity();
    if (course.cracks) course.probability_per_year.reset();
}

void FutureLoss::fill_probabilities(const Course& course) {
    course.cracks ? fill_cracking(course) : fill_wall(course);
    finish(course);
    if (!course.probability_per_year) return;
    for (std::size_t k = 0; k < damage_states; ++k) {
        probability_per_year_[k][0] = (*course.probability_per_year)[k];
    }
}

// Calls `use` for every piece of years between two events, with its nodes filled.
template <class Use>
void FutureLoss::walk(std::size_t row, std::span<const DatedTreatment> treatments, const Use& use) {
    Course course = start(row);
    std::size_t next = 0;
    while (course.at_years < last_years_) {
        while (next < treatments.size() && treatments[next].at_years <= course.at_years) {
            apply(treatments[next++].treatment, course);
        }
        double until = std::min(last_years_, course.water_until_years);
        if (next < treatments.size()) until = std::min(until, treatments[next].at_years);
        fill_nodes(course, until);
        fill_probabilities(course);
        end_at(until);
        use();
        move_on(until, course);
    }
}

EndWeights FutureLoss::weights_after(Eigen::Index node) const {
    const double from = at_years_[node];
    const double to = at_years_[node + 1];
    const double date = std::floor(from);
    if (from > date || to - from < 1.0) return futures_.horizon.weights(from, to);
    return year_weights_[static_cast<std::size_t>(date)];
}

StateLosses FutureLoss::treated(std::size_t row, std::span<const DatedTreatment> treatments) {
    StateLosses losses{};
    walk(row, treatments, [&] {
        for (Eigen::Index i = 0; i + 1 < count_; ++i) {
            const EndWeights weight = weights_after(i);
            for (std::size_t k = 0; k < damage_states; ++k) {
                losses[k] += weight.from * probability_per_year_[k][i] +
                             weight.to * probability_per_year_[k][i + 1];  // eq. 87
            }
        }
    });
    for (double& loss : losses) loss *= futures_.leak_cost[static_cast<Eigen::Index>(row)];
    return losses;
}

double FutureLoss::expected(std::size_t row, const StateLosses& losses) const {
    const auto states = futures_.states(row);
    return states[0] * losses[0] + states[1] * losses[1] + states[2] * losses[2];
}

std::vector<double> FutureLoss::probabilities(std::size_t row,
                                              std::span<const DatedTreatment> treatments) {
    return probabilities(row, treatments, futures_.states(row));
}

std::vector<double> FutureLoss::probabilities(std::size_t row,
                                              std::span<const DatedTreatment> treatments,
                                              const std::array<double, damage_states>& states) {
    std::vector<double> curve(futures_.dates.size());
    walk(row, treatments, [&] {
        for (Eigen::Index i = 0; i < count_; ++i) {
            const double date = std::floor(at_years_[i]);
            if (date < at_years_[i]) continue;
            double expected = 0.0;
            for (std::size_t k = 0; k < damage_states; ++k) {
                expected += states[k] * probability_per_year_[k][i];
            }
            curve[static_cast<std::size_t>(date)] = expected;
        }
    });
    return curve;
}

// The treatments with an inspection among them, before those of its day.
std::span<const DatedTreatment> FutureLoss::with_inspection(
    std::span<const DatedTreatment> treatments, std::uint8_t effectiveness, double at_years) {
    inspected_.assign(treatments.begin(), treatments.end());
    const auto place = std::ranges::find_if(
        inspected_, [&](const DatedTreatment& each) { return each.at_years >= at_years; });
    DatedTreatment inspection{.treatment = {}, .at_years = at_years};
    inspection.treatment.inspected = effectiveness;
    inspected_.insert(place, inspection);
    return inspected_;
}

InspectionTree FutureLoss::inspect(std::size_t row, std::uint8_t effectiveness, double at_years,
                                   std::span<const Reaction> reactions) {
    require_reactions(reactions.size());
    std::array<PricedReaction, most_reactions> as_is{};
    std::array<PricedReaction, most_reactions> credited{};
    const bool cracks = futures_.cracks[static_cast<Eigen::Index>(row)] != 0;
    for (std::size_t r = 0; r < reactions.size(); ++r) {
        const Reaction& reaction = reactions[r];
        as_is[r] = {reaction.cost, treated(row, reaction.treatments)};
        if (!cracks) continue;
        credited[r] = {reaction.cost,
                       treated(row, with_inspection(reaction.treatments, effectiveness, at_years))};
    }
    const std::span<const PricedReaction> priced{as_is.data(), reactions.size()};
    if (cracks) return credit_tree(priced, {credited.data(), reactions.size()});
    return inspection_tree(futures_.states(row),
                           outcome_table(*likelihood_.conditional, effectiveness), priced);
}

}  // namespace lagline
