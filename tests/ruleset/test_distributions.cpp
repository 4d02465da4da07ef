#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "rule_folder.h"

namespace lagline {
namespace {

// Words of columns that the cases below use, as no vocabulary is built in.
constexpr std::string_view words = R"(ruleset: {name: base, meaning: invented rules for tests}
sources:
  doc: {title: An invented document, edition: "1"}
words:
  jacket: {tin: "", tar: ""}
  service: {always: "", seldom: ""}
  technique: {look: "", touch: ""}
)";

LoadedRules load(const RuleFolder& folder, const std::string& distributions,
                 const std::string& overlay = "") {
    folder.write("base/head.yaml", words);
    folder.write("base/more.yaml", "distributions:\n" + distributions);
    if (overlay.empty()) return load_rules(folder.root(), "base");
    folder.write("site/site.yaml", overlay);
    return load_rules(folder.root(), "base", folder.root() / "site");
}

const std::string tail = ", meaning: m, reason: r, basis: site}\n";
const std::string jacket_shares =
    "  d: {column: jacket, cell: missing, kind: shares, shares: {tin: 0.25, tar: 0.75}" + tail;

/// A distribution with one problem.  Lines count from the `distributions:` above it, line 1.
struct Case {
    std::string what;
    std::string text;
    std::string expected;
};

void check_cases(const std::vector<Case>& cases) {
    for (const Case& c : cases) {
        const RuleFolder folder;
        const auto loaded = load(folder, c.text);
        CAPTURE(c.what);
        INFO(full(loaded.report));
        CHECK(summary(loaded.report) == c.expected);
        CHECK(loaded.rules.has_value() == loaded.report.ok());
    }
}

TEST_CASE("problems of what a distribution says about itself") {
    check_cases({
        {"no problem", jacket_shares, ""},
        {"unknown key",
         "  d: {column: jacket, cell: missing, kind: point, shres: 1, meaning: m, reason: r, "
         "basis: "
         "site}\n",
         "unknown-key 2:51"},
        {"a key of another kind",
         "  d: {column: jacket, cell: missing, kind: point, unit: mm, meaning: m, reason: r, "
         "basis: "
         "site}\n",
         "unknown-key 2:51"},
        {"unknown kind", "  d: {column: jacket, cell: missing, kind: share" + tail,
         "unknown-word 2:44"},
        {"no reason",
         "  d: {column: jacket, cell: missing, kind: point, meaning: m, basis: site}\n",
         "missing-reason 2:6"},
        {"no basis", "  d: {column: jacket, cell: missing, kind: point, meaning: m, reason: r}\n",
         "missing-key 2:6"},
        {"published without source",
         "  d: {column: jacket, cell: missing, kind: point, meaning: m, reason: r, basis: "
         "published}\n",
         "missing-source 2:81"},
        {"dangling source",
         "  d: {column: jacket, cell: missing, kind: point, source: {id: dco, where: p}" + tail,
         "dangling-source 2:64"},
        {"unknown column", "  d: {column: jaket, cell: missing, kind: point" + tail,
         "unknown-key 2:15"},
        {"unknown cell", "  d: {column: jacket, cell: mising, kind: point" + tail,
         "unknown-word 2:29"},
        {"a kind that does not fit", "  d: {column: length, cell: missing, kind: period" + tail,
         "contradiction 2:44"},
        {"asked by what is no column of words",
         "  d: {column: jacket, cell: missing, kind: point, asked_by: {length: [x]}" + tail,
         "unknown-key 2:62"},
        {"asked by an unknown word",
         "  d: {column: jacket, cell: missing, kind: point, asked_by: {service: [offen]}" + tail,
         "unknown-word 2:72"},
    });
}

TEST_CASE("problems of shares") {
    check_cases({
        {"they do not sum to 1",
         "  d: {column: jacket, cell: missing, kind: shares, shares: {tin: 0.25, tar: 0.7}" + tail,
         "out-of-range 2:60"},
        {"negative",
         "  d: {column: jacket, cell: missing, kind: shares, shares: {tin: 1.25, tar: -0.25}" +
             tail,
         "out-of-range 2:77"},
        {"unknown word",
         "  d: {column: jacket, cell: missing, kind: shares, shares: {tin: 0.25, tan: 0.75}" + tail,
         "unknown-word 2:72"},
        {"neither shares nor bands", "  d: {column: jacket, cell: missing, kind: shares" + tail,
         "missing-key 2:6"},
        {"bands without by_year_of",
         "  d: {column: jacket, cell: missing, kind: shares, bands: [{above: true, tin: 1}]" + tail,
         "missing-key 2:6"},
        {"no open band",
         "  d: {column: jacket, cell: missing, kind: shares, by_year_of: [in_service], bands: "
         "[{below: 1990, tin: 1}]" +
             tail,
         "band-gap 2:85"},
        {"bands out of order",
         "  d: {column: jacket, cell: missing, kind: shares, by_year_of: [in_service], bands: "
         "[{below: 1990, tin: 1}, {upto: 1980, tar: 1}, {above: true, tin: 1}]" +
             tail,
         "band-overlap 2:109"},
        {"a year of what is no date",
         "  d: {column: jacket, cell: missing, kind: shares, by_year_of: [length], bands: "
         "[{above: true, tin: 1}]" +
             tail,
         "unknown-key 2:65"},
        {"nothing for a word of by",
         "  d: {column: jacket, cell: missing, kind: shares, by: service, shares: {always: {tin: "
         "1}}" +
             tail,
         "missing-entry 2:73"},
    });
}

TEST_CASE("problems of points and errors") {
    check_cases({
        {"no problem",
         "  d: {column: length, cell: missing, kind: points, unit: ft, points: [{at: 0, is: 3}, "
         "{at: 1, is: 9}]" +
             tail,
         ""},
        {"no unit",
         "  d: {column: length, cell: missing, kind: points, points: [{at: 0, is: 3}, {at: 1, is: "
         "9}]" +
             tail,
         "missing-unit 2:6"},
        {"another unit",
         "  d: {column: length, cell: missing, kind: points, unit: psi, points: [{at: 0, is: 3}, "
         "{at: 1, is: 9}]" +
             tail,
         "unit-mismatch 2:58"},
        {"falling values",
         "  d: {column: length, cell: missing, kind: points, unit: m, points: [{at: 0, is: 3}, "
         "{at: 1, is: 2}]" +
             tail,
         "unsorted-points 2:86"},
        {"probabilities out of order",
         "  d: {column: length, cell: missing, kind: points, unit: m, points: [{at: 0, is: 3}, "
         "{at: 0.5, is: 4}, {at: 0.5, is: 5}, {at: 1, is: 6}]" +
             tail,
         "unsorted-points 2:104"},
        {"not from 0",
         "  d: {column: length, cell: missing, kind: points, unit: m, points: [{at: 0.1, is: 3}, "
         "{at: 1, is: 4}]" +
             tail,
         "band-gap 2:75"},
        {"not to 1",
         "  d: {column: length, cell: missing, kind: points, unit: m, points: [{at: 0, is: 3}, "
         "{at: 0.9, is: 4}]" +
             tail,
         "band-gap 2:86"},
        {"one point",
         "  d: {column: length, cell: missing, kind: points, unit: m, points: [{at: 0, is: 3}]" +
             tail,
         "missing-entry 2:69"},
        {"more than the column can hold",
         "  d: {column: hot_fraction, cell: missing, kind: points, unit: \"-\", points: [{at: 0, "
         "is: 0}, {at: 1, is: 1.2}]" +
             tail,
         "out-of-range 2:106"},
        {"no deviation for a technique",
         "  d: {file: inspections.csv, column: pit_depth, cell: measured, kind: normal, unit: mm, "
         "by: technique, entries: {look: 1}" +
             tail,
         "missing-entry 2:113"},
        {"a negative deviation",
         "  d: {file: inspections.csv, column: pit_depth, cell: measured, kind: normal, unit: mm, "
         "by: technique, entries: {look: 1, touch: -1}" +
             tail,
         "out-of-range 2:130"},
        {"between what are no dates",
         "  d: {column: coating_date, cell: missing, kind: between, from: length, to: in_service" +
             tail,
         "unknown-key 2:65"},
    });
}

TEST_CASE("two distributions of the same cells are refused, as is the name of a table") {
    const RuleFolder folder;
    const auto twice =
        load(folder, jacket_shares + "  e: {column: jacket, cell: missing, kind: point" + tail);
    CHECK(summary(twice.report) == "duplicate-key 3:3");
    const RuleFolder other;
    other.write("base/tables.yaml",
                "tables:\n  d: {kind: value, meaning: m, unit: mm, value: 1, basis: site}\n");
    CHECK(summary(load(other, jacket_shares).report) == "duplicate-key 2:3");
}

TEST_CASE("an overlay replaces a distribution with a reason, and the change is recorded") {
    const std::string head = "ruleset: {name: site, meaning: m}\nchanges:\n";
    const std::string fresh =
        "replace: {column: jacket, cell: missing, kind: shares, shares: {tin: 1}, meaning: m, "
        "reason: r}";
    const RuleFolder folder;
    const auto loaded =
        load(folder, jacket_shares, head + "  - {distribution: d, reason: seen, " + fresh + "}\n");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules);
    const Distribution& made = loaded.rules->distributions.at("d");
    REQUIRE(made.entries.size() == 1);
    CHECK(made.entries[0].basis == Basis::site);
    CHECK(made.entries[0].reason == "seen");
    CHECK(made.entries[0].replaced == "0.25");
    REQUIRE(loaded.rules->changes.size() == 1);
    CHECK(loaded.rules->changes[0].what == "distribution: d");
    CHECK(loaded.rules->changes[0].reason == "seen");

