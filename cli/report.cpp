#include <iostream>

#include "cli/app.h"
#include "cli/output.h"
#include "cli/planning.h"
#include "cli/progress.h"
#include "cli/session.h"
#include "report/html/report_page.h"

namespace lagline::cli {
namespace {

// What a browser still opens in a moment.
constexpr std::size_t usual_segments = 10'000;
constexpr std::size_t least_samples = 16;
constexpr std::size_t most_samples = 65536;
// Years between two dates at which the samples are followed.
constexpr std::size_t range_step_years = 5;

struct ReportArguments {
    PlantOptions plant;
    std::size_t top = usual_segments;
    std::size_t samples = 0;
    std::size_t top_group = 50;
    bool plan = true;
    OutFile out;
};

std::vector<std::uint32_t> segments_by_rank(const Ranking& ranking) {
    std::vector<std::uint32_t> rows;
    for (const std::uint32_t row : ranking.order) rows.push_back(ranking.segment_rows[row]);
    return rows;
}

/// How sure ranks and curves are, for whoever asks for it.
struct Doubt {
    std::optional<Uncertainty> sure;
    std::optional<ForecastRanges> ranges;
};

Doubt work_out_doubt(const ReportArguments& arguments, const Opened& opened,
                     std::span<const std::uint32_t> shown, const std::vector<Date>& years) {
    Doubt doubt;
    if (arguments.samples == 0) return doubt;
    Progress progress{"sampling"};
    const WorkPlan plan{arguments.plant.block_rows, arguments.plant.threads, progress.counter()};
    doubt.sure = rank_uncertainty(*opened.plant, *opened.rules,
                                  {arguments.samples, arguments.top_group}, plan);
    std::vector<Date> dates;
    for (std::size_t year = 0; year < years.size(); year += range_step_years) {
        dates.push_back(years[year]);
    }
    doubt.ranges = forecast_ranges(*opened.plant, *opened.rules, shown, std::move(dates),
                                   arguments.samples, plan);
    return doubt;
}

// Nothing where no window is to come: the page then says that no plan has been made.
std::optional<ReportPlan> work_out_plan(const ReportArguments& arguments, const Opened& opened,
                                        const Ranking& ranking) {
    const int years = horizon_of(*opened.rules).years;
    if (!arguments.plan || plan_windows(*opened.plant, years).empty()) return std::nullopt;
    const auto plan = plan_opened(opened, ranking, arguments.plant, {});
    if (!plan) return std::nullopt;
    return report_plan(*opened.plant, *opened.rules, ranking, *plan, work_plan(arguments.plant));
}

int run(const ReportArguments& arguments) {
    const auto opened = open_or_report(arguments.plant);
    if (!opened) return bad_input;
    const Ranking ranking = rank_with_outlook(*opened, arguments.plant, 0);
    const auto rows = segments_by_rank(ranking);
    const Forecast ahead =
        forecast_opened(*opened, arguments.plant, rows, horizon_of(*opened->rules).years);
    ReportContent content{.plant = *opened->plant,
                          .rules = *opened->rules,
                          .ranking = ranking,
                          .ahead = ahead,
                          .found = &opened->report,
                          .top = arguments.top,
                          .version = LAGLINE_VERSION};
    const Doubt doubt = work_out_doubt(
        arguments, *opened, std::span{rows}.first(segments_in_page(content)), ahead.dates);
    const auto planned = work_out_plan(arguments, *opened, ranking);
    if (planned) content.plan = &*planned;
    if (doubt.sure) content.sure = &*doubt.sure;
    if (doubt.ranges) content.ranges = &*doubt.ranges;
    Progress progress{"explaining"};
    const WorkPlan plan{arguments.plant.block_rows, arguments.plant.threads, progress.counter()};
    return deliver(report_page(content, plan), arguments.out);
}

}  // namespace

void add_report(Command& program) {
    Command command = program.add_command("report", "Make a page to look at in a browser");
    auto arguments = std::make_shared<ReportArguments>();
    add_plant_options(command, arguments->plant);
    add_out_option(command, arguments->out).required();
    command.option("--top", &arguments->top, "Segments in the page, 0 for all")
        .value_name("N")
        .count()
        .shows_default();
    command.flag("!--no-plan", arguments->plan, "Leave the plan out");
    command.option("--samples", &arguments->samples, "Draws, to show how sure ranks are")
        .value_name("N")
        .count()
        .whole_between(least_samples, most_samples);
    command.option("--top-group", &arguments->top_group, "Size of the top group, with --samples")
        .value_name("N")
        .count()
        .whole_between(1, 1'000'000'000)
        .shows_default();
    command.footer(
        "One file that holds all it needs and loads nothing: a summary, the ranking to\n"
        "sort and filter, the risk matrix, a plot plan by x and y, the rationale of each\n"
        "segment, assumptions, overrides, recalled values and cautions. It prints to A4.\n\n"
        "  lagline report my-plant --out report.html\n"
        "  lagline report my-plant --samples 256 --out report.html");
    command.runs([arguments] { return run(*arguments); });
}

}  // namespace lagline::cli
