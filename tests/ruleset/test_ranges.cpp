// Ranges of the numbers of tables.
#include <doctest/doctest.h>

#include <cmath>

#include "rule_folder.h"

namespace lagline {
namespace {

const std::string site = "ruleset: {name: site, meaning: an invented plant, based_on: base}\n";
const std::string end = ", source: {id: doc, where: t}, basis: published}\n";

std::string loaded_table(const std::string& table) {
    const RuleFolder folder;
    return summary(load_tables(folder, "tables:\n  t: {" + table + end).report);
}

TEST_CASE("every numeric table of the shipped sets states its range, and keeps to it") {
    for (const auto* name : {"published", "extended"}) {
        CAPTURE(name);
        const auto loaded = load_rules(LAGLINE_SOURCE_DIR "/rules", name);
        INFO(full(loaded.report));
        REQUIRE(loaded.rules.has_value());
        std::size_t numbers = 0;
        for (const auto& line : all_entries(*loaded.rules)) {
            // A distribution is of the cells of a column, whose range is that of the column.
            if (loaded.rules->distributions.contains(line.table->name)) continue;
            if (!line.table->gives.empty()) continue;
            CAPTURE(line.table->name);
            CAPTURE(line.entry->key);
            CHECK(line.table->range_stated);
            REQUIRE(line.table->range.has_value());
            CHECK(line.table->range->holds(line.entry->value));
            CHECK(std::isfinite(line.table->range->least));
            CHECK(std::isfinite(line.table->range->most));
            CHECK_FALSE(line.table->range->text.empty());
            ++numbers;
        }
        CHECK(numbers > 100);
    }
}

TEST_CASE("a factor of a shipped set is above 0 and no more than 100") {
    const auto loaded = load_rules(LAGLINE_SOURCE_DIR "/rules", "extended");
    REQUIRE(loaded.rules.has_value());
    for (const auto* name : {"insulation_factor", "complexity_factor", "condition_factor",
                             "pooling_factor", "interface_factor"}) {
        CAPTURE(name);
        const auto& range = loaded.rules->lookup(name).info.range;
        CHECK(range->least > 0.0);
        CHECK(range->most == 100.0);
    }
    CHECK(loaded.rules->grid("prior_probability").info.range->most == 1.0);
    CHECK(loaded.rules->curve("base_rate").info.range->most == doctest::Approx(50.8));
}

TEST_CASE("a number outside the range of its table is refused where it stands") {
    const std::string head = "kind: value, meaning: m, unit: mm, ";
    CHECK(loaded_table(head + "range: [1, 5], value: 2").empty());
    CHECK(loaded_table(head + "range: [1, 5], value: 5").empty());
    CHECK(loaded_table(head + "range: [1, 5], value: 5.1") == "out-of-range 2:64");
    CHECK(loaded_table(head + "range: [1, 5], value: -2") == "out-of-range 2:64");
    CHECK(loaded_table(head + "range: [5, 1], value: 2") == "out-of-range 2:49");
    CHECK(loaded_table(head + "range: 5, value: 2") == "yaml-shape 2:49");
    CHECK(loaded_table(head + "range: [1, .inf], value: 2") == "not-a-number 2:53");
    CHECK(loaded_table("kind: value, meaning: m, gives: grade, range: [0, 1], value: good") ==
          "contradiction 2:53");
    // Without a range of its own, all that the dimension allows.
    CHECK(loaded_table(head + "value: -1") == "out-of-range 2:49");
    CHECK(loaded_table("kind: value, meaning: m, unit: mpy, value: 3000") == "out-of-range 2:50");
    CHECK(loaded_table("kind: value, meaning: m, unit: degC, value: -300") == "out-of-range 2:51");
    CHECK(loaded_table("kind: value, meaning: m, unit: y, value: 1e308") == "out-of-range 2:48");
    CHECK(loaded_table("kind: value, meaning: m, unit: \"-\", value: 1e308") ==
          "out-of-range 2:50");
}

TEST_CASE("an overlay keeps to the range of the table below") {
    const RuleFolder folder;
    const std::string changes = site + "changes:\n";
    const auto told = [&](const std::string& change) {
        return summary(load_overlay(folder, changes + "  - {" + change + ", reason: r}\n").report);
    };
    CHECK(told("table: limit, to: 3").empty());
    CHECK(told("table: limit, to: -3") == "out-of-range 3:24");
    CHECK(told("table: limit, to: 1e308") == "out-of-range 3:24");
    CHECK(told("table: limit, replace: {kind: value, meaning: m, unit: mm, range: [0, 9], "
               "value: 3}") == "contradiction 3:72");
    const auto loaded = load_overlay(
        folder, changes +
                    "  - {table: limit, replace: {kind: value, meaning: m, unit: in, value: 1}, "
                    "reason: r}\n");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    CHECK(loaded.rules->value("limit").info.range->text == "0 to 1e+09 mm");
}

TEST_CASE("a site factor is a factor on the rate: not 0, not negative, not thousands") {
    const RuleFolder folder;
    for (const auto* factor : {"0", "-1", "1e9", "1e308", ".nan"}) {
        CAPTURE(factor);
        const auto loaded = load_overlay(
            folder, site +
                        "site_factors:\n  f: {column: area, meaning: m, otherwise: 1, basis: site, "
                        "reason: r, entries: {north: " +
                        std::string{factor} + "}}\n");
        CHECK(loaded.report.errors() == 1);
        CHECK(loaded.report.diagnostics().front().where.line == 3);
    }
}

}  // namespace
}  // namespace lagline
