#include "ranking/overview.h"

#include <algorithm>
#include <map>

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::size_t first_ranks = 10;

class OverviewMaker {
  public:
    OverviewMaker(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                  const Forecast& ahead)
        : plant_(plant),
          ranking_(ranking),
          ahead_(ahead),
          bands_(rules.vocabulary("risk_category").words.size()) {}

    PlantOverview make() {
        made_.ranked = ranking_.order.size();
        made_.not_ranked = ranking_.not_ranked.size();
        made_.bands.assign(bands_, 0);
        for (std::size_t rank = 0; rank < ranking_.order.size(); ++rank) count_rank(rank);
        const auto ranked = static_cast<double>(std::max<std::size_t>(1, made_.ranked));
        made_.assumptions_mean /= ranked;
        if (made_.risk_per_year > 0.0) made_.first_ten_share /= made_.risk_per_year;
        count_years();
        sort_units();
        return std::move(made_);
    }

  private:
    UnitOverview& unit_of(std::uint32_t segment) {
        const std::string_view name = plant_.segments.texts(S::unit)[segment];
        const auto [found, fresh] = units_.try_emplace(name);
        if (fresh) {
            found->second.unit = name;
            found->second.bands.assign(bands_, 0);
        }
        return found->second;
    }

    // Means and shares are sums until make() divides them.
    void count_rank(std::size_t rank) {
        const std::uint32_t row = ranking_.order[rank];
        const std::uint32_t segment = ranking_.segment_rows[row];
        const auto at = static_cast<Eigen::Index>(row);
        const double risk = ranking_.risk.risk_per_year[at];
        const std::size_t band = ranking_.risk.risk_category[at];
        UnitOverview& unit = unit_of(segment);
        ++unit.segments;
        ++unit.bands[band];
        unit.risk_per_year += risk;
        ++made_.bands[band];
        made_.risk_per_year += risk;
        if (rank < first_ranks) made_.first_ten_share += risk;
        made_.assumptions_mean += ranking_.assumptions[row];
        if (plant_.inspection_begin[segment] == plant_.inspection_begin[segment + 1]) {
            ++made_.never_inspected;
        }
    }

    void count_years() {
        made_.risk_by_year.assign(ahead_.dates.size(), 0.0);
        made_.due_by_year.assign(ahead_.dates.size(), {});
        for (const ForecastCurve& curve : ahead_.curves) {
            for (std::size_t i = 0; i < ahead_.dates.size(); ++i) {
                made_.risk_by_year[i] += curve.points[i].risk_per_year;
            }
            count_due(curve);
        }
    }

    void count_due(const ForecastCurve& curve) {
        const auto criterion = curve.due.first();
        if (!criterion) return;
        const Date day = *curve.due.date();
        const auto year = std::ranges::lower_bound(ahead_.dates, day);
        if (year != ahead_.dates.end()) {
            ++made_.due_by_year[static_cast<std::size_t>(year - ahead_.dates.begin())]
                               [static_cast<std::size_t>(*criterion)];
        }
        if (day <= plant_.today) ++made_.due_today;
        if (day > ranking_.at.date) return;
        ++made_.due;
        ++unit_of(curve.segment_row).due;
    }

    void sort_units() {
        for (auto& [name, unit] : units_) made_.units.push_back(std::move(unit));
        std::ranges::stable_sort(made_.units, std::ranges::greater{}, &UnitOverview::risk_per_year);
    }

    const Plant& plant_;
    const Ranking& ranking_;
    const Forecast& ahead_;
    std::size_t bands_;
    PlantOverview made_;
    std::map<std::string_view, UnitOverview> units_;
};

}  // namespace

PlantOverview overview_of(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                          const Forecast& ahead) {
    return OverviewMaker{plant, rules, ranking, ahead}.make();
}

}  // namespace lagline
