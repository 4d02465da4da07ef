#include "report/forecast_text.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"

namespace lagline {
namespace {

using S = SegmentField;

// A bar a year for the order of magnitude of the probability: from 1e-5 a year to 1.
std::string magnitude_bar(double probability_per_year) {
    constexpr std::array<std::string_view, 8> bars{"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
    constexpr double decades = 5.0;
    const double share = (std::log10(std::max(probability_per_year, 1e-9)) + decades) / decades;
    const double step = std::floor(share * static_cast<double>(bars.size()));
    return std::string{bars[static_cast<std::size_t>(
        std::clamp(step, 0.0, static_cast<double>(bars.size() - 1)))]};
}

std::string reached_text(const DueDates& due, Criterion criterion) {
    const auto& day = due.reached[static_cast<std::size_t>(criterion)];
    return day ? to_string(*day) : "";
}

int horizon_of(const Forecast& ahead) { return static_cast<int>(ahead.dates.size()) - 1; }

std::string head_of(const Plant& plant, const Forecast& ahead, const TextStyle& style) {
    return coloured(printable(plant.description.name, style.width - 2), Tone::strong, style) +
           "\n" +
           wrapped("If nothing is done from " + to_string(ahead.dates.front()) + " to " +
                       to_string(ahead.dates.back()) +
                       ". Due by: " + describe(ahead.criteria, plant.description.currency) + ".",
                   style.width, 0) +
           "\n\n";
}

std::vector<std::string> table_row(const Plant& plant, const Forecast& ahead,
                                   const ForecastCurve& curve) {
    const auto criterion = curve.due.first();
    std::vector<std::string> cells{
        printable(plant.segments.texts(S::segment)[curve.segment_row], 40),
        criterion ? to_string(*curve.due.date()) : "after " + to_string(ahead.dates.back()),
        criterion ? std::string{to_string(*criterion)} : ""};
    for (const Criterion each : all_criteria) {
        if (ahead.criteria.has(each)) cells.push_back(reached_text(curve.due, each));
    }
    std::string bars;
    for (const ForecastPoint& point : curve.points) {
        bars += magnitude_bar(point.probability_per_year);
    }
    cells.push_back(bars);
    cells.push_back(short_number(curve.points.front().probability_per_year, 2));
    cells.push_back(short_number(curve.points.back().probability_per_year, 2));
    return cells;
}

}  // namespace

std::string due_text(const DueDates& due, int horizon_years) {
    std::vector<std::pair<Date, std::string_view>> reached;
    for (const Criterion criterion : all_criteria) {
        const auto& day = due.reached[static_cast<std::size_t>(criterion)];
        if (day) reached.emplace_back(*day, to_string(criterion));
    }
    if (reached.empty()) {
        return "no criterion is reached within " + std::to_string(horizon_years) + " years";
    }
    std::ranges::stable_sort(reached, {}, [](const auto& each) { return each.first; });
    std::string text;
    for (const auto& [day, criterion] : reached) {
        text += (text.empty() ? "" : ", ") + to_string(day) + " by " + std::string{criterion};
    }
    return text;
}

std::string forecast_table(const Plant& plant, const Forecast& ahead, const TextStyle& style) {
    std::string text = head_of(plant, ahead, style);
    if (ahead.curves.empty()) return text + "No segment to look at.\n";
    std::vector<TableColumn> columns{{"segment", false, 16}, {"due", false, 0}, {"by", false, 0}};
    for (const Criterion criterion : all_criteria) {
        if (ahead.criteria.has(criterion)) {
            columns.push_back({std::string{to_string(criterion)}, false, 0});
        }
    }
    columns.push_back({"leak/y, bar a year", false, 0});
    columns.push_back({"today", true, 0});
    columns.push_back({"at end", true, 0});
    std::vector<std::vector<std::string>> rows;
    for (const ForecastCurve& curve : ahead.curves) rows.push_back(table_row(plant, ahead, curve));
    text += text_table(columns, rows, style) + "\n";
    text += coloured(wrapped("wall, probability, risk: the day each criterion is reached; empty "
                             "where it is not within the horizon. Bars: probability of a leak in "
                             "a year from 1e-5 (lowest) to 1 (highest), equal steps in powers of "
                             "ten.",
                             style.width, 0),
                     Tone::quiet, style) +
            "\n";
    return text + "\n" + coloured(wrapped(screening_caution, style.width, 0), Tone::quiet, style) +
           "\n";
}

std::string forecast_years(const Plant& plant, const Forecast& ahead, const ForecastCurve& curve,
                           const TextStyle& style) {
    std::vector<TableColumn> columns{
        {"date", false, 0},  {"damage factor", true, 0}, {"leak/y", true, 0},       {"", false, 0},
        {"risk/y", true, 0}, {"expected wall", true, 0}, {"below minimum", true, 0}};
    if (!curve.loses_wall) columns.resize(5);
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < ahead.dates.size(); ++i) {
        const ForecastPoint& point = curve.points[i];
        rows.push_back({to_string(ahead.dates[i]), short_number(point.damage_factor, 4),
                        short_number(point.probability_per_year, 2),
                        magnitude_bar(point.probability_per_year), grouped(point.risk_per_year)});
        if (!curve.loses_wall) continue;
        rows.back().push_back(short_number(point.expected_wall_mm, 3) + " mm");
        rows.back().push_back(short_number(100.0 * point.below_minimum, 3) + " %");
    }
    std::string summary;
    if (curve.loses_wall) {
        summary = "Minimum thickness " + short_number(curve.minimum_thickness_mm, 3) + " mm. ";
    }
    summary += "Due: " + due_text(curve.due, horizon_of(ahead)) +
               ". Criteria: " + describe(ahead.criteria, plant.description.currency) + ".";
    return text_table(columns, rows, style) + wrapped(summary, style.width, 0) + "\n";
}

}  // namespace lagline