    const auto problem = [&](const std::string& change) {
        const RuleFolder fresh_folder;
        return summary(load(fresh_folder, jacket_shares, head + change).report);
    };
    CHECK(problem("  - {distribution: d, " + fresh + "}\n") == "missing-reason 3:5");
    CHECK(problem("  - {distribution: x, reason: r, " + fresh + "}\n") == "missing-table 3:20");
    CHECK(problem("  - {distribution: d, reason: r, to: 1}\n") == "missing-key 3:5");
    CHECK(
        problem("  - {distribution: d, reason: r, replace: {column: service, cell: missing, kind: "
                "point, meaning: m, reason: r}}\n") == "contradiction 3:43");
    CHECK(problem("  - {reason: r, to: 1}\n") == "missing-key 3:5");
}

TEST_CASE("a word that an overlay adds needs its entry") {
    const RuleFolder folder;
    const auto loaded = load(
        folder,
        "  d: {column: jacket, cell: missing, kind: shares, by: service, shares: {always: {tin: "
        "1}, seldom: {tar: 1}}" +
            tail,
        "ruleset: {name: site, meaning: m}\nwords:\n  service: {never: \"\"}\n");
    CHECK(summary(loaded.report) == "missing-entry 3:13");
}

TEST_CASE("entries of a distribution are among those of the rule set") {
    const RuleFolder folder;
    const auto loaded = load(folder, jacket_shares);
    REQUIRE(loaded.rules);
    const auto lines = all_entries(*loaded.rules);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0].table->name == "d");
    CHECK(lines[0].entry->key == "tin");
    CHECK(lines[1].entry->value == 0.75);
}

}  // namespace
}  // namespace lagline
