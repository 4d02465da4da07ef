#include "learning/rate_factors.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <span>

#include "degradation/readings.h"
#include "learning/finding.h"
#include "learning/partial_pooling.h"
#include "ranking/method.h"

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

constexpr double z_of_90_percent = 1.6448536269514722;

/// The last reading that counts, of every segment that has one, by day.
std::multimap<Date, RateRatio> last_readings(const Plant& plant, const RuleSet& rules) {
    const FindingRules findings = finding_rules(rules);
    const auto effectiveness = inspection_effectiveness(plant, rules);
    std::multimap<Date, RateRatio> readings;
    for (std::uint32_t segment = 0; segment < plant.segments.rows(); ++segment) {
        for (std::uint32_t i = plant.inspection_begin[segment + 1];
             i-- > plant.inspection_begin[segment];) {
            const std::uint32_t row = plant.inspection_order[i];
            const auto wall = wall_read_mm(plant, segment, row);
            if (!wall || findings.reading_accepted->code(effectiveness[row]) == 0) continue;
            RateRatio ratio{segment, row};
            ratio.measured_loss_mm = plant.segments.numbers(S::nominal_wall)[segment] - *wall;
            readings.emplace(Date{plant.inspections.days(I::date)[row]}, ratio);
            break;
        }
    }
    return readings;
}

/// The same plant as if no wall had ever been read: what was seen of coatings stays.
Plant without_readings(Plant plant) {
    for (const I field : {I::least_thickness, I::pit_depth}) {
        std::ranges::fill(plant.inspections.column(field).states, CellState::absent);
    }
    return plant;
}

RuleSet without_learned(RuleSet rules, std::string_view column) {
    std::erase_if(rules.site_factors, [&](const auto& named) {
        return named.second.learned && named.second.info.by == column;
    });
    return rules;
}

/// Expected loss of the segments of one day.
void expect_losses(const Method& method, Date day, std::span<RateRatio> ratios,
                   std::vector<RateRatio>& expected) {
    std::vector<std::uint32_t> segments;
    for (const RateRatio& each : ratios) segments.push_back(each.segment);
    Ranking ranking = method.start(segments);
    ranking.at.date = day;
    const RowRange wall_rows{0, ranking.mechanism_rows.wall_loss};
    if (wall_rows.size() == 0) return;
    method.fill_conditions(wall_rows, ranking);
    method.fill_state(wall_rows, ranking);
    for (std::size_t row = 0; row < wall_rows.end; ++row) {
        const auto found =
            std::ranges::find(ratios, ranking.segment_rows[row], &RateRatio::segment);
        const auto i = static_cast<Eigen::Index>(row);
        found->expected_loss_mm =
            ranking.likelihood.wall_fraction[i] * ranking.wall_loss.wall_thickness_mm[i];
        expected.push_back(*found);
    }
}

std::vector<RateRatio> measured_and_expected(const Plant& plant, const RuleSet& rules) {
    const auto readings = last_readings(plant, rules);
    const Plant unread = without_readings(plant);
    const Method method{unread, rules};
    std::vector<RateRatio> all;
    std::vector<RateRatio> of_day;
    for (auto at = readings.begin(); at != readings.end();) {
        const auto next = readings.upper_bound(at->first);
        of_day.clear();
        for (auto each = at; each != next; ++each) of_day.push_back(each->second);
        expect_losses(method, at->first, of_day, all);
        at = next;
    }
    std::ranges::sort(all, {}, &RateRatio::segment);
    return all;
}

void keep_telling(std::vector<RateRatio> all, RateFactors& out) {
    for (RateRatio& each : all) {
        if (!(each.expected_loss_mm >= out.least_expected_mm)) {
            ++out.too_early;
            continue;
        }
        each.told = each.measured_loss_mm >= out.least_told_mm;
        const double loss_mm = each.told ? each.measured_loss_mm : 0.5 * out.least_told_mm;
        each.log_ratio = std::log(loss_mm / each.expected_loss_mm);  // eq. 77
        out.ratios.push_back(each);
    }
}

