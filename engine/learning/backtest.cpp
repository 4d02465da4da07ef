#include "learning/backtest.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <span>

#include "learning/past_date.h"

namespace lagline {
namespace {

using I = InspectionField;

constexpr int points_of_all_dates = 100;

Date last_inspection(const Plant& plant) {
    const auto days = plant.inspections.days(I::date);
    return days.empty() ? Date{} : Date{*std::ranges::max_element(days)};
}

// From the last window that is over, backwards, while enough was looked at.
std::vector<PastDate> chosen_dates(const PastDateMaker& maker, Date records_end, int within_years) {
    std::vector<PastDate> dates;
    const int first_year = 1900;
    Date at = make_date(year_of(records_end), 1, 1);
    while (add_years(at, within_years) > records_end) at = add_years(at, -1);
    for (; dates.size() < most_dates && year_of(at) > first_year;
         at = add_years(at, -within_years)) {
        PastDate date = maker.make(at);
        if (date.looked.size() < fewest_looked) break;
        dates.push_back(std::move(date));
    }
    return dates;
}

bool windows_overlap(const std::vector<PastDate>& dates) {
    for (std::size_t i = 0; i < dates.size(); ++i) {
        for (std::size_t k = i + 1; k < dates.size(); ++k) {
            if (dates[i].at < dates[k].until && dates[k].at < dates[i].until) return true;
        }
    }
    return false;
}

// Each date weighs as much as it has findings: what opening the same share at each would have met.
void join_gains(Backtest& test) {
    const auto all = static_cast<double>(test.found);
    for (std::size_t order = 0; order < opening_orders.size(); ++order) {
        if (test.cracking && opening_orders[order] == OpeningOrder::chance) continue;
        OrderGain& joined = test.gains[order];
        double variance = 0.0;
        for (const PastDate& date : test.dates) {
            const double weight = static_cast<double>(date.found) / all;
            joined.area += weight * date.gains[order].area;
            variance += std::pow(weight * date.gains[order].area_error, 2);
        }
        joined.area_error = std::sqrt(variance);
        for (int point = 0; point <= points_of_all_dates; ++point) {
            const double opened = static_cast<double>(point) / points_of_all_dates;
            double met = 0.0;
            for (const PastDate& date : test.dates) {
                met +=
                    static_cast<double>(date.found) / all * met_at(date.gains[order].curve, opened);
            }
            joined.curve.push_back({opened, met});
        }
    }
    for (const PastDate& date : test.dates) {
        test.best_area += static_cast<double>(date.found) / all * date.best_area;
    }
}

void score_forecasts(Backtest& test) {
    std::vector<Forecast> forecasts;
    for (const PastDate& date : test.dates) {
        for (const LookedSegment& each : date.looked) {
            forecasts.push_back({each.chance, each.found});
        }
    }
    test.bands = calibration(forecasts);
    test.brier = brier_score(forecasts, test.bands);
}

std::size_t undated_changes(const RuleSet& rules, const Plant& plant) {
    // Changes of the shipped sets carry no plant folder in their place.
    const auto of_site = [&](const Place& place) {
        return !plant.folder.empty() && place.file.starts_with(plant.folder);
    };
    std::size_t count = 0;
    for (const RuleChange& change : rules.changes) count += of_site(change.place) ? 1U : 0U;
    for (const auto& [name, table] : rules.site_factors) count += table.learned ? 0U : 1U;
    return count;
}

}  // namespace

std::string_view key_of(OpeningOrder order) {
    switch (order) {
        case OpeningOrder::chance:
            return "chance";
        case OpeningOrder::leak:
            return "leak";
        case OpeningOrder::risk:
            return "risk";
        case OpeningOrder::age:
            return "age";
        case OpeningOrder::temperature:
            return "temperature";
    }
    return "";
}

std::string_view describe(OpeningOrder order) {
    switch (order) {
        case OpeningOrder::chance:
            return "chance of a finding";
        case OpeningOrder::leak:
            return "probability of a leak";
        case OpeningOrder::risk:
            return "risk, the order of rank";
        case OpeningOrder::age:
            return "age, the oldest first";
        case OpeningOrder::temperature:
            return "temperature band";
    }
    return "";
}

Backtest backtest(const PlantSources& sources, const Plant& today, const RuleSet& rules,
                  const BacktestOptions& options) {
    Backtest test;
    test.cracking = options.cracking;
    test.within_years = options.within_years;
    test.dates_given = !options.at.empty();
    test.records_end = last_inspection(today);
    test.undated_changes = undated_changes(rules, today);
    const PastDateMaker maker{sources, today, rules, options};
    if (test.dates_given) {
        for (const Date at : options.at) test.dates.push_back(maker.make(at));
    } else if (today.inspections.rows() > 0) {
        test.dates = chosen_dates(maker, test.records_end, options.within_years);
    }
    for (PastDate& date : test.dates) {
        date.window_open = date.until > test.records_end;
        test.looked += date.looked.size();
        test.found += date.found;
    }
    test.overlap = windows_overlap(test.dates);
    if (test.found > 0) join_gains(test);
    if (!test.cracking) score_forecasts(test);
    return test;
}

}  // namespace lagline
