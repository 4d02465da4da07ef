// Writes a page with an invented plan for the browser test: make_plan_page FILE.
#include <iostream>

#include "report/atomic_file.h"
#include "report_page/page_content.h"

int main(int argc, char** argv) {
    if (argc != 2) return 2;
    const auto page = lagline::page_content(lagline::sample_plant(lagline::extended_rules()),
                                            lagline::extended_rules());
    const lagline::ReportPlan plan = lagline::invented_plan(page);
    lagline::ReportContent content = page.content();
    content.plan = &plan;
    content.top = 50;
    const std::string problem = lagline::write_whole(argv[1], lagline::report_page(content));
    if (!problem.empty()) std::cerr << problem << "\n";
    return problem.empty() ? 0 : 1;
}
