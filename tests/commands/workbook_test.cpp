// Workbooks on the command line; tests/workbook looks into them.
#include <doctest/doctest.h>

#include "program.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

const std::string sample = std::string{LAGLINE_SOURCE_DIR} + "/sample-plant/plant";

TEST_CASE("a workbook needs a file to go to; without one nothing is read or written") {
    for (const std::string command : {"rank", "plan"}) {
        CAPTURE(command);
        const Ran ran = run({command, "no-such-plant", "--format", "xlsx"});
        CHECK(ran.code == 2);
        CHECK(ran.out.empty());
        CHECK(ran.err ==
              "lagline: --format xlsx makes a file for a spreadsheet; say which: --out FILE.xlsx\n"
              "Run with --help for more information.\n");
    }
}

TEST_CASE("a workbook that cannot be written leaves the old file whole and nothing beside it") {
    const TempFolder folder;
    const auto out = folder.write("ranking.xlsx", "old\n").string();
    const Arguments rank{"rank", sample,  "--at", fixed_day, "--format",
                         "xlsx", "--out", out,    "--force"};
    const Ran full = run(rank, {.most_file_bytes = 65'536});
    INFO(full.err);
    CHECK(full.code == 1);
    CHECK(holds(full.err, "nothing was written"));
    CHECK(file_text(out) == "old\n");
    CHECK(folder.names() == std::vector<std::string>{"ranking.xlsx"});

    CHECK(run(rank).code == 0);
    CHECK(file_text(out).starts_with("PK"));
    CHECK(folder.names() == std::vector<std::string>{"ranking.xlsx"});
}

TEST_CASE("a workbook under the name of a CSV file is told what to do") {
    const StarterPlant plant;
    plant.write("segments.csv", "PK\x03\x04 and so on");
    const Ran ran = run({"check", plant.path(), "--at", fixed_day});
    CHECK(ran.code == 3);
    CHECK(holds(ran.out, "give it the name .xlsx"));
}

}  // namespace
}  // namespace lagline
