#include <algorithm>
#include <optional>

#include "degradation/coating.h"
#include "degradation/coats.h"
#include "degradation/degradation.h"
#include "quantity/date.h"

namespace lagline {
namespace {

using S = SegmentField;

// Credit of eq. 6 over all whole coats.  All days stand on one clock, that of the first coat: the
// times between them then add up, which years counted from different days need not do.
class CreditByCoats {
  public:
    CreditByCoats(Date clock, Date from, Date to, double life_years)
        : clock_(clock), from_(at(from)), to_(at(to)), life_years_(life_years) {}

    void add(const WholeCoat& coat) {
        if (coat.failed) return;
        const double applied = at(coat.applied);
        const double begin = std::max(from_, applied);
        const double end = std::min({to_, at(coat.until), applied + life_years_});
        credit_years_ += std::max(0.0, end - begin);
    }
    [[nodiscard]] double exposed_years() const { return to_ - from_ - credit_years_; }

  private:
    [[nodiscard]] double at(Date day) const { return years_between(clock_, day); }

    Date clock_;
    double from_;
    double to_;
    double life_years_;
    double credit_years_ = 0.0;
};

double banded_exposed_years(const BlockOfRows& block, const DegradationRules& rules,
                            std::uint32_t segment, double life_years, Date from, Date to,
                            Date seen) {
    const double since = std::max(0.0, years_between(from, to));
    std::optional<CreditByCoats> all;
    int coats = 0;
    bool ever_failed = false;
    Date first;
    for_each_whole_coat(block.plant, rules.history, segment, to, seen, [&](const WholeCoat& coat) {
        if (coats++ == 0) {
            first = coat.applied;
            all.emplace(first, from, to, life_years);
        }
        all->add(coat);
        ever_failed = ever_failed || coat.failed;
    });
    // The coat of the first day as if no other had followed: eq. 6 as the source has it.
    const double age = std::max(0.0, years_between(first, to));
    const double alone = since - coating_credit_years(life_years, age, since, ever_failed);
    // A recoat on record never counts against the segment.
    return std::max(0.0, coats == 1 ? alone : std::min(alone, all->exposed_years()));  // eq. 7
}

// Life of the coat that was there before `coating_date`: applied in the shop.
Weibull earlier_life(const CoatingColumns& coating, Eigen::Index row) {
    const double field = coating.place_factor[row] * coating.application_factor[row];
    return {field > 0.0 ? coating.scale_years[row] / field : coating.scale_years[row],
            coating.shape[row]};
}

void store_life(const CoatingLife& found, Eigen::Index row, CoatingColumns& out) {
    out.base_scale_years[row] = found.base_scale_years;
    out.preparation_factor[row] = found.preparation;
    out.place_factor[row] = found.place;
    out.application_factor[row] = found.application;
    out.film_um[row] = found.film_um;
    out.thin_film_factor[row] = found.thin_film;
    out.cracking_factor[row] = found.cracking;
    out.temperature_factor[row] = found.temperature;
    out.cycling_factor[row] = found.cycling;
    out.wet_factor[row] = found.wet;
    out.scale_years[row] = found.life.scale_years;
    out.shape[row] = found.life.shape;
}

}  // namespace

void fill_coating_life(const BlockOfRows& block, const DegradationRules& rules,
                       const ExposureColumns& exposure, std::span<const ServiceLevels> levels,
                       CoatingColumns& out) {
    const SegmentSheet& segments = block.plant.segments;
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const std::uint32_t segment = block.segments[i];
        if (!rules.life) {
            out.life_years[row] =
                rules.coating_life->value(segments.codes(S::coating_quality)[segment]);
            continue;
        }
        const ServiceLevels& seen = levels[i - block.range.begin];
        store_life(coating_life(block.plant, *rules.life, segment, exposure.driver[row],
                                seen.highest_degc(), seen.lowest_degc(), block.at),
                   row, out);
    }
}

void fill_coating_age(const BlockOfRows& block, const DegradationRules& rules,
                      CoatingColumns& out) {
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const std::uint32_t segment = block.segments[i];
        const WholeCoat present = present_coat(block.plant, rules.history, segment, block.at);
        out.age_years[row] = std::max(0.0, years_between(present.applied, block.at));  // eq. 5
        out.failed[row] = present.failed ? 1 : 0;
        if (!rules.life) continue;
        const Weibull life{out.scale_years[row], out.shape[row]};
        out.broken_probability[row] = life.broken_by(out.age_years[row]);  // eq. 34
    }
}

ProtectedTime protected_time(const BlockOfRows& block, const DegradationRules& rules,
                             const CoatingColumns& coating, std::size_t row, Date from, Date to,
                             Date seen) {
    const auto at = static_cast<Eigen::Index>(row);
    const double since = std::max(0.0, years_between(from, to));
    const std::uint32_t segment = block.segments[row];
    double exposed = 0.0;
    if (rules.life) {
        const CoatLives lives{.present = {coating.scale_years[at], coating.shape[at]},
                              .earlier = earlier_life(coating, at)};
        exposed =
            expected_unprotected(block.plant, *rules.life, lives, rules.history, segment, from, to);
    } else {
        exposed =
            banded_exposed_years(block, rules, segment, coating.life_years[at], from, to, seen);
    }
    return {std::max(0.0, since - exposed), exposed};
}

}  // namespace lagline
