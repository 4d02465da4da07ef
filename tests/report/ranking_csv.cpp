#include "report/ranking_csv.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <bit>
#include <charconv>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "report/output_table.h"
#include "report/ranking_rows.h"
#include "support/columns.h"
#include "support/csv_records.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

using Records = std::vector<std::vector<std::string>>;

std::size_t position(const Records& records, const std::string& heading) {
    const auto& headings = records.front();
    const auto at = std::ranges::find(headings, heading);
    REQUIRE(at != headings.end());
    return static_cast<std::size_t>(at - headings.begin());
}

double number_in(const std::string& text) {
    double value = 0.0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
    REQUIRE(read.ptr == text.data() + text.size());
    return value;
}

TEST_CASE("the heading holds every column that readers of the file rely on, each once") {
    const Plant plant = assemble({.segments = {segment_cells("S-1")}}, published_rules());
    const auto csv = ranking_csv(plant, published_rules(), rank(plant, published_rules()), 0);
    const std::vector<std::string> headings = csv_records(csv).front();
    for (const std::string_view heading : {"rank",
                                           "segment",
                                           "line",
                                           "unit",
                                           "mechanism",
                                           "metal_temperature [degC]",
                                           "driver",
                                           "base_rate [mm/y]",
                                           "insulation_factor",
                                           "complexity_factor",
                                           "condition_factor",
                                           "pooling_factor",
                                           "interface_factor",
                                           "corrosion_rate [mm/y]",
                                           "coating_credit [y]",
                                           "exposed_time [y]",
                                           "wall_thickness [mm]",
                                           "wall_fraction",
                                           "minimum_thickness [mm]",
                                           "strength_ratio",
                                           "state_probability_1",
                                           "state_probability_2",
                                           "state_probability_3",
                                           "reliability_index_1",
                                           "reliability_index_2",
                                           "reliability_index_3",
                                           "damage_factor",
                                           "probability_of_failure [1/y]",
                                           "consequence_category",
                                           "risk_category",
                                           "risk",
                                           "assumptions"}) {
        CAPTURE(heading);
        CHECK(std::ranges::count(headings, heading) == 1);
    }
    std::vector<std::string> sorted = headings;
    std::ranges::sort(sorted);
    CHECK(std::ranges::adjacent_find(sorted) == sorted.end());
}

TEST_CASE("sample plant: every cell of the CSV is its column's, numbers to the last bit") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    const Records records = csv_records(ranking_csv(plant, published_rules(), ranking, 0));
    REQUIRE(records.size() == ranking.rows() + 1);
    for (const ColumnView& column : ranking.views()) {
        const std::size_t at = position(records, csv_heading(*column.info));
        CAPTURE(column.info->key);
        for (std::size_t rank = 0; rank < ranking.rows(); ++rank) {
            const std::uint32_t row = ranking.order[rank];
            const std::string& cell = records[rank + 1].at(at);
            if (!column.covers(row)) {
                REQUIRE(cell.empty());  // a column of the other mechanism
            } else if (column.codes.empty()) {
                REQUIRE(std::bit_cast<std::uint64_t>(number_in(cell)) ==
                        std::bit_cast<std::uint64_t>(column.number(row)));
            } else {
                REQUIRE(
                    cell ==
                    published_rules().vocabulary(column.info->words).words[column.code(row)].key);
            }
        }
    }
    const std::size_t segment = position(records, "segment");
    const std::size_t rank_at = position(records, "rank");
    const std::size_t assumptions = position(records, "assumptions");
    const auto names = plant.segments.texts(SegmentField::segment);
    for (std::size_t rank = 0; rank < ranking.rows(); ++rank) {
        const std::uint32_t row = ranking.order[rank];
        const auto& record = records[rank + 1];
        REQUIRE(record.size() == records.front().size());
        REQUIRE(record[segment] == names[ranking.segment_rows[row]]);
        REQUIRE(record[rank_at] == std::to_string(rank + 1));
        REQUIRE(record[assumptions] == std::to_string(ranking.assumptions[row]));
    }
}

TEST_CASE("the first rows of the CSV are those of the whole") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    const std::string all = ranking_csv(plant, published_rules(), ranking, 0);
    const std::string ten = ranking_csv(plant, published_rules(), ranking, 10);
    CHECK(csv_records(ten).size() == 11);
    CHECK(all.starts_with(ten));
    CHECK((ranking_csv(plant, published_rules(), ranking, 1000000) == all));
}

TEST_CASE("names with commas, quotes and formulas come through as text") {
    const Plant plant =
        assemble({.segments = {segment_cells("=1+1", {{"line", "6\"-P,101"}, {"unit", "@U"}})}},
                 published_rules());
    const Records records =
        csv_records(ranking_csv(plant, published_rules(), rank(plant, published_rules()), 0));
    REQUIRE(records.size() == 2);
    CHECK(records[1].size() == records[0].size());
    CHECK(records[1][1] == "'=1+1");
    CHECK(records[1][2] == "6\"-P,101");
    CHECK(records[1][3] == "'@U");
}

/// A table of one count.
class CountTable : public OutputTable {
  public:
    [[nodiscard]] std::vector<OutputColumn> columns() const override {
        return {{"rank", CellKind::count}};
    }
    [[nodiscard]] std::size_t rows() const override { return 1; }
    void write_row(std::size_t /*row*/, TableCells& cells) const override { cells.count(100'000); }
};

TEST_CASE("a count is written in digits: readers of ranks know no exponent") {
    CHECK(csv_of(CountTable{}) == "rank\n100000\n");
}

TEST_CASE("money is in the plant's currency, which has a column of its own") {
    SmallPlant small{.segments = {segment_cells("S-1", {{"leak_cost", "100000 USD"}})}};
    small.description.currency = "EUR";
    small.description.exchange["USD"] = 0.8;  // invented
    const Plant plant = assemble(small, published_rules());
    const Records records =
        csv_records(ranking_csv(plant, published_rules(), rank(plant, published_rules()), 0));
    CHECK(records[1][position(records, "currency")] == "EUR");
    CHECK(records[1][position(records, "leak_cost")] == "80000");
}

}  // namespace
}  // namespace lagline
