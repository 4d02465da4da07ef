#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>

#include "program.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

const std::string sample = std::string{LAGLINE_SOURCE_DIR} + "/sample-plant/plant";

TEST_CASE("matrix: a table of the terminal's width, with and without colour") {
    const Arguments matrix{"matrix", sample, "--at", fixed_day};
    const Ran plain = run_on_terminal(matrix, 80, {.environment = {"TERM=xterm", "NO_COLOR=1"}});
    CHECK(plain.code == 0);
    CHECK(widest_line(plain.out) <= 80);
    CHECK_FALSE(holds(plain.out, "\x1b["));
    for (const auto* word : {"low", "medium", "medium_high", "high"}) {
        CHECK(holds(plain.out, word));
    }
    CHECK(holds(run_on_terminal(matrix, 80, {.environment = {"TERM=xterm", "NO_COLOR="}}).out,
                "\x1b["));
}

TEST_CASE("matrix: the counts are those of the ranking") {
    const Ran ranked = run({"rank", sample, "--at", fixed_day, "--format", "csv"});
    const auto rows = csv_records(ranked.out);
    const auto column = [&](std::string_view key) {
        const auto& headings = rows.front();
        return static_cast<std::size_t>(std::ranges::find(headings, key) - headings.begin());
    };
    const Ran matrix = run({"matrix", sample, "--at", fixed_day, "--format", "csv"});
    REQUIRE(matrix.code == 0);
    const auto cells = csv_records(matrix.out);
    REQUIRE(cells.size() == 26);
    std::size_t all = 0;
    for (std::size_t i = 1; i < cells.size(); ++i) {
        std::size_t count = 0;
        for (std::size_t r = 1; r < rows.size(); ++r) {
            if (rows[r][column("probability_category")] != cells[i][0]) continue;
            if (rows[r][column("consequence_category")] != cells[i][3]) continue;
            CHECK(rows[r][column("risk_category")] == cells[i][6]);
            if (count++ == 0) CHECK(rows[r][column("segment")] == cells[i][9]);
        }
        CHECK(std::to_string(count) == cells[i][7]);
        all += count;
    }
    CHECK(all == rows.size() - 1);
}

TEST_CASE("matrix: the same bytes for any threads and blocks, in every format") {
    for (const auto* format : {"table", "csv", "json", "svg"}) {
        CAPTURE(std::string{format});
        const Arguments base{"matrix", sample, "--at", fixed_day, "--format", format};
        Arguments other = base;
        other.insert(other.end(), {"--threads", "2", "--block", "7"});
        const Ran one = run(base);
        CHECK(one.code == 0);
        CHECK(one.out.size() > 1000);
        CHECK(one.out == run(other).out);
    }
}

TEST_CASE("matrix: a file is written whole, a site's overlay is used, wrong use is refused") {
    const StarterPlant plant;
    const std::string out = plant.file("matrix.svg");
    const Ran drawn =
        run({"matrix", plant.path(), "--at", fixed_day, "--format", "svg", "--out", out});
    CHECK(drawn.code == 0);
    CHECK(drawn.out.empty());
    const std::string svg = plant.text("matrix.svg");
    CHECK(svg.starts_with("<svg "));
    CHECK(svg.ends_with("</svg>\n"));
    CHECK(holds(svg, "criterion 20k EUR/y"));

    std::filesystem::create_directory(plant.file("rules"));
    plant.write("rules/site.yaml",
                "ruleset: {name: site, meaning: an invented plant, based_on: extended}\n"
                "changes:\n"
                "  - {table: risk_matrix, entry: {probability_category: \"1\", "
                "consequence_category: A}, to: high, reason: invented}\n");
    const Ran csv = run({"matrix", plant.path(), "--at", fixed_day, "--format", "csv"});
    CHECK(csv.code == 0);
    CHECK(csv_records(csv.out)[1][6] == "high");

    CHECK(run({"matrix", sample, "--format", "png"}).code == 2);
    CHECK(run({"matrix", plant.file("nowhere")}).code == 3);
    plant.replace("plant.yaml", "probability: 1e-2 1/y", "probability: 1e-2");
    const Ran bad = run({"matrix", plant.path(), "--at", fixed_day});
    CHECK(bad.code == 3);
    CHECK(holds(bad.err, "criteria -> probability"));
}

}  // namespace
}  // namespace lagline
