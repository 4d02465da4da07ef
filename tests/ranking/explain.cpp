#include "ranking/explain.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>
#include <string_view>
#include <tuple>

#include "support/columns.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

// What explain marks as assumed, each once, however many quantities it goes into.
std::set<std::string> marked(const Explanation& told) {
    std::set<std::string> keys;
    for (const ExplainedQuantity& quantity : told.quantities) {
        for (const ExplainedInput& input : quantity.inputs) {
            if (!input.is_quantity && is_assumption(input.state)) keys.insert(input.key);
        }
    }
    return keys;
}

Explanation explained(const Plant& plant, const Ranking& ranking, std::string_view segment) {
    return explain(plant, published_rules(), ranking, find_row(plant, ranking, segment).value());
}

const ExplainedQuantity& quantity_of(const Explanation& told, std::string_view key) {
    return *std::ranges::find_if(told.quantities,
                                 [&](const ExplainedQuantity& q) { return q.info->key == key; });
}

const ExplainedInput& input_of(const Explanation& told, std::string_view quantity,
                               std::string_view key) {
    const auto& inputs = quantity_of(told, quantity).inputs;
    return *std::ranges::find(inputs, key, &ExplainedInput::key);
}

TEST_CASE("sample plant: every number and word that explain tells is the column's, every row") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    for (std::size_t rank = 0; rank < ranking.rows(); ++rank) {
        const std::uint32_t row = ranking.order[rank];
        const Explanation told = explain(plant, published_rules(), ranking, row);
        CAPTURE(told.segment);
        std::vector<ColumnView> columns = ranking.views();
        std::erase_if(columns, [&](const ColumnView& column) { return !column.covers(row); });
        REQUIRE(told.rank == rank + 1);
        REQUIRE(told.of == ranking.rows());
        REQUIRE(told.quantities.size() == columns.size());
        for (std::size_t i = 0; i < columns.size(); ++i) {
            const ExplainedQuantity& quantity = told.quantities[i];
            CAPTURE(quantity.info->key);
            REQUIRE(quantity.info == columns[i].info);
            if (columns[i].codes.empty()) {
                REQUIRE(quantity.number == columns[i].number(row));
            } else {
                REQUIRE_FALSE(quantity.number.has_value());
                REQUIRE(quantity.word == published_rules()
                                             .vocabulary(columns[i].info->words)
                                             .words[columns[i].code(row)]
                                             .key);
            }
        }
        REQUIRE(told.assumptions == ranking.assumptions[row]);
        REQUIRE(told.assumptions == marked(told).size());
    }
}

TEST_CASE("assumptions: none where everything is given, one for each column left empty") {
    SmallPlant small{
        .segments = {segment_cells("full"), segment_cells("bare", {{"driver", ""},
                                                                   {"pooling", ""},
                                                                   {"yield_strength", ""},
                                                                   {"coating_date", ""},
                                                                   {"in_service", "2005"}})}};
    small.description.management_score_percent = 50.0;
    const Plant plant = assemble(small, published_rules());
    const Ranking ranking = rank(plant, published_rules());
    CHECK(explained(plant, ranking, "full").assumptions == 0);
    const Explanation bare = explained(plant, ranking, "bare");
    CHECK(bare.assumptions == 5);
    CHECK(marked(bare) == std::set<std::string>{"driver", "pooling", "yield_strength",
                                                "coating_date", "in_service"});
}

TEST_CASE(
    "assumptions: the count is what explain marks, also for what stands in no segment column") {
    SmallPlant small{.segments = {segment_cells("S-1"), segment_cells("S-2")}};
    small.inspections = {inspection_cells("S-2", "2015", {{"least_thickness", "6 mm"}})};
    const Plant plant = assemble(small, published_rules());
    const Ranking ranking = rank(plant, published_rules());
    for (const std::string_view name : {"S-1", "S-2"}) {
        CAPTURE(name);
        const Explanation told = explained(plant, ranking, name);
        CHECK(told.assumptions == marked(told).size());
        CHECK(marked(told).contains("management_score"));
    }
    CHECK(marked(explained(plant, ranking, "S-2")).contains("date"));
    CHECK(explained(plant, ranking, "S-2").assumptions == 2);
}

TEST_CASE("explain tells an override: what it replaced, and why") {
    SmallPlant small{.segments = {segment_cells("S-1", {{"driver", "mild"}})}};
    small.overrides = {{{"segment", "S-1"},
                        {"quantity", "driver"},
                        {"value", "severe"},
                        {"reason", "deluge head above"},
                        {"who", "A. Person"},
                        {"when", "2024-05-01"},
                        {"until", ""}}};
    const Plant plant = assemble(small, published_rules());
    const Ranking ranking = rank(plant, published_rules());
    const Explanation told = explained(plant, ranking, "S-1");
    CHECK(quantity_of(told, "driver").word == "severe");
    const ExplainedInput& driver = input_of(told, "driver", "driver");
    CHECK(driver.state == CellState::overridden);
    CHECK(driver.value == "severe");
    CHECK(driver.replaced == "mild");
    CHECK(driver.reason == "deluge head above");
    CHECK(driver.place.file == "overrides.csv");
    CHECK(driver.place.line == 2);
}

