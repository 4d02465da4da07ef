#include "ranking/forecast_range.h"

#include <algorithm>
#include <cmath>

#include "blocks/pool.h"
#include "ranking/input_draws.h"
#include "ranking/method.h"
#include "ranking/sample_risks.h"

namespace lagline {
namespace {

constexpr double low_quantile = 0.1;
constexpr double high_quantile = 0.9;

class RangeSampling {
  public:
    RangeSampling(const Plant& plant, const RuleSet& rules, std::span<const std::uint32_t> rows,
                  std::size_t samples, const WorkPlan& plan)
        : plant_(plant),
          rules_(rules),
          rows_(rows),
          plan_(plan),
          draws_(plant, rules, fields_by_mechanism(rules)),
          points_(draws_.dimensions(), samples) {
        plan_.block_rows = std::max<std::size_t>(1, plan.block_rows / samples);
    }

    void run(ForecastRanges& result) {
        list_cells();
        result.segments.resize(rows_.size());
        for_each_block(rows_.size(), plan_, [&](std::size_t, RowRange range) {
            auto sampled = pool_.take(
                [this] { return std::make_unique<SampledPlant>(plant_, rules_, draws_, points_); });
            follow(*sampled, range, result);
            pool_.give_back(std::move(sampled));
        });
    }

  private:
    void list_cells() {
        const Ranking ranking = Method{plant_, rules_}.start(rows_);
        std::vector<std::uint8_t> mechanisms(plant_.segments.rows(), 0);
        for (std::size_t row = 0; row < ranking.rows(); ++row) {
            mechanisms[ranking.segment_rows[row]] |=
                row < ranking.mechanism_rows.wall_loss ? reads_wall_loss : reads_cracking;
        }
        for (const std::uint32_t segment : rows_) {
            first_cell_.push_back(cells_.size());
            draws_.add_cells(segment, mechanisms[segment], cells_);
        }
        first_cell_.push_back(cells_.size());
    }

    void follow(SampledPlant& sampled, RowRange range, ForecastRanges& result) const {
        std::vector<SampledSegment> segments;
        for (std::size_t i = range.begin; i < range.end; ++i) {
            segments.push_back(
                {rows_[i], {cells_.data() + first_cell_[i], first_cell_[i + 1] - first_cell_[i]}});
        }
        sampled.make(segments);
        const Method method{sampled.plant(), rules_, Method::Wanted::risk};
        Ranking ranking = method.start();
        const WorkPlan here{.block_rows = std::max<std::size_t>(1, ranking.rows()), .threads = 1};
        for_each_mechanism_block(ranking.mechanism_rows, here,
                                 [&](RowRange rows) { method.fill_conditions(rows, ranking); });
        std::vector<double> probability(sampled.plant().segments.rows());
        for (const Date date : result.dates) {
            ranking.at.date = date;
            for_each_mechanism_block(ranking.mechanism_rows, here,
                                     [&](RowRange rows) { method.fill_state(rows, ranking); });
            for_each_mechanism_block(ranking.mechanism_rows, here,
                                     [&](RowRange rows) { method.fill_risk(rows, ranking); });
            read_probabilities(ranking, probability);
            for (std::size_t i = range.begin; i < range.end; ++i) {
                const auto part = sampled.rows()[i - range.begin];
                describe({probability.data() + part.first, part.count}, result.segments[i]);
            }
        }
        for (std::size_t i = range.begin; i < range.end; ++i) {
            if (result.segments[i].size() < result.dates.size()) result.segments[i].clear();
        }
    }

    static void read_probabilities(const Ranking& ranking, std::vector<double>& by_segment) {
        std::ranges::fill(by_segment, std::nan(""));
        for (std::size_t row = 0; row < ranking.rows(); ++row) {
            if (!ranking.stands_for_segment(row)) continue;
            const auto at = static_cast<Eigen::Index>(row);
            if (!std::isfinite(ranking.risk.risk_per_year[at])) continue;
            by_segment[ranking.segment_rows[row]] =
                ranking.likelihood.probability_of_failure_per_year[at];
        }
    }

    static void describe(std::span<double> samples, std::vector<ProbabilityRange>& ranges) {
        const auto refused = std::partition(samples.begin(), samples.end(),
                                            [](double each) { return std::isfinite(each); });
        const auto counted = samples.first(static_cast<std::size_t>(refused - samples.begin()));
        if (counted.empty()) return;
        std::ranges::sort(counted);
        const auto quantile = [&](double p) {
            const double place = std::ceil(p * static_cast<double>(counted.size()));
            return counted[static_cast<std::size_t>(std::max(1.0, place)) - 1];
        };
        ranges.push_back({quantile(low_quantile), quantile(0.5), quantile(high_quantile)});
    }

    const Plant& plant_;
    const RuleSet& rules_;
    std::span<const std::uint32_t> rows_;
    WorkPlan plan_;
    InputDraws draws_;
    SobolPoints points_;
    Pool<SampledPlant> pool_;
    std::vector<DrawnCell> cells_;
    std::vector<std::size_t> first_cell_;  ///< of each segment asked for, in cells_; then the end
};

}  // namespace

ForecastRanges forecast_ranges(const Plant& plant, const RuleSet& rules,
                               std::span<const std::uint32_t> rows, std::vector<Date> dates,
                               std::size_t samples, const WorkPlan& plan) {
    ForecastRanges result;
    result.dates = std::move(dates);
    result.samples = samples;
    RangeSampling{plant, rules, rows, samples, plan}.run(result);
    return result;
}

}  // namespace lagline
