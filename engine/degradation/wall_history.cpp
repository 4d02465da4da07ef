#include <algorithm>
#include <functional>

#include "degradation/degradation.h"
#include "degradation/extreme_value.h"
#include "quantity/date.h"

namespace lagline {
namespace {

// A hole has no wall left; so small a number keeps the ratios of the next step finite.
constexpr double least_wall_mm = 0.01;

/// Reads the walls of one row after the other; keeps the memory for their readings.
class WallReader {
  public:
    WallReader(const BlockOfRows& block, const DegradationRules& rules, CoatingColumns& coating,
               WallLossColumns& out)
        : block_(block), rules_(rules), coating_(coating), out_(out) {}

    void fill(std::size_t i) {
        const auto row = static_cast<Eigen::Index>(i);
        const double table_rate = out_.readings.table_rate_mm_per_year[row];
        // What is expected of a reading follows from the table: what the readings themselves say of
        // the rate is known only after them.
        const History history = read_history(
            block_.plant, block_.segments[i], block_.at, block_.effectiveness, rules_.history,
            table_rate,
            [&](const History& known, Date day) {
                return split(i, known.wall_known, day, day).exposed_years;
            },
            readings_);
        out_.wall_thickness_mm[row] = std::max(least_wall_mm, history.wall_mm);  // eq. 4
        out_.time_since_wall_years[row] =
            std::max(0.0, years_between(history.wall_known, block_.at));
        out_.reading[i] = history.reading;
        out_.found_failed[i] = history.failed_at;
        fill_rates(i, history);
        const ProtectedTime time = split(i, history.wall_known, block_.at, block_.at);
        coating_.credit_years[row] = time.credit_years;
        coating_.exposed_time_years[row] = time.exposed_years;
    }

  private:
    [[nodiscard]] ProtectedTime split(std::size_t i, Date from, Date to, Date seen) const {
        return protected_time(block_, rules_, coating_, i, from, to, seen);
    }

    void fill_rates(std::size_t i, const History& history) {
        const auto row = static_cast<Eigen::Index>(i);
        ReadingColumns& columns = out_.readings;
        const WallLossRates rates = wall_loss_rates(block_.plant, block_.segments[i], readings_,
                                                    rules_.history.readings.least_interval_years);
        columns.conflicting[row] = history.conflict == History::nothing ? 0 : 1;
        columns.conflict[i] = history.conflict;
        columns.read[row] = history.thinnest == History::nothing ? 0 : 1;
        columns.thinnest_mm[row] = history.thinnest_mm;
        columns.thinnest[i] = history.thinnest;
        fill_accepted(i, history);
        columns.rates_known[row] = rates.known ? 1 : 0;
        columns.long_term_rate_mm_per_year[row] = rates.long_term_mm_per_year;
        columns.short_term_rate_mm_per_year[row] = rates.short_term_mm_per_year;
        columns.initial[i] = rates.initial.reading;
        columns.previous[i] = rates.previous.reading;
        out_.corrosion_rate_mm_per_year[row] =
            rules_.measured ? rate_by_readings(i, rates) : columns.table_rate_mm_per_year[row];
    }

    // What is expected of the surface that a reading of small coverage did not see.
    void fill_accepted(std::size_t i, const History& history) {
        const auto row = static_cast<Eigen::Index>(i);
        ReadingColumns& columns = out_.readings;
        const bool apart =
            history.accepted_known != history.wall_known || history.accepted_mm != history.wall_mm;
        columns.at_small_coverage[row] = apart ? 1 : 0;
        columns.accepted_wall_mm[row] = std::max(least_wall_mm, history.accepted_mm);  // eq. 4a
        columns.accepted_exposed_years[row] = 0.0;
        if (!apart) return;
        columns.accepted_exposed_years[row] =
            split(i, history.accepted_known, history.wall_known, block_.at).exposed_years;
    }

    double rate_by_readings(std::size_t i, const WallLossRates& rates) {
        const auto row = static_cast<Eigen::Index>(i);
        ReadingColumns& columns = out_.readings;
        columns.measured_rate_mm_per_year[row] = 0.0;
        columns.greatest_rate_mm_per_year[row] = 0.0;
        columns.surface_factor[row] = 1.0;
        columns.accepted[row] = 0;
        const double table_rate = columns.table_rate_mm_per_year[row];
        if (!rates.known) return table_rate;
        const RateFound found = rate_found(i, rates);
        columns.measured_rate_mm_per_year[row] = found.measured.least_mm_per_year;
        columns.greatest_rate_mm_per_year[row] = found.measured.greatest_mm_per_year;
        columns.surface_factor[row] = found.surface_factor;
        columns.accepted[row] = found.accepted ? 1 : 0;
        if (columns.at_small_coverage[row] == 0) return used(found, table_rate);
        // A reading of small coverage takes nothing off the rate by the accepted ones.
        const WallLossRates accepted =
            wall_loss_rates(block_.plant, block_.segments[i], readings_,
                            rules_.history.readings.least_interval_years, RateReadings::accepted);
        if (!accepted.known) return used(found, table_rate);
        return std::max(used(found, table_rate), used(rate_found(i, accepted), table_rate));
    }

    struct RateFound {
        MeasuredRate measured;
        double surface_factor = 1.0;
        bool accepted = false;
    };

    [[nodiscard]] double used(const RateFound& found, double table_rate) const {
        return used_rate_mm_per_year(table_rate,
                                     {found.measured.least_mm_per_year * found.surface_factor,
                                      found.measured.greatest_mm_per_year * found.surface_factor},
                                     found.accepted, rules_.measured->floor);
    }

    [[nodiscard]] RateFound rate_found(std::size_t i, const WallLossRates& rates) const {
        const MeasuredRateRules& measured = *rules_.measured;
        const Reading& last = *std::ranges::find(
            readings_, static_cast<std::uint32_t>(rates.actual.reading), &Reading::row);
        const auto exposed = [&](Date from, Date to) {
            return split(i, from, to, to).exposed_years;
        };
        return {
            measured_rate(rates, std::cref(exposed), measured.exposed_share_least,
                          measured.tolerance),
            surface_factor(std::max(last.share, measured.surface_share_least), measured.scatter),
            measured.accepted->code(last.effectiveness) != 0};
    }

    const BlockOfRows& block_;
    const DegradationRules& rules_;
    CoatingColumns& coating_;
    WallLossColumns& out_;
    std::vector<Reading> readings_;
};

}  // namespace

void fill_wall(const BlockOfRows& block, const DegradationRules& rules, CoatingColumns& coating,
               WallLossColumns& out) {
    WallReader reader{block, rules, coating, out};
    for (std::size_t i = block.range.begin; i < block.range.end; ++i) reader.fill(i);
}

}  // namespace lagline
