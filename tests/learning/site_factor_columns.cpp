// Site factors by a column of segments.csv, and those that were learned.
#include <doctest/doctest.h>

#include "learning/as_known.h"
#include "ranking/ranking.h"
#include "support/columns.h"
#include "support/rules.h"
#include "support/small_plant.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

LoadedRules with_overlay(const std::string& factors) {
    const TempFolder folder;
    static_cast<void>(folder.write(
        "site.yaml", "ruleset: {name: site, meaning: test}\nsite_factors:\n  learned_test:\n" +
                         factors + "    otherwise: 0.5\n    basis: site\n    reason: test\n"));
    return load_rules(rules_root(), "published", folder.path());
}

RuleSet rules_with(const std::string& factors) {
    LoadedRules loaded = with_overlay(factors);
    REQUIRE_MESSAGE(loaded.rules.has_value(), to_text(loaded.report));
    return std::move(*loaded.rules);
}

double factor(const RuleSet& rules, const Cells& changes) {
    const Plant plant = assemble({.segments = {segment_cells("S-1", changes)}}, rules);
    return number_of(plant, rank(plant, rules), "S-1", "site_factor");
}

TEST_CASE("a column of texts carries a site factor") {
    const RuleSet rules = rules_with(
        "    column: unit\n    meaning: m\n    entries: {\"U-1\": 1.3, \"U, 2\": {value: 1.4, "
        "note: n}}\n");
    CHECK(factor(rules, {}) == 1.3);
    CHECK(factor(rules, {{"unit", "U, 2"}}) == 1.4);
    CHECK(factor(rules, {{"unit", "U-3"}}) == 0.5);
}

TEST_CASE("a column of words carries a site factor, defaults included; an empty cell does not") {
    const RuleSet rules = rules_with(
        "    column: insulation_type\n    meaning: m\n    entries: {mineral_wool: 1.2, perlite: "
        "0.9}\n");
    CHECK(factor(rules, {}) == 1.2);
    CHECK(factor(rules, {{"insulation_type", "perlite"}}) == 0.9);
    CHECK(factor(rules, {{"insulation_type", "cellular_glass"}}) == 0.5);
    const RuleSet by_complexity =
        rules_with("    column: complexity\n    meaning: m\n    entries: {average: 1.2}\n");
    CHECK(factor(by_complexity, {{"complexity", ""}}) == 1.2);  // the default of the rules
    const RuleSet by_system = rules_with(
        "    column: coating_system\n    meaning: m\n    entries: {none: 1.3, epoxy: 1.2}\n");
    CHECK(factor(by_system, {}) == 0.5);  // not the first word, which an empty cell is stored as
    CHECK(factor(by_system, {{"coating_system", "none"}}) == 1.3);
    CHECK(factor(by_system, {{"coating_system", "epoxy"}}) == 1.2);
}

bool reports(const LoadedRules& loaded, Problem problem) {
    for (const Diagnostic& each : loaded.report.diagnostics()) {
        if (each.problem == problem) return true;
    }
    return false;
}

TEST_CASE("entries of a column of words are its words") {
    const LoadedRules loaded = with_overlay(
        "    column: insulation_type\n    meaning: m\n    entries: {mineral_wol: 1.2}\n");
    CHECK_FALSE(loaded.rules.has_value());
    CHECK(reports(loaded, Problem::unknown_word));
    CHECK(to_text(loaded.report).find("mineral_wool") != std::string::npos);
}

TEST_CASE("a column of numbers or days cannot be grouped by") {
    for (const char* column : {"operating_temperature", "in_service", "nominal_size"}) {
        CAPTURE(column);
        const LoadedRules loaded = with_overlay("    column: " + std::string{column} +
                                                "\n    meaning: m\n    entries: {a: 1.2}\n");
        CHECK_FALSE(loaded.rules.has_value());
        CHECK(reports(loaded, Problem::contradiction));
    }
}

TEST_CASE("a factor learned later is not known on a past day") {
    const RuleSet rules = rules_with(
        "    column: unit\n    meaning: m\n    entries: {U-1: 1.3}\n    learned: 2018-05-01\n");
    CHECK(rules.site_factors.at("learned_test").learned == make_date(2018, 5, 1));
    CHECK(rules_as_known(rules, make_date(2018, 4, 30)).site_factors.empty());
    CHECK(rules_as_known(rules, make_date(2018, 5, 1)).site_factors.size() == 1);
    CHECK(factor(rules, {}) == 1.3);
}

TEST_CASE("`learned` is a day") {
    for (const char* text : {"2018", "soon"}) {
        CAPTURE(text);
        CHECK(reports(with_overlay("    column: unit\n    meaning: m\n    entries: {U-1: 1.3}\n"
                                   "    learned: " +
                                   std::string{text} + "\n"),
                      Problem::not_a_date));
    }
}

}  // namespace
}  // namespace lagline
