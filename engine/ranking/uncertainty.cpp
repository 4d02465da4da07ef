#include "ranking/uncertainty.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <numeric>

#include "blocks/pool.h"
#include "ranking/input_draws.h"
#include "ranking/sample_risks.h"
#include "ranking/sensitivity.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr double low_quantile = 0.1;
constexpr double high_quantile = 0.9;
// Rows of the plant that the results are made from at a time: their samples stay in the cache.
constexpr std::size_t rows_at_a_time = 64;

/// What every step of the work shares.
class RankSampling {
  public:
    RankSampling(const Plant& plant, const RuleSet& rules, const UncertaintyOptions& options,
                 const WorkPlan& plan)
        : plant_(plant),
          rules_(rules),
          samples_(options.samples),
          top_(options.top),
          plan_(plan),
          draws_(plant, rules, fields_by_mechanism(rules)),
          points_(draws_.dimensions(), options.samples) {}

    Uncertainty run() {
        WorkPlan silent = plan_;
        silent.counter = nullptr;
        list_segments(rank(plant_, rules_, silent));
        sample_risks();
        rank_samples();
        describe_segments();
        list_records();
        result_.options = {samples_, top_};
        result_.without_distribution = fields_without_distribution(rules_);
        return std::move(result_);
    }

  private:
    std::size_t count() const { return result_.segments.size(); }
    std::span<double> sample(std::size_t s) { return {ranks_.data() + s * count(), count()}; }

    std::span<const DrawnCell> cells_of(std::size_t i) const {
        const SegmentUncertainty& segment = result_.segments[i];
        return {cells_.data() + segment.first_gap, segment.gap_count};
    }

    // Takes the ranking by point values, which is of no more use afterwards: its columns would take
    // up the memory that the samples need.
    void list_segments(Ranking ranking) {
        result_.at = ranking.at;
        result_.not_ranked = std::move(ranking.not_ranked);
        std::vector<std::uint8_t> mechanisms(plant_.segments.rows(), 0);
        for (std::size_t row = 0; row < ranking.rows(); ++row) {
            mechanisms[ranking.segment_rows[row]] |=
                row < ranking.mechanism_rows.wall_loss ? reads_wall_loss : reads_cracking;
        }
        for (const std::uint32_t row : ranking.order) {
            SegmentUncertainty segment;
            segment.segment_row = ranking.segment_rows[row];
            segment.risk_per_year = ranking.risk.risk_per_year[row];
            segment.first_gap = cells_.size();
            draws_.add_cells(segment.segment_row, mechanisms[segment.segment_row], cells_);
            segment.gap_count = cells_.size() - segment.first_gap;
            result_.segments.push_back(segment);
        }
        result_.gaps.resize(cells_.size());
        // Equal risks are ordered by name, in every sample as in the ranking.
        std::vector<std::uint32_t> by_name(count());
        std::iota(by_name.begin(), by_name.end(), 0U);
        const auto names = plant_.segments.texts(S::segment);
        std::ranges::sort(by_name, {},
                          [&](std::uint32_t i) { return names[result_.segments[i].segment_row]; });
        name_order_.resize(count());
        for (std::uint32_t k = 0; k < by_name.size(); ++k) name_order_[by_name[k]] = k;
    }

    // Work in blocks of some segments with all their samples.
    WorkPlan segment_plan() const {
        WorkPlan plan = plan_;
        plan.block_rows = std::max<std::size_t>(1, plan_.block_rows / samples_);
        return plan;
    }

    std::vector<SampledSegment> sampled_segments(RowRange range) const {
        std::vector<SampledSegment> segments;
        for (std::size_t i = range.begin; i < range.end; ++i) {
            segments.push_back({result_.segments[i].segment_row, cells_of(i)});
        }
        return segments;
    }

    std::unique_ptr<SampleRisks> take_runner() {
        return pool_.take(
            [this] { return std::make_unique<SampleRisks>(plant_, rules_, draws_, points_); });
    }

