#pragma once

#include <string_view>
#include <vector>

#include "ranking/forecast.h"
#include "report/html/report_page.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {

/// A plant with all that a page is made of.
struct PageContent {
    Plant plant;
    const RuleSet& rules;
    Ranking ranking;
    Forecast ahead;

    [[nodiscard]] ReportContent content() const {
        return {.plant = plant, .rules = rules, .ranking = ranking, .ahead = ahead};
    }
};

inline PageContent page_content(Plant plant, const RuleSet& rules) {
    Ranking ranking = rank_with_outlook(plant, rules, 1);
    std::vector<std::uint32_t> rows;
    for (const std::uint32_t row : ranking.order) rows.push_back(ranking.segment_rows[row]);
    Forecast ahead = forecast(plant, rules, rows, usual_horizon_years);
    return {std::move(plant), rules, std::move(ranking), std::move(ahead)};
}

/// An invented plan for the first segments of the page: two windows, an access group of two.
inline ReportPlan invented_plan(const PageContent& page) {
    ReportPlan plan;
    plan.summary = "An invented plan, for trying the page.";
    for (const bool is_plan : {true, false}) {
        PlannedCourse course;
        course.name = is_plan ? "with the plan" : "oldest first";
        course.meaning = is_plan ? "What the plan leaves." : "The same money, the oldest first.";
        course.is_plan = is_plan;
        for (std::size_t year = 0; year < page.ahead.dates.size(); ++year) {
            course.risk_per_year.push_back((is_plan ? 1e6 : 2e6) *
                                           (1.0 + 0.1 * static_cast<double>(year)));
        }
        plan.courses.push_back(std::move(course));
    }
    plan.windows = {{"TA-A", make_date(2028, 4, 1), make_date(2028, 5, 1), 4e5, 5e5},
                    {"OS-B", make_date(2029, 6, 1), make_date(2029, 8, 1), 1e5, std::nullopt}};
    const auto name = [&](std::size_t rank) {
        return std::string{page.plant.segments.texts(
            SegmentField::segment)[page.ranking.segment_rows[page.ranking.order[rank]]]};
    };
    plan.actions = {{"TA-A", "G-1", name(0), "strip all and recoat", 2e5, true, "due now"},
                    {"TA-A", "G-1", name(1), "strip part and inspect", 2e5, false, ""},
                    {"OS-B", "", name(2), "screen", 1e5, false, "cheap"}};
    plan.by_budget = {{0.0, 3e7}, {5e5, 1e7}, {1e6, 8e6}};
    plan.notes = {"Crews were not asked."};
    return plan;
}

}  // namespace lagline