std::optional<std::string> group_of(const Plant& plant, const RuleSet& rules, std::size_t field,
                                    std::uint32_t segment) {
    if (plant.segments.Sheet::state(field, segment) == CellState::absent) return std::nullopt;
    const FieldInfo& info = segment_fields()[field];
    const SheetColumn& column = plant.segments.Sheet::column(field);
    if (info.kind == FieldKind::text) return std::string{column.texts[segment]};
    return rules.vocabulary(info.words).words[column.codes[segment]].key;
}

struct LogSums {
    std::size_t told = 0;
    std::vector<double> logs;
    [[nodiscard]] double mean() const {
        double sum = 0.0;
        for (const double each : logs) sum += each;
        return sum / static_cast<double>(logs.size());
    }
    [[nodiscard]] double squares() const {
        const double middle = mean();
        double sum = 0.0;
        for (const double each : logs) sum += (each - middle) * (each - middle);
        return sum;
    }
};

using Groups = std::map<std::string, LogSums>;

Groups group_ratios(const Plant& plant, const RuleSet& rules, RateFactors& out) {
    Groups groups;
    for (const RateRatio& each : out.ratios) {
        const auto name = group_of(plant, rules, out.field, each.segment);
        if (!name) {
            ++out.not_grouped;
            continue;
        }
        LogSums& group = groups[*name];
        group.told += each.told ? 1U : 0U;
        group.logs.push_back(each.log_ratio);
    }
    return groups;
}

Interval interval_of(double mean, double variance) {
    const double half = z_of_90_percent * std::sqrt(variance);
    return {std::exp(mean - half), std::exp(mean + half)};
}

// Own factors of the groups (eq. 78 and 79).
std::vector<GroupMean> own_factors(const Groups& groups, RateFactors& out) {
    double squares = 0.0;
    std::size_t count = 0;
    for (const auto& [name, group] : groups) {
        squares += group.squares();
        count += group.logs.size();
    }
    if (count > groups.size()) {
        out.spread_within = std::sqrt(squares / static_cast<double>(count - groups.size()));
    }
    std::vector<GroupMean> means;
    for (const auto& [name, group] : groups) {
        const double variance =
            out.spread_within * out.spread_within / static_cast<double>(group.logs.size());
        means.push_back({group.mean(), variance});
        RateFactor factor;
        factor.group = name;
        factor.readings = group.logs.size();
        factor.told = group.told;
        factor.own = std::exp(group.mean());
        if (variance > 0.0) factor.own_interval = interval_of(group.mean(), variance);
        factor.factor = factor.own;
        out.groups.push_back(std::move(factor));
    }
    return means;
}

void pool(const std::vector<GroupMean>& means, RateFactors& out) {
    if (means.size() < fewest_groups) {
        out.refusal = std::to_string(means.size()) + " groups have readings; pooling needs " +
                      std::to_string(fewest_groups);
        return;
    }
    if (out.spread_within <= 0.0) {
        out.refusal = "no group has two readings that differ, so nothing tells how they scatter";
        return;
    }
    const PooledGroups pooled = pool_groups(means);
    out.common = std::exp(pooled.common_mean);
    out.spread_between = std::sqrt(pooled.between_variance);
    for (std::size_t i = 0; i < means.size(); ++i) {
        RateFactor& factor = out.groups[i];
        factor.factor = std::exp(pooled.groups[i].mean);
        factor.interval = interval_of(pooled.groups[i].mean, pooled.groups[i].variance);
        factor.shrinkage = pooled.groups[i].shrinkage;
    }
}

}  // namespace

bool groups_by(std::size_t field) {
    const FieldInfo& info = segment_fields()[field];
    return info.kind == FieldKind::text || !info.words.empty();
}

RateFactors rate_factors(const Plant& plant, const RuleSet& rules, std::size_t field) {
    RateFactors out;
    out.field = field;
    out.least_told_mm = rules.value("least_loss_told").value();
    out.least_expected_mm = rules.value("least_loss_expected").value();
    const RuleSet base = without_learned(rules, segment_fields()[field].key);
    std::vector<RateRatio> all = measured_and_expected(plant, base);
    out.with_reading = all.size();
    keep_telling(std::move(all), out);
    for (const RateRatio& each : out.ratios) {
        out.learned = std::max(out.learned, Date{plant.inspections.days(I::date)[each.inspection]});
    }
    pool(own_factors(group_ratios(plant, rules, out), out), out);
    return out;
}

}  // namespace lagline
