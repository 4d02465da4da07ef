#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "blocks/parallel.h"
#include "diagnostics/diagnostic.h"
#include "plant/plant.h"
#include "ranking/forecast.h"
#include "ranking/forecast_range.h"
#include "ranking/ranking.h"
#include "ranking/uncertainty.h"
#include "report/html/report_plan.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What a report page is made of.  All of it is of the same plant and rules; what is null was not
/// asked for, and the page says so.
struct ReportContent {
    const Plant& plant;
    const RuleSet& rules;
    const Ranking& ranking;                  ///< with its outlook
    const Forecast& ahead;                   ///< of every ranked segment
    const Report* found = nullptr;           ///< warnings of the reading
    const Uncertainty* sure = nullptr;       ///< of the same ranking
    const ForecastRanges* ranges = nullptr;  ///< of the segments of the page, in order of rank
    const ReportPlan* plan = nullptr;
    std::size_t top = 0;            ///< segments in the page, the greatest risk first; 0 for all
    std::string_view version = "";  ///< of the program
};

/// Segments that a page with this content holds.
[[nodiscard]] std::size_t segments_in_page(const ReportContent& content);

/// The report as one HTML file that needs no other and no network: overview, ranking, matrix, plot
/// plan, the rationale of each segment, registers, cautions.  Texts of the plant and the rules are
/// data in it, never markup.  The same content gives the same bytes.
/// @param plan  whose counter is told of every segment explained
[[nodiscard]] std::string report_page(const ReportContent& content, const WorkPlan& plan = {});

/// The data of the page as JSON, as page/data.js reads it.
[[nodiscard]] std::string report_data(const ReportContent& content, const WorkPlan& plan = {});

}  // namespace lagline