    void sample_risks() {
        ranks_.resize(count() * samples_);
        for_each_block(count(), segment_plan(), [&](std::size_t, RowRange range) {
            auto runner = take_runner();
            runner->run(sampled_segments(range));
            for (std::size_t i = range.begin; i < range.end; ++i) {
                store(i, runner->outcome(i - range.begin));
            }
            pool_.give_back(std::move(runner));
        });
    }

    void store(std::size_t i, const SampledOutcome& outcome) {
        SegmentUncertainty& segment = result_.segments[i];
        const bool once = outcome.risk_per_year.size() == 1;
        double risk_sum = 0.0;
        double damage_sum = 0.0;
        for (std::size_t s = 0; s < samples_; ++s) {
            const double risk = outcome.risk_per_year[once ? 0 : s];
            const bool refused = !std::isfinite(risk);
            sample(s)[i] = refused ? -1.0 : risk;
            segment.refused += refused ? 1 : 0;
            risk_sum += refused ? 0.0 : risk;
            damage_sum += refused ? 0.0 : outcome.damage_factor[once ? 0 : s];
        }
        const auto counted = static_cast<double>(samples_ - segment.refused);
        // A segment of which nothing is drawn keeps its risk to the last bit.
        segment.expected_risk_per_year = once ? outcome.risk_per_year[0] : risk_sum / counted;
        segment.expected_damage_factor = once ? outcome.damage_factor[0] : damage_sum / counted;
    }

    // The risks of a sample give way to its ranks.
    void rank_samples() {
        WorkPlan plan = plan_;
        plan.counter = nullptr;
        plan.block_rows = 1;
        struct Place {
            double risk;
            std::uint32_t name;
            std::uint32_t row;
        };
        for_each_block(samples_, plan, [&](std::size_t, RowRange range) {
            std::vector<Place> places(count());
            const auto risks = sample(range.begin);
            for (std::uint32_t i = 0; i < places.size(); ++i) {
                places[i] = {risks[i], name_order_[i], i};
            }
            std::ranges::sort(places, [](const Place& a, const Place& b) {
                return a.risk != b.risk ? a.risk > b.risk : a.name < b.name;
            });
            for (std::size_t k = 0; k < places.size(); ++k) {
                risks[places[k].row] = static_cast<double>(k + 1);
            }
        });
    }

    void describe_segments() {
        WorkPlan plan = plan_;
        plan.counter = nullptr;
        plan.block_rows = rows_at_a_time;
        for_each_block(count(), plan, [&](std::size_t, RowRange range) {
            auto runner = take_runner();
            FirstOrderIndex index;
            std::vector<double> ranks(samples_);
            std::vector<double> scratch(samples_);
            for (std::size_t i = range.begin; i < range.end; ++i) {
                for (std::size_t s = 0; s < samples_; ++s) ranks[s] = sample(s)[i];
                scratch = ranks;
                describe(i, scratch);
                describe_gaps(i, *runner, index, ranks, scratch);
            }
            pool_.give_back(std::move(runner));
        });
    }

    void describe(std::size_t i, std::vector<double>& ranks) {
        SegmentUncertainty& segment = result_.segments[i];
        const auto n = static_cast<double>(samples_);
        const auto in_top = static_cast<double>(
            std::ranges::count_if(ranks, [this](double rank) { return is_top(rank); }));
        segment.top_probability = in_top / n;
        segment.top_error =
            std::sqrt(segment.top_probability * (1.0 - segment.top_probability) / n);  // eq. 62
        double mean = 0.0;
        for (const double rank : ranks) mean += rank;
        mean /= n;
        for (const double rank : ranks) segment.rank_variance += (rank - mean) * (rank - mean);
        segment.rank_variance /= n;
        const auto quantile = [&](double p) {
            const auto k = static_cast<std::ptrdiff_t>(std::ceil(p * n)) - 1;
            std::nth_element(ranks.begin(), ranks.begin() + k, ranks.end());
            return ranks[static_cast<std::size_t>(k)];
        };
        segment.rank_low = quantile(low_quantile);
        segment.rank_high = quantile(high_quantile);
    }

