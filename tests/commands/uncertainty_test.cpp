#include <doctest/doctest.h>

#include <algorithm>

#include "program.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

const std::string sample = std::string{LAGLINE_SOURCE_DIR} + "/sample-plant/plant";
const Arguments command{"uncertainty", sample, "--at", "2027-04-05", "--samples", "32"};

Arguments with(const Arguments& more) {
    Arguments all = command;
    all.insert(all.end(), more.begin(), more.end());
    return all;
}

TEST_CASE("uncertainty shows the top segments, the chance to belong and the records to find") {
    const Ran ran = run(with({"--top", "20"}));
    CHECK(ran.code == 0);
    CHECK(holds(ran.out, "in top 20"));
    CHECK(holds(ran.out, "rank 10-90%"));
    CHECK(holds(ran.out, "Find this record first"));
    CHECK(holds(ran.out, "screening aid"));
    CHECK(widest_line(ran.out) <= 100);
}

TEST_CASE("on a terminal the table keeps to its width, and to no colour when asked") {
    for (const std::uint16_t columns : {std::uint16_t{80}, std::uint16_t{120}}) {
        const Ran ran = run_on_terminal(with({}), columns, {.environment = {"NO_COLOR=1"}});
        CHECK(ran.code == 0);
        CHECK(widest_line(ran.out) <= columns);
        CHECK(!holds(ran.out, "\x1b[3"));
    }
}

TEST_CASE("the CSV has a row for every gap and the ranks of `rank`") {
    const Ran ran = run(with({"--format", "csv"}));
    REQUIRE(ran.code == 0);
    const auto records = csv_records(ran.out);
    const auto& heading = records.front();
    CHECK(heading[1] == "segment");
    for (const auto& record : records) REQUIRE(record.size() == heading.size());
    const Ran ranked = run({"rank", sample, "--at", "2027-04-05", "--format", "csv"});
    const auto order = csv_records(ranked.out);
    std::string last;
    std::size_t rank = 0;
    for (std::size_t i = 1; i < records.size(); ++i) {
        if (records[i][1] == last) continue;
        last = records[i][1];
        ++rank;
        REQUIRE(order.at(rank)[1] == last);
        REQUIRE(records[i][0] == std::to_string(rank));
    }
    CHECK(rank + 1 == order.size());
}

TEST_CASE("JSON and a file to write") {
    const TempFolder folder;
    const std::string file = (folder.path() / "sure.json").string();
    const Ran ran = run(with({"--format", "json", "--out", file}));
    CHECK(ran.code == 0);
    CHECK(ran.out.empty());
    CHECK(folder.names() == std::vector<std::string>{"sure.json"});
    const Ran shown = run(with({"--format", "json", "--rows", "3"}));
    CHECK(holds(shown.out, "\"find_first\""));
    CHECK(count(shown.out, "\"expected_risk\"") == 3);
}

TEST_CASE("wrong numbers of samples and of the top group are refused") {
    CHECK(run({"uncertainty", sample, "--samples", "1"}).code == 2);
    CHECK(run({"uncertainty", sample, "--top", "0"}).code == 2);
    CHECK(run({"uncertainty", sample, "--top", "-3"}).code == 2);
    CHECK(run({"uncertainty", sample, "--format", "xml"}).code == 2);
    CHECK(run({"uncertainty", sample + "-not-there"}).code == 3);
}

TEST_CASE("distributions are shown with the other rules") {
    const Ran shown = run({"rules", "show", "missing_coating_quality"});
    CHECK(shown.code == 0);
    CHECK(holds(shown.out, "missing cells of coating_quality"));
    CHECK(holds(shown.out, "before 1985, none"));
    CHECK(holds(run({"rules", "list"}).out, "wall_reading_error"));
    CHECK(holds(run({"rules", "recalled"}).out, "missing_design"));
}

}  // namespace
}  // namespace lagline
