#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>

#include "program.h"
#include "support/csv_records.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

const std::string sample = std::string{LAGLINE_SOURCE_DIR} + "/sample-plant/plant";

TEST_CASE("forecast: the years ahead of one segment end where rank at that date stands") {
    const Ran ahead =
        run({"forecast", sample, "S-00001", "--today", "2026-11-25", "--format", "csv"});
    REQUIRE(ahead.code == 0);
    const auto records = csv_records(ahead.out);
    REQUIRE(records.size() == 22);
    CHECK(records[1][1] == "2026-11-25");
    CHECK(records[21][1] == "2046-11-25");
    const Ran ranked =
        run({"rank", sample, "--today", "2026-11-25", "--at", "2046-11-25", "--format", "csv"});
    REQUIRE(ranked.code == 0);
    const auto rows = csv_records(ranked.out);
    const auto at = [&](std::string_view heading) {
        return static_cast<std::size_t>(std::ranges::find(rows[0], heading) - rows[0].begin());
    };
    const auto row =
        std::ranges::find_if(rows, [](const auto& each) { return each[1] == "S-00001"; });
    REQUIRE(row != rows.end());
    CHECK(records[21][6] == (*row)[at("risk")]);
    CHECK(records[21][7] == (*row)[at("expected_wall [mm]")]);
    // What rank tells of the segment is what the forecast says.
    CHECK(records[1][2] == (*row)[at("due_date")]);
    CHECK(records[1][6] == (*row)[at("risk_today")]);
}

TEST_CASE("forecast fits 80 columns, and one segment gets its years") {
    const Ran many = run_on_terminal({"forecast", sample, "--today", "2026-11-25"}, 80);
    CHECK(many.code == 0);
    CHECK(widest_line(many.out) <= 80);
    const Ran one = run_on_terminal({"forecast", sample, "S-00001", "--today", "2026-11-25"}, 80);
    CHECK(one.code == 0);
    CHECK(widest_line(one.out) <= 80);
    CHECK(holds(one.out, "2046-11-25"));
    CHECK(holds(one.out, "Minimum thickness"));
}

TEST_CASE("forecast names every segment that is not there") {
    const Ran ran = run({"forecast", sample, "S-1", "S-00001", "S-2"});
    CHECK(ran.code == 2);
    CHECK(count(ran.err, "no segment") == 2);
    CHECK(ran.out.empty());
}

TEST_CASE("forecast as a picture is one SVG with the criterion, the names, and no script") {
    // The sample plant states no criterion on the probability.
    const TempFolder folder;
    const auto plant = folder.path() / "plant";
    std::filesystem::copy(sample, plant);
    std::ofstream(plant / "plant.yaml", std::ios::app) << "  probability: 1e-2 1/y\n";
    const Ran ran =
        run({"forecast", plant.string(), "--top", "5", "--today", "2026-11-25", "--format", "svg"});
    CHECK(ran.code == 0);
    CHECK(ran.out.starts_with("<svg xmlns="));
    CHECK(ran.out.ends_with("</svg>\n"));
    CHECK(holds(ran.out, "criterion 0.01 a year"));
    CHECK(count(ran.out, "<polyline") == 5);
    CHECK_FALSE(holds(ran.out, "<script"));
}

TEST_CASE("rank shows today's rank and when a segment is due") {
    const Ran ran = run_on_terminal({"rank", sample, "--today", "2026-11-25", "--top", "5"}, 80);
    CHECK(ran.code == 0);
    CHECK(widest_line(ran.out) <= 80);
    CHECK(holds(ran.out, "today"));
    CHECK(holds(ran.out, "due"));
    CHECK(holds(ran.out, "start of OS-2028, the window after the next one (TA-2027)"));
}

TEST_CASE("explain shows the years ahead and today's rank") {
    const Ran ran = run({"explain", sample, "S-00001", "--today", "2026-11-25"});
    CHECK(ran.code == 0);
    CHECK(holds(ran.out, "The years ahead if nothing is done"));
    CHECK(holds(ran.out, "; today"));
    const Ran json =
        run({"explain", sample, "S-00001", "--today", "2026-11-25", "--format", "json"});
    CHECK(holds(json.out, "\"below_minimum_probability\""));
    CHECK(holds(json.out, "\"rank_today\""));
}

}  // namespace
}  // namespace lagline
