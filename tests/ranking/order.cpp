#include <doctest/doctest.h>

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "ranking/ranking.h"
#include "report/ranking_csv.h"
#include "support/columns.h"
#include "support/csv_records.h"
#include "support/rules.h"
#include "support/small_plant.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

const std::string& sample_csv() {
    static const std::string csv = [] {
        const Plant plant = sample_plant(published_rules());
        return ranking_csv(plant, published_rules(), rank(plant, published_rules()), 0);
    }();
    return csv;
}

TEST_CASE("the ranking of the sample plant does not depend on threads or block size, to the byte") {
    REQUIRE(csv_records(sample_csv()).size() > 500);
    for (const unsigned threads : {1U, 2U}) {
        for (const std::size_t block : {1U, 7U, 1024U}) {
            CAPTURE(threads);
            CAPTURE(block);
            const WorkPlan plan{.block_rows = block, .threads = threads};
            const Plant plant = sample_plant(published_rules(), plan);
            const Ranking ranking = rank(plant, published_rules(), plan);
            CHECK((ranking_csv(plant, published_rules(), ranking, 0, plan) == sample_csv()));
        }
    }
}

TEST_CASE("the order of the rows of segments.csv does not matter") {
    const fs::path sample = fs::path{LAGLINE_SOURCE_DIR} / "sample-plant" / "plant";
    const std::string text = file_text((sample / "segments.csv").string());
    REQUIRE(text.find("\"\n") == std::string::npos);  // one line a row, so that lines can be mixed
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find('\n', at);
        lines.push_back(text.substr(at, end - at + 1));
        at = end + 1;
    }
    std::mt19937_64 dice{7};
    for (int draw = 0; draw < 3; ++draw) {
        std::shuffle(lines.begin() + 1, lines.end(), dice);
        TempFolder folder;
        for (const auto* name : {"plant.yaml", "inspections.csv", "turnarounds.csv"}) {
            fs::copy_file(sample / name, folder.path() / name);
        }
        std::string mixed;
        for (const std::string& line : lines) mixed += line;
        folder.write("segments.csv", mixed);
        const Date at = make_date(2027, 4, 5);
        const LoadedPlant loaded = load_plant(folder.path(), published_rules(), {at, at, {}});
        INFO(to_text(loaded.report));
        REQUIRE(loaded.plant.has_value());
        const Ranking ranking = rank(*loaded.plant, published_rules());
        CHECK((ranking_csv(*loaded.plant, published_rules(), ranking, 0) == sample_csv()));
    }
}

TEST_CASE("rows stand by falling risk; every row has one rank") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    REQUIRE(ranking.order.size() == ranking.rows());
    CHECK(std::set<std::uint32_t>{ranking.order.begin(), ranking.order.end()}.size() ==
          ranking.rows());
    const auto risk = column_of(ranking, "risk").numbers;
    const auto names = plant.segments.texts(SegmentField::segment);
    for (std::size_t rank = 1; rank < ranking.rows(); ++rank) {
        const std::uint32_t above = ranking.order[rank - 1];
        const std::uint32_t below = ranking.order[rank];
        REQUIRE(risk[above] >= risk[below]);
        if (risk[above] == risk[below]) {
            REQUIRE(names[ranking.segment_rows[above]] < names[ranking.segment_rows[below]]);
        }
    }
}

TEST_CASE("ties are broken by segment name") {
    const Plant plant = assemble({.segments = {segment_cells("S-3"), segment_cells("S-10"),
                                               segment_cells("S-1"), segment_cells("S-2")}},
                                 published_rules());
    const Ranking ranking = rank(plant, published_rules());
    std::vector<std::string> names;
    for (const std::uint32_t row : ranking.order) {
        names.emplace_back(plant.segments.texts(SegmentField::segment)[ranking.segment_rows[row]]);
    }
    CHECK(names == std::vector<std::string>{"S-1", "S-10", "S-2", "S-3"});  // as bytes
}

TEST_CASE("stainless segments are listed as not ranked, with the reason") {
    const Plant plant =
        assemble({.segments = {segment_cells("C-1"),
                               segment_cells("A-1", {{"material", "duplex_stainless"}}),
                               segment_cells("L-1", {{"material", "low_alloy_steel"}}),
                               segment_cells("D-1", {{"material", "duplex_stainless"}})}},
                 published_rules());
    const Ranking ranking = rank(plant, published_rules());
    CHECK(ranking.segment_rows == std::vector<std::uint32_t>{0, 2});
    REQUIRE(ranking.not_ranked.size() == 2);
    CHECK(ranking.not_ranked[0].segment_row == 1);
    CHECK(ranking.not_ranked[0].reason == "no mechanism for duplex_stainless in these rules");
    CHECK(ranking.not_ranked[1].segment_row == 3);
    CHECK(ranking.not_ranked[1].reason == "no mechanism for duplex_stainless in these rules");
}

TEST_CASE("a plant in which nothing can be ranked gives an empty ranking") {
    const Plant plant =
        assemble({.segments = {segment_cells("A-1", {{"material", "duplex_stainless"}})}},
                 published_rules());
    const Ranking ranking = rank(plant, published_rules());
    CHECK(ranking.rows() == 0);
    CHECK(ranking.order.empty());
    CHECK(ranking.not_ranked.size() == 1);
}

TEST_CASE("the sample plant: every segment is ranked or listed as not ranked") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    std::set<std::uint32_t> seen{ranking.segment_rows.begin(), ranking.segment_rows.end()};
    for (const NotRanked& left : ranking.not_ranked) seen.insert(left.segment_row);
    CHECK(seen.size() == plant.segments.rows());
    CHECK(ranking.rows() + ranking.not_ranked.size() == plant.segments.rows());
}

}  // namespace
}  // namespace lagline
