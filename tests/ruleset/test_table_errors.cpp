#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "rule_folder.h"

namespace lagline {
namespace {

/// A table with one problem.  Lines count from the `tables:` above it, which is line 1.
struct Case {
    std::string what;
    std::string table;
    std::string expected;
};

void check_cases(const std::vector<Case>& cases) {
    for (const auto& c : cases) {
        const RuleFolder folder;
        const auto loaded = load_tables(folder, "tables:\n" + c.table);
        CAPTURE(c.what);
        INFO(full(loaded.report));
        CHECK(summary(loaded.report) == c.expected);
        CHECK(loaded.rules.has_value() == loaded.report.ok());
    }
}

TEST_CASE("problems of what a table says about itself") {
    check_cases({
        {"unknown key",
         "  t: {kind: value, meaning: m, units: mm, unit: mm, value: 1, basis: site}\n",
         "unknown-key 2:32"},
        {"no kind", "  t: {meaning: m, unit: mm, value: 1, basis: site}\n", "missing-key 2:6"},
        {"unknown kind", "  t: {kind: curve, meaning: m}\n", "unknown-word 2:13"},
        {"not a map", "  t: 3\n", "yaml-shape 2:6"},
        {"no meaning", "  t: {kind: value, unit: mm, value: 1, basis: site}\n", "missing-key 2:6"},
        {"empty meaning", "  t: {kind: value, meaning: , unit: mm, value: 1, basis: site}\n",
         "missing-key 2:20"},
        {"no unit", "  t: {kind: value, meaning: m, value: 1, basis: site}\n", "missing-unit 2:6"},
        {"unknown unit", "  t: {kind: value, meaning: m, unit: furlong, value: 1, basis: site}\n",
         "unknown-unit 2:38"},
        {"no value", "  t: {kind: value, meaning: m, unit: mm, basis: site}\n", "missing-key 2:6"},
        {"a list", "  t: {kind: value, meaning: m, unit: mm, value: [1], basis: site}\n",
         "yaml-shape 2:49"},
        {"not a number", "  t: {kind: value, meaning: m, unit: mm, value: two, basis: site}\n",
         "not-a-number 2:49"},
        {"comma decimal", "  t: {kind: value, meaning: m, unit: mm, value: \"1,5\", basis: site}\n",
         "not-a-number 2:49"},
        {"a unit in the value",
         "  t: {kind: value, meaning: m, unit: mm, value: 1 mm, basis: site}\n",
         "not-a-number 2:49"},
        {"no basis", "  t: {kind: value, meaning: m, unit: mm, value: 1}\n", "missing-key 2:6"},
        {"bad basis", "  t: {kind: value, meaning: m, unit: mm, value: 1, basis: publishd}\n",
         "unknown-word 2:59"},
        {"published without source",
         "  t: {kind: value, meaning: m, unit: mm, value: 1, basis: published}\n",
         "missing-source 2:59"},
        {"dangling source",
         "  t: {kind: value, meaning: m, unit: mm, value: 1, basis: site, source: {id: dco, where: "
         "p}}\n",
         "dangling-source 2:78"},
        {"source without where",
         "  t: {kind: value, meaning: m, unit: mm, value: 1, basis: site, source: {id: doc}}\n",
         "missing-key 2:73"},
    });
}

TEST_CASE("problems of vocabularies and words") {
    check_cases({
        {"unknown vocabulary",
         "  t: {kind: lookup, meaning: m, by: color, unit: \"-\", entries: {}, basis: site}\n",
         "unknown-word 2:37"},
        {"missing, unknown and doubled words",
         "  t:\n    kind: lookup\n    meaning: m\n    by: colour\n    unit: \"-\"\n    entries:\n"
         "      red: 1\n      gren: 2\n      red: 3\n    basis: site\n",
         "missing-entry 8:7, unknown-word 9:7, duplicate-key 10:7"},
        {"unknown word given",
         "  t: {kind: lookup, meaning: m, by: grade, gives: colour, basis: site,\n"
         "      entries: {good: pink, bad: red}}\n",
         "unknown-word 3:23"},
        {"unit and gives",
         "  t: {kind: lookup, meaning: m, by: grade, gives: colour, unit: mm, basis: site,\n"
         "      entries: {good: blue, bad: red}}\n",
         "contradiction 2:65"},
        {"entry key",
         "  t: {kind: lookup, meaning: m, by: grade, unit: mm, basis: site,\n"
         "      entries: {good: {value: 1, nota: n}, bad: {note: 3}}}\n",
         "unknown-key 3:34, missing-key 3:49"},
        {"entry without the source its basis needs",
         "  t: {kind: lookup, meaning: m, by: grade, unit: mm, basis: site,\n"
         "      entries: {good: {value: 1, basis: recalled}, bad: 2}}\n",
         "missing-source 3:41"},
        {"grid rows and columns",
         "  t:\n    kind: grid\n    meaning: m\n    by: grade\n    columns: colour\n    unit: "
         "\"-\"\n"
         "    rows:\n      good: {red: 1, green: 2}\n      bed: {red: 1, green: 2, blue: 3}\n"
         "    basis: site\n",
         "missing-entry 9:7, missing-entry 9:13, unknown-word 10:7"},
        {"no columns",
         "  t: {kind: grid, meaning: m, by: grade, unit: mm, rows: {}, basis: site}\n",
         "missing-key 2:6"},
    });
}

const std::string curve =
    "  t:\n    kind: curves\n    meaning: m\n    by: grade\n    unit: mpy\n"
    "    axis: {quantity: metal_temperature, unit: degF}\n    basis: site\n";

TEST_CASE("problems of curves") {
    const auto with = [](const char* rest) { return curve + rest; };
    const auto unsorted = with(
        "    points:\n      - {at: 10, good: 1, bad: 2}\n      - {at: 30, good: 1, bad: 2}\n"
        "      - {at: 20, good: 1, bad: 2}\n      - {at: 30, good: 1, bad: 2}\n"
        "      - {at: 30, good: 1, bad: 2}\n");
    const auto words =
        with("    points:\n      - {at: 10, good: 1}\n      - {at: 20, good: 1, bat: 2, bad: 2}\n");
    const auto one = with("    points:\n      - {at: 10, good: 1, bad: 2}\n");
    const auto no_at =
        with("    points:\n      - {good: 1, bad: 2}\n      - {at: x, good: 1, bad: 2}\n");
    const auto valid = with(
        "    points: [{at: 10, good: 1, bad: 2}, {at: 20, good: 1, bad: 2}]\n    valid: [5, 25]\n");
    const auto swapped = with(
        "    points: [{at: 10, good: 1, bad: 2}, {at: 20, good: 1, bad: 2}]\n    valid: [20, "
        "10]\n");
    const auto one_end = with(
        "    points: [{at: 10, good: 1, bad: 2}, {at: 20, good: 1, bad: 2}]\n    valid: [20]\n");
    const auto outside = with(
        "    points: [{at: 10, good: 1, bad: 2}, {at: 20, good: 1, bad: 2}]\n    outside: stop\n");
    const auto sides = with(
        "    points: [{at: 10, good: 1, bad: 2}, {at: 20, good: 1, bad: 2}]\n"
        "    outside: {under: zero, above: hold}\n");
    check_cases({
        {"unsorted and doubled points", unsorted, "unsorted-points 12:14, unsorted-points 14:14"},
        {"words", words, "missing-entry 10:9, unknown-word 11:27"},
        {"one point", one, "missing-entry 10:7"},
        {"no place", no_at, "missing-key 10:9, not-a-number 11:14"},
        {"valid beyond the points", valid, "band-gap 10:13, band-gap 10:16"},
        {"valid the wrong way round", swapped, "out-of-range 10:12"},
        {"valid with one end", one_end, "yaml-shape 10:12"},
        {"unknown outside", outside, "unknown-word 10:14"},
        {"unknown side", sides, "unknown-key 10:15, unknown-word 10:35"},
        {"axis of a wrong dimension",
         "  t: {kind: curves, meaning: m, unit: mpy, basis: site,\n"
         "      axis: {quantity: metal_temperature, unit: psig},\n"
         "      points: [{at: 1, is: 1}, {at: 2, is: 1}]}\n",
         "unit-mismatch 3:49"},
        {"axis without unit",
         "  t: {kind: curves, meaning: m, unit: mpy, basis: site, axis: {quantity: "
         "metal_temperature},\n"
         "      points: [{at: 1, is: 1}, {at: 2, is: 1}]}\n",
         "missing-unit 2:63"},
        {"no axis",
         "  t: {kind: curves, meaning: m, unit: mpy, basis: site, points: [{at: 1, is: 1}, {at: 2, "
         "is: 1}]}\n",
         "missing-key 2:6"},
    });
}

const std::string band =
    "  t:\n    kind: bands\n    meaning: m\n    unit: mm\n"
    "    axis: {quantity: coverage, unit: \"%\"}\n    basis: site\n    bands:\n";

TEST_CASE("problems of bands") {
    const auto with = [](const char* rest) { return band + rest; };
    const auto order =
        with("      - {upto: 10, is: 1}\n      - {upto: 5, is: 1}\n      - {upto: 10, is: 1}\n");
    const auto twice = with("      - {upto: 10, is: 1}\n      - {below: 10, is: 1}\n");
    const auto open = with("      - {above: true, is: 1}\n      - {upto: 10, is: 1}\n");
    const auto ends =
        with("      - {upto: 10, below: 11, is: 1}\n      - {is: 2}\n      - {above: 5, is: 1}\n");
    const auto no_value = with("      - {upto: 10}\n      - {upto: 20, it: 1, is: 2}\n");
    const auto gap = with("      - {upto: 10, is: 1}\n    valid: [0, 20]\n");
    const auto open_gap = with("      - {upto: 10, is: 1}\n    valid: [0, ~]\n");
    const auto end_gap = with("      - {below: 10, is: 1}\n    valid: [0, 10]\n");
    const auto none = with("      []\n");
    check_cases({
        {"not ascending", order, "band-overlap 10:9"},
        {"the same end twice", twice, "band-overlap 10:9"},
        {"after an open band", open, "band-overlap 10:9"},
        {"ends", ends, "contradiction 9:20, missing-key 10:9, yaml-shape 11:17"},
        {"no value", no_value, "missing-key 9:9, unknown-key 10:20"},
        {"valid beyond the bands", gap, "band-gap 10:16"},
        {"valid without end", open_gap, "band-gap 10:16"},
        {"valid to an end that is not in the band", end_gap, "band-gap 10:16"},
        {"no bands", none, "missing-entry 9:7"},
        {"not a pipe size",
         "  t: {kind: bands, meaning: m, unit: mm, basis: site, axis: {quantity: nominal_size, "
         "unit: DN},\n"
         "      bands: [{upto: 77, is: 1}, {upto: wide, is: 1}]}\n",
         "out-of-range 3:22, not-a-number 3:41"},
        {"a word cannot be zero",
         "  t: {kind: bands, meaning: m, gives: grade, basis: site, axis: {quantity: coverage, "
         "unit: \"%\"},\n"
         "      bands: [{upto: 77, is: good}], outside: zero}\n",
         "contradiction 3:47"},
        {"lists by word",
         "  t: {kind: bands, meaning: m, by: grade, unit: mm, basis: site, axis: {quantity: "
         "coverage, unit: \"%\"},\n"
         "      bands: {good: [{upto: 77, is: 1}], bat: []}}\n",
         "missing-entry 3:14, unknown-word 3:42"},
    });
}

TEST_CASE("problems outside tables") {
    const RuleFolder folder;
    const auto code = [&](const char* text) {
        const auto report = load_tables(folder, text).report;
        return summary(report);
    };
    CHECK(code("table: {}\n") == "unknown-key 1:1");
    CHECK(code("sources: {x: {title: t}}\n") == "missing-key 1:14");
    CHECK(code("sources: {doc: {title: t, edition: e}}\n") == "duplicate-key 1:11");
    CHECK(code("words: {colour: {red: r}}\n") == "duplicate-key 1:18");
    CHECK(code("words: {w: {at: x}}\n") == "contradiction 1:13");
    CHECK(code("words: {yes_no: {no: n, yes: y}}\n").empty());
    CHECK(code("words: {yes_no: {no: n, yes: y, maybe: m}}\n") == "contradiction 1:9");
    CHECK(code("words: {w: {}}\n") == "missing-entry 1:12");
    CHECK(code("defaults: {complexiti: {take: a, reason: r, basis: site}}\n") ==
          "unknown-key 1:12");
    CHECK(code("defaults: {complexity: {take: [a], reason: r, basis: site}}\n") ==
          "yaml-shape 1:31");
    CHECK(code("defaults: {complexity: {take: a, basis: site}}\n") == "missing-reason 1:24");
    CHECK(code("defaults: {complexity: {take: a, reason: r}}\n") == "missing-key 1:24");
    CHECK(code("changes: [{table: t, to: 1, reason: r}]\n") == "contradiction 1:1");
    CHECK(code("site_factors: {f: {column: c, meaning: m, entries: {A: 1}, basis: site}}\n") ==
          "missing-key 1:19");
    CHECK(code("site_factors: {f: {column: c, meaning: m, entries: {A: -1}, otherwise: 1, basis: "
               "site}}\n") == "out-of-range 1:56");
}

TEST_CASE("a table that is in two files of a layer is reported with both places") {
    const RuleFolder folder;
    folder.write("base/head.yaml", small_head);
    const std::string table =
        "tables:\n  t: {kind: value, meaning: m, unit: mm, value: 1, basis: site}\n";
    folder.write("base/one.yaml", table);
    folder.write("base/two.yaml", table);
    const auto loaded = load_rules(folder.root(), "base");
    REQUIRE(summary(loaded.report) == "duplicate-key 2:3");
    const auto& problem = loaded.report.diagnostics()[0];
    CHECK(problem.where.file.ends_with("base/two.yaml"));
    CHECK(problem.found.find("base/one.yaml:2:3") != std::string::npos);
    CHECK(problem.subject == "base -> t");
}

TEST_CASE("the subject names the layer, the table and the entry; the mend guesses what was meant") {
    const RuleFolder folder;
    const auto loaded = load_tables(folder, "tables:\n" + curve +
                                                "    points:\n      - {at: 10, good: 1, bad: 2}\n"
                                                "      - {at: 160, good: x, bda: 2}\n");
    REQUIRE(summary(loaded.report) == "missing-entry 11:9, not-a-number 11:25, unknown-word 11:28");
    CHECK(loaded.report.diagnostics()[1].subject == "base -> t -> 160 degF -> good");
    CHECK(loaded.report.diagnostics()[2].mend == "did you mean 'bad'?");
}

}  // namespace
}  // namespace lagline
