// Pages made by the program are committed as it makes them.
#include <doctest/doctest.h>

#include "program.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

void check_page(const std::string& page, const Arguments& arguments) {
    const Ran made = run(arguments);
    CHECK(made.code == 0);
    const bool same = made.out == file_text(std::string{LAGLINE_SOURCE_DIR} + "/docs/" + page);
    CHECK_MESSAGE(same, "docs/" << page
                                << " is stale; `lagline --help` of dictionary says how to "
                                   "make it");
}

TEST_CASE("docs/data-dictionary.md is what `lagline dictionary` prints") {
    check_page("data-dictionary.md", {"dictionary"});
}

TEST_CASE("docs/commands.md is what `lagline dictionary --commands` prints") {
    check_page("commands.md", {"dictionary", "--commands"});
}

}  // namespace
}  // namespace lagline
