#pragma once

// For the files of this folder only: the parts of the page's data.

#include "report/html/page_json.h"
#include "report/html/report_page.h"

namespace lagline {

// Each writes members of the object that is open.

/// Plant, dates, rules, criteria, words and limits of bands and categories, cautions.
void write_page_head(PageJson& json, const ReportContent& content);
/// Sums and counts for the manager.
void write_page_overview(PageJson& json, const ReportContent& content);
/// The plan, or null.
void write_page_plan(PageJson& json, const ReportPlan* plan);
/// What the segments of the page are, when they are due and how their years ahead look.
void write_page_segments(PageJson& json, const ReportContent& content);
/// How sure their ranks are, or null.
void write_page_doubt(PageJson& json, const ReportContent& content);
/// Assumptions, overrides, warnings, segments not ranked, sources, recalled and changed values.
void write_page_registers(PageJson& json, const ReportContent& content);

}  // namespace lagline
