#include <doctest/doctest.h>

#include <array>

#include "rule_folder.h"

namespace lagline {
namespace {

TEST_CASE("rules that give what is needed raise nothing") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, small_tables);
    REQUIRE(loaded.rules.has_value());
    const std::array needs{
        TableNeed{"limit", TableKind::value, Dimension::length, {}, {}, {}, {}},
        TableNeed{"factor", TableKind::lookup, Dimension::number, "colour", {}, {}, {}},
        TableNeed{"rate",
                  TableKind::curves,
                  Dimension::corrosion_rate,
                  "colour",
                  {},
                  "metal_temperature",
                  {}},
        TableNeed{"mark", TableKind::bands, Dimension::number, "colour", {}, "coverage", "grade"},
        TableNeed{"table_of_two", TableKind::grid, Dimension::number, "grade", "colour", {}, {}},
    };
    const auto report = check_needs(*loaded.rules, needs);
    INFO(full(report));
    CHECK(report.diagnostics().empty());
}

TEST_CASE("a table that is missing, different or not needed is reported") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, small_tables);
    REQUIRE(loaded.rules.has_value());
    const std::array needs{
        TableNeed{"limits", TableKind::value, Dimension::length, {}, {}, {}, {}},
        TableNeed{"factor", TableKind::lookup, Dimension::length, "grade", {}, {}, {}},
        TableNeed{
            "rate", TableKind::bands, Dimension::corrosion_rate, "colour", {}, "coverage", {}},
        TableNeed{"mark", TableKind::bands, Dimension::number, "colour", "grade", "coverage", {}},
    };
    const auto report = check_needs(*loaded.rules, needs);
    INFO(full(report));
    CHECK(summary(report) ==
          "missing-table 0:0, unknown-key 2:3, contradiction 3:3, unit-mismatch 3:3, "
          "contradiction 14:3, contradiction 14:3, contradiction 27:3, contradiction 27:3, "
          "unknown-key 39:3");
    CHECK(report.warnings() == 2);
    CHECK(report.diagnostics()[0].mend == "did you mean 'limit'?");
    CHECK(report.diagnostics()[0].subject == "base -> limits");
}

TEST_CASE("psi is a stress or a pressure, as needed; K is not both") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, R"(tables:
  a: {kind: value, meaning: m, unit: psi, value: 20000, basis: site}
  b: {kind: value, meaning: m, unit: K, value: 300, basis: site}
)");
    REQUIRE(loaded.rules.has_value());
    const auto check = [&](Dimension a, Dimension b) {
        const std::array needs{TableNeed{"a", TableKind::value, a, {}, {}, {}, {}},
                               TableNeed{"b", TableKind::value, b, {}, {}, {}, {}}};
        return summary(check_needs(*loaded.rules, needs));
    };
    CHECK(check(Dimension::stress, Dimension::temperature).empty());
    CHECK(check(Dimension::pressure, Dimension::temperature).empty());
    CHECK(check(Dimension::length, Dimension::temperature_difference) ==
          "unit-mismatch 2:3, unit-mismatch 3:3");
}

}  // namespace
}  // namespace lagline