TEST_CASE("explain tells the inspections, their use, and those that came too late") {
    SmallPlant small{.segments = {segment_cells("S-1")}};
    small.inspections = {
        inspection_cells("S-1", "2026-01-01", {{"least_thickness", "4 mm"}}),
        inspection_cells("S-1", "2015-01-01", {{"least_thickness", "6 mm"}}),
        inspection_cells("S-1", "2018-01-01", {{"rust_grade", "2"}, {"coverage", "60 %"}})};
    const Plant plant = assemble(small, published_rules());
    const Ranking ranking = rank(plant, published_rules());
    const Explanation told = explained(plant, ranking, "S-1");
    REQUIRE(told.inspections.size() == 3);
    const auto& [first, second, third] =
        std::tie(told.inspections[0], told.inspections[1], told.inspections[2]);
    CHECK(to_string(first.date) == "2015-01-01");
    CHECK(first.effectiveness == "A");
    CHECK(first.gave_wall);
    CHECK_FALSE(first.found_coating_failed);
    CHECK(second.effectiveness == "B");
    CHECK(second.found_coating_failed);
    CHECK_FALSE(second.gave_wall);
    CHECK(third.after_rank_date);
    CHECK_FALSE(third.gave_wall);
    CHECK(third.place.line == 2);
    CHECK(quantity_of(told, "inspections_a").inputs.size() == 1);
    CHECK(input_of(told, "wall_thickness", "least_thickness").value == "6 mm");
    CHECK(input_of(told, "coating_failed", "rust_grade").value == "2");
}

TEST_CASE("explain tells the rule by which the reading that gave the wall was accepted") {
    SmallPlant small{.segments = {segment_cells("S-1"), segment_cells("S-2")}};
    small.inspections = {inspection_cells("S-1", "2015-01-01", {{"least_thickness", "6 mm"}})};
    const Plant plant = assemble(small, published_rules());
    const Ranking ranking = rank(plant, published_rules());
    const Explanation read = explained(plant, ranking, "S-1");
    const auto& rules = quantity_of(read, "wall_thickness").rules;
    const auto accepted = std::ranges::find_if(
        rules, [](const ExplainedRule& rule) { return rule.table->name == "reading_accepted"; });
    REQUIRE(accepted != rules.end());
    CHECK(accepted->entry->key == "A");
    CHECK(accepted->entry->word == "yes");
    // What made it A.
    const auto classed = std::ranges::find_if(rules, [](const ExplainedRule& rule) {
        return rule.table->name == "inspection_effectiveness";
    });
    REQUIRE(classed != rules.end());
    CHECK(classed->entry->word == "A");
    // Where the nominal wall stands, no reading was accepted.
    const Explanation unread = explained(plant, ranking, "S-2");
    CHECK(quantity_of(unread, "wall_thickness").rules.empty());
}

TEST_CASE("every table that a quantity says it reads is told, where it was read") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    std::set<std::string> told_tables;
    for (std::uint32_t row = 0; row < ranking.rows(); ++row) {
        const Explanation told = explain(plant, published_rules(), ranking, row);
        for (const ExplainedQuantity& quantity : told.quantities) {
            for (const ExplainedRule& rule : quantity.rules) told_tables.insert(rule.table->name);
        }
    }
    for (const TableNeed& need : ranking_needs(published_rules())) {
        CAPTURE(need.name);
        // The choice of the mechanism is no quantity, the criteria belong to the forecast; two
        // mechanisms have a test of their own; a strength by table is told as the default of its
        // cell, with the place of the table's entry.
        const bool told_elsewhere =
            need.name == "material_family" || need.name == "wall_loss_of_family" ||
            need.name == "mechanism_combination" || need.name.ends_with("_criterion") ||
            find_field(segment_fields(), need.name).has_value() ||
            need.name == "management_score" ||  // the sample plant gives its score
            need.name == "service_hazard";      // told in the cautions
        if (told_elsewhere) continue;
        CHECK(told_tables.contains(std::string{need.name}));
    }
}

TEST_CASE("find_row: a segment that is not there or not ranked has none") {
    const Plant plant =
        assemble({.segments = {segment_cells("A-1", {{"material", "duplex_stainless"}}),
                               segment_cells("C-1")}},
                 published_rules());
    const Ranking ranking = rank(plant, published_rules());
    CHECK(find_row(plant, ranking, "C-1") == 0U);
    CHECK_FALSE(find_row(plant, ranking, "A-1").has_value());
    CHECK_FALSE(find_row(plant, ranking, "X-1").has_value());
}

}  // namespace
}  // namespace lagline
