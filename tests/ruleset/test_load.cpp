#include <doctest/doctest.h>

#include <algorithm>
#include <stdexcept>

#include "rule_folder.h"

namespace lagline {
namespace {

TEST_CASE("a well-formed set loads with values in base units and as printed") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, small_tables);
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    CHECK(loaded.report.diagnostics().empty());
    const auto& rules = *loaded.rules;
    CHECK(rules.name == "base");
    CHECK(rules.meaning == "invented rules for tests");
    CHECK(rules.layers == std::vector<std::string>{"base"});
    CHECK(rules.sources.at("doc").title == "An invented document");
    CHECK(rules.vocabulary("colour").code("blue") == 2);
    CHECK_FALSE(rules.vocabulary("colour").code("violet"));
    CHECK(rules.vocabulary("yes_no").code("yes") == 1);

    CHECK(rules.value("limit").value() == 2.0);
    CHECK(rules.value("limit").info.dimension == Dimension::length);
    const auto& factor = rules.lookup("factor");
    CHECK(factor.value(1) == 2.0);
    CHECK(factor.entries[1].note == "from the margin");
    CHECK(factor.entries[1].basis == Basis::common_practice);
    CHECK(factor.entries[1].source.where == "t2");
    CHECK(factor.entries[0].basis == Basis::recalled);
    CHECK(to_string(factor.entries[2].place).ends_with("base/tables.yaml:11:13"));
    const auto& grid = rules.grid("table_of_two");
    CHECK(grid.at(1, 2).value == doctest::Approx(0.06).epsilon(1e-15));
    CHECK(grid.at(1, 2).printed == 6.0);
    CHECK(grid.at(1, 2).key == "bad, blue");
    CHECK(grid.at(1, 0).note == "the second row");
    CHECK(rules.defaults.at("complexity").text == "average");
    CHECK_THROWS_AS((void)rules.lookup("nothing"), std::out_of_range);
}

TEST_CASE("all entries are listed by table, and in file order within a table") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, small_tables);
    REQUIRE(loaded.rules.has_value());
    const auto lines = all_entries(*loaded.rules);
    CHECK(lines.size() == 1 + 3 + 9 + 5 + 6);
    CHECK(std::ranges::is_sorted(lines, {}, [](const auto& line) { return line.table->name; }));
    CHECK(lines[0].table->name == "factor");
    CHECK(lines[0].entry->key == "red");
    CHECK(lines[2].entry->key == "blue");
    for (const auto& line : lines) CHECK(line.entry->place.line > 0);
}

TEST_CASE("money keeps its printed amount") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, R"(tables:
  cost: {kind: lookup, meaning: m, by: grade, unit: USD, entries: {good: 10000, bad: 2e6}, basis: site}
)");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    const auto& cost = loaded.rules->lookup("cost");
    CHECK(cost.info.dimension == Dimension::money);
    CHECK(cost.info.unit == "USD");
    CHECK(cost.value(0) == 10000.0);
    CHECK(cost.entries[1].printed == 2e6);
}

TEST_CASE("files are read in any folder below, sources and words before what uses them") {
    const RuleFolder folder;
    folder.write("base/a/tables.yaml", small_tables);
    folder.write("base/z.yaml", small_head);
    folder.write("base/.hidden.yaml", "nonsense: [");
    const auto loaded = load_rules(folder.root(), "base");
    INFO(full(loaded.report));
    CHECK(loaded.report.diagnostics().empty());
    CHECK(load_rules(folder.root(), (folder.root() / "base").string()).rules.has_value());
}

TEST_CASE("a byte-order mark and CRLF lines change nothing") {
    const RuleFolder folder;
    std::string text = "\xEF\xBB\xBF";
    for (const char c : small_head) text += c == '\n' ? std::string("\r\n") : std::string(1, c);
    folder.write("base/head.yaml", text);
    const auto loaded = load_rules(folder.root(), "base");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    CHECK(loaded.rules->vocabulary("grade").words[0].place.line == 6);
}

TEST_CASE("checks are kept as text with their places") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, R"(checks:
  - name: one
    source: {id: doc, where: example 1}
    date: 2025-01-01
    plant: {management_score: "50 %"}
    segment: {operating_temperature: 160 degF, nominal_size: NPS 6}
    inspections: [{date: 2024-01-01, technique: strip, coverage: 60 %}]
    expect:
      base_rate: {value: 10 mpy, within: 0.0005}
      risk_category: {value: medium}
)");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    const auto& check = loaded.rules->checks.at(0);
    CHECK(check.name == "one");
    CHECK(check.source.where == "example 1");
    CHECK(check.segment.at(1).key == "nominal_size");
    CHECK(check.segment.at(1).text == "NPS 6");
    CHECK(check.inspections.at(0).at(2).text == "60 %");
    CHECK(check.plant.at(0).text == "50 %");
    CHECK(check.expect.at(0).tolerance == 0.0005);
    CHECK_FALSE(check.expect.at(1).tolerance.has_value());
    CHECK(check.expect.at(1).place.line == 10);
    CHECK(check.expect.at(1).place.column == 7);
}

TEST_CASE("problems of a check are found") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, R"(checks:
  - name: one
    date: soon
    segment: {nominal_sizes: NPS 6}
    inspections: [{techniq: strip}]
    expect: {base_rate: {value: 10 mpy, within: -1}}
  - name: one
    date: 2025
    segment: {line: L1}
)");
    INFO(full(loaded.report));
    CHECK(
        summary(loaded.report) ==
        "not-a-date 3:11, unknown-key 4:15, unknown-key 5:20, out-of-range 6:49, missing-key 7:5, "
        "duplicate-key 7:11");
}

}  // namespace
}  // namespace lagline
