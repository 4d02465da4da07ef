// The sample plant under the extended rules.
#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <stdexcept>
#include <string>

#include "extended/made_plant.h"
#include "ranking/explain.h"
#include "report/ranking_csv.h"

namespace lagline {
namespace {

const RuleSet& rules() { return shipped_extended(); }

const Plant& sample() {
    static const Plant plant = [] {
        const Date at = make_date(2027, 4, 5);
        const auto folder = std::filesystem::path{LAGLINE_SOURCE_DIR} / "sample-plant" / "plant";
        LoadedPlant loaded = load_plant(folder, rules(), {at, at, {}});
        if (!loaded.plant) throw std::runtime_error(to_text(loaded.report));
        return std::move(*loaded.plant);
    }();
    return plant;
}

TEST_CASE("every number of the sample plant is finite, every word one of its vocabulary") {
    const Ranking ranking = rank(sample(), rules());
    CHECK(ranking.mechanism_rows.wall_loss > 500);
    CHECK(ranking.mechanism_rows.cracking > 50);
    CHECK(ranking.not_ranked.empty());
    for (const ColumnView& column : ranking.views()) {
        CAPTURE(column.info->key);
        for (std::size_t row = 0; row < ranking.rows(); ++row) {
            if (!column.covers(row)) continue;
            CAPTURE(row);
            if (column.is_words()) {
                CHECK(column.code(row) < rules().vocabulary(column.info->words).words.size());
            } else {
                CHECK(std::isfinite(column.number(row)));
            }
        }
    }
    const auto total = ranking.coating.credit_years + ranking.coating.exposed_time_years;
    CHECK((ranking.coating.exposed_time_years >= 0.0).all());
    CHECK((total >= 0.0).all());
}

TEST_CASE("the same bytes on one thread and two, in blocks of 1, 7 and 1024 rows") {
    const auto bytes = [](unsigned threads, std::size_t block_rows) {
        const WorkPlan plan{block_rows, threads, nullptr};
        return ranking_csv(sample(), rules(), rank(sample(), rules(), plan), 0, plan);
    };
    const std::string first = bytes(1, 1024);
    CHECK(first.size() > 100'000);
    for (const unsigned threads : {1U, 2U}) {
        for (const std::size_t block_rows : {1UL, 7UL, 1024UL}) {
            CAPTURE(threads);
            CAPTURE(block_rows);
            CHECK((bytes(threads, block_rows) == first));
        }
    }
}

void explains_its_columns(const Ranking& ranking, std::uint32_t row) {
    const Explanation told = explain(sample(), rules(), ranking, row);
    CAPTURE(told.segment);
    std::size_t covered = 0;
    for (const ColumnView& column : ranking.views()) covered += column.covers(row) ? 1U : 0U;
    CHECK(told.quantities.size() == covered);
    for (const ExplainedQuantity& quantity : told.quantities) {
        CAPTURE(quantity.info->key);
        bool seen = false;
        for (const ColumnView& column : ranking.views()) {
            if (column.info != quantity.info || !column.covers(row)) continue;
            seen = true;
            if (column.is_words()) {
                const Vocabulary& words = rules().vocabulary(column.info->words);
                CHECK(quantity.word == words.words[column.code(row)].key);
            } else {
                REQUIRE(quantity.number.has_value());
                CHECK(*quantity.number == column.number(row));
            }
        }
        CHECK(seen);
    }
}

TEST_CASE("explain tells the numbers of the columns, for each mechanism and a dead leg") {
    const Ranking ranking = rank(sample(), rules());
    const auto wall_rows = static_cast<std::uint32_t>(ranking.mechanism_rows.wall_loss);
    explains_its_columns(ranking, 0);
    explains_its_columns(ranking, wall_rows);
    std::uint32_t leg = 0;
    while (leg < wall_rows && ranking.exposure.dead_leg_station_m[leg] == 0.0) ++leg;
    REQUIRE(leg < wall_rows);
    explains_its_columns(ranking, leg);
}

TEST_CASE("explain tells every level of the cycle, shares summing to 1") {
    const Ranking ranking = rank(sample(), rules());
    for (std::uint32_t row = 0; row < ranking.rows(); row += 37) {
        double sum = 0.0;
        for (const ServiceLevel& level : explain(sample(), rules(), ranking, row).levels) {
            sum += level.share;
        }
        CAPTURE(row);
        CHECK(sum == doctest::Approx(1.0).epsilon(1e-12));
    }
}

}  // namespace
}  // namespace lagline