    bool is_top(double rank) const { return rank <= static_cast<double>(top_); }

    void describe_gaps(std::size_t i, SampleRisks& runner, FirstOrderIndex& index,
                       std::span<const double> ranks, std::vector<double>& top) {
        const SegmentUncertainty& segment = result_.segments[i];
        if (segment.gap_count == 0) return;
        const SampledSegment again{segment.segment_row, cells_of(i)};
        runner.sampled().make({&again, 1}, SampledPlant::Wanted::classes);
        std::ranges::transform(ranks, top.begin(),
                               [this](double rank) { return is_top(rank) ? 1.0 : 0.0; });
        const double doubt = segment.top_probability * (1.0 - segment.top_probability);
        for (std::size_t k = 0; k < segment.gap_count; ++k) {
            GapEffect& gap = result_.gaps[segment.first_gap + k];
            const DrawnCell& cell = again.cells[k];
            const auto classes = runner.sampled().classes(0, k);
            gap.distribution = draws_.draws()[cell.draw].from;
            gap.row = cell.row;
            gap.segment = static_cast<std::uint32_t>(i);
            gap.rank_share = index(classes, ranks);
            gap.rank_variance_removed = gap.rank_share * segment.rank_variance;
            if (doubt > 0.0) gap.doubt_removed = index(classes, top) * doubt;
        }
    }

    // Another reading has an error of its own, so it closes no gap.
    void list_records() {
        const auto& gaps = result_.gaps;
        for (std::uint32_t g = 0; g < gaps.size(); ++g) {
            const bool a_record = gaps[g].distribution->cell != DoubtfulCell::measured;
            if (a_record && gaps[g].doubt_removed > 0.0) result_.find_first.push_back(g);
        }
        std::ranges::stable_sort(result_.find_first, [&](std::uint32_t a, std::uint32_t b) {
            if (gaps[a].doubt_removed != gaps[b].doubt_removed) {
                return gaps[a].doubt_removed > gaps[b].doubt_removed;
            }
            return gaps[a].rank_variance_removed > gaps[b].rank_variance_removed;
        });
    }

    const Plant& plant_;
    const RuleSet& rules_;
    std::size_t samples_;
    std::size_t top_;
    WorkPlan plan_;
    InputDraws draws_;
    SobolPoints points_;
    Pool<SampleRisks> pool_;
    Uncertainty result_;
    std::vector<DrawnCell> cells_;
    std::vector<std::uint32_t> name_order_;
    std::vector<double> ranks_;  ///< sample by sample: risks, then ranks in their place
};

}  // namespace

std::vector<std::size_t> fields_without_distribution(const RuleSet& rules) {
    std::vector<std::size_t> without;
    const auto has = [&](std::size_t field, DoubtfulCell cell) {
        return std::ranges::any_of(rules.distributions, [&](const auto& entry) {
            const Distribution& each = entry.second;
            return each.file == DistributionFile::segments && each.field == field &&
                   each.cell == cell;
        });
    };
    for (const std::size_t field : fields_read(rules)) {
        const FieldInfo& info = segment_fields()[field];
        const bool words = info.kind == FieldKind::word;
        const bool can_miss =
            !info.needed || (words && rules.vocabulary(info.words).code("unknown").has_value());
        const bool lacks_missing = can_miss && !has(field, DoubtfulCell::missing);
        const bool lacks_day = info.kind == FieldKind::date && !has(field, DoubtfulCell::imprecise);
        if (lacks_missing || lacks_day) without.push_back(field);
    }
    return without;
}

Uncertainty rank_uncertainty(const Plant& plant, const RuleSet& rules,
                             const UncertaintyOptions& options, const WorkPlan& plan) {
    return RankSampling{plant, rules, options, plan}.run();
}

}  // namespace lagline
