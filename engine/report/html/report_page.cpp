#include "report/html/report_page.h"

#include <algorithm>

#include "ranking/drivers.h"
#include "ranking/explain.h"
#include "report/html/markup.h"
#include "report/html/page_assets.h"
#include "report/html/page_parts.h"
#include "report/html/page_rationale.h"
#include "report/own_output.h"

namespace lagline {
namespace {

void explain_segments(PageJson& json, const ReportContent& content, const WorkPlan& plan) {
    const Ranking& ranking = content.ranking;
    const DriverFinder drivers{ranking};
    PageRationale rationale{ranking};
    const std::size_t count = segments_in_page(content);
    if (plan.counter != nullptr) plan.counter->total += count;
    for (std::size_t rank = 0; rank < count; ++rank) {
        const std::uint32_t row = ranking.order[rank];
        rationale.add(explain(content.plant, content.rules, ranking, row, drivers, rank + 1), row);
        if (plan.counter != nullptr) ++plan.counter->done;
    }
    rationale.write(json, content.rules, content.plant.description.currency);
}

std::string policy(const PageAssets& assets) {
    return "default-src 'none'; script-src '" + std::string{assets.library_hash} + "' '" +
           std::string{assets.script_hash} + "'; style-src '" + std::string{assets.style_hash} +
           "'; base-uri 'none'; form-action 'none'";
}

}  // namespace

std::size_t segments_in_page(const ReportContent& content) {
    const std::size_t ranked = content.ranking.order.size();
    return content.top == 0 ? ranked : std::min(content.top, ranked);
}

std::string report_data(const ReportContent& content, const WorkPlan& plan) {
    PageJson json;
    std::string text;
    json.begin_object();
    write_page_head(json, content);
    write_page_overview(json, content);
    write_page_plan(json, content.plan);
    write_page_segments(json, content);
    text += json.take();
    write_page_doubt(json, content);
    write_page_registers(json, content);
    text += json.take();
    explain_segments(json, content, plan);
    json.end_object();
    return text + json.take();
}

std::string report_page(const ReportContent& content, const WorkPlan& plan) {
    const PageAssets& assets = page_assets();
    std::string page = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n";
    page += "<meta http-equiv=\"Content-Security-Policy\" content=\"" + policy(assets) + "\">\n";
    page += html_mark;
    page += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
    page += "<meta name=\"color-scheme\" content=\"light dark\">\n";
    page += "<title>" + as_markup(content.plant.description.name) + ": Lagline report</title>\n";
    page.append("<style>").append(assets.style).append("</style>\n</head>\n<body>\n");
    page.append(assets.body);
    page += "<script type=\"application/json\" id=\"data\">" +
            script_safe(report_data(content, plan)) + "</script>\n";
    page += "<template id=\"licences\">" + as_markup(assets.licences) + "</template>\n";
    page.append("<script>").append(assets.library).append("</script>\n");
    page.append("<script>").append(assets.script).append("</script>\n</body>\n</html>\n");
    return page;
}

}  // namespace lagline
