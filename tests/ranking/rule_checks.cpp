#include "ranking/rule_checks.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <string>

#include "support/csv_records.h"
#include "support/rules.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

constexpr const char* checks_file = "published/checks/wall-loss.yaml";

// The published set with `from` replaced by `to` at its first place in the file of checks.
RuleSet changed_rules(const TempFolder& folder, const std::string& from, const std::string& to) {
    fs::copy(rules_root(), folder.path(), fs::copy_options::recursive);
    std::string text = file_text((folder.path() / checks_file).string());
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), to);
    folder.write(checks_file, text);
    return rules_from(folder.path(), "published");
}

TEST_CASE("every check of the published set passes, and each compares something") {
    const auto outcomes = run_rule_checks(published_rules());
    REQUIRE(outcomes.size() == published_rules().checks.size());
    REQUIRE(outcomes.size() >= 12);
    for (const CheckOutcome& outcome : outcomes) {
        CAPTURE(outcome.check->name);
        INFO(to_text(outcome.report));
        CHECK(outcome.ok());
        CHECK(outcome.report.diagnostics().empty());
        CHECK(outcome.quantities.size() == outcome.check->expect.size());
        CHECK_FALSE(outcome.quantities.empty());
        for (const CheckedQuantity& each : outcome.quantities) {
            CAPTURE(each.quantity);
            CAPTURE(each.expected);
            CAPTURE(each.got);
            CHECK(each.ok);
        }
    }
}

TEST_CASE("every check of the extended set passes, and each compares something") {
    const auto outcomes = run_rule_checks(extended_rules());
    REQUIRE(outcomes.size() >= 12);
    for (const CheckOutcome& outcome : outcomes) {
        CAPTURE(outcome.check->name);
        INFO(to_text(outcome.report));
        CHECK(outcome.check->layer == "extended");
        CHECK(outcome.ok());
        CHECK(outcome.quantities.size() == outcome.check->expect.size());
        CHECK_FALSE(outcome.quantities.empty());
    }
}

TEST_CASE("the plant of a check: a part of a climate, a wrong unit and an unknown key are told") {
    for (const char* plant : {"{air_temperature: 20 degC}", "{management_score: 50 mm}",
                              "{management_score: 50 %, rain: 900 mm}"}) {
        CAPTURE(plant);
        TempFolder folder;
        const RuleSet rules = changed_rules(folder, "plant: {management_score: 50 %}",
                                            "plant: " + std::string{plant});
        const auto outcomes = run_rule_checks(rules);
        CHECK_FALSE(outcomes.front().ok());
        CHECK(outcomes.front().report.errors() == 1);
    }
}

TEST_CASE("an expectation that is wrong in its last digit fails, alone, with its place") {
    TempFolder folder;
    const RuleSet rules =
        changed_rules(folder, "{value: 0.55804, within: 5e-6}", "{value: 0.55805, within: 5e-6}");
    const auto outcomes = run_rule_checks(rules);
    CHECK(std::ranges::count_if(outcomes, [](const CheckOutcome& o) { return !o.ok(); }) == 1);
    REQUIRE_FALSE(outcomes.front().ok());
    CHECK(outcomes.front().report.ok());
    for (const CheckedQuantity& each : outcomes.front().quantities) {
        CAPTURE(each.quantity);
        CHECK(each.ok == (each.quantity != "wall_fraction"));
        if (each.ok) continue;
        CHECK(each.expected == "0.55805");
        CHECK(each.got.starts_with("0.55803571"));
        CHECK(each.place.line > 0);
        CHECK(each.place.file.ends_with("wall-loss.yaml"));
    }
}

TEST_CASE("a value of the set that is changed makes the checks fail") {
    // The checks guard the tables: one factor moved, and every case with mineral wool notices.
    TempFolder folder;
    fs::copy(rules_root(), folder.path(), fs::copy_options::recursive);
    const fs::path file = folder.path() / "published/corrosion-rate.yaml";
    std::string text = file_text(file.string());
    const auto at = text.find("mineral_wool: 1.25");
    REQUIRE(at != std::string::npos);
    text.replace(at, 18, "mineral_wool: 1.20");
    folder.write("published/corrosion-rate.yaml", text);
    const RuleSet rules = rules_from(folder.path(), "published");
    const auto outcomes = run_rule_checks(rules);
    CHECK(std::ranges::count_if(outcomes, [](const CheckOutcome& o) { return !o.ok(); }) == 4);
}

TEST_CASE("an expectation in another unit is compared in that unit") {
    TempFolder folder;
    const RuleSet rules = changed_rules(folder, "corrosion_rate: {value: 15.625 mpy, within: 1e-9}",
                                        "corrosion_rate: {value: 0.396875 mm/y, within: 1e-9}");
    CHECK(run_rule_checks(rules).front().ok());
}

TEST_CASE("an expectation in a unit that does not fit fails") {
    TempFolder folder;
    const RuleSet rules = changed_rules(folder, "corrosion_rate: {value: 15.625 mpy, within: 1e-9}",
                                        "corrosion_rate: {value: 15.625 mm, within: 1e-9}");
    CHECK_FALSE(run_rule_checks(rules).front().ok());
}

TEST_CASE("a quantity that is not there is reported with the one that was meant") {
    TempFolder folder;
    const RuleSet rules = changed_rules(folder, "      wall_fraction: {value: 0.55804",
                                        "      wall_fracton: {value: 0.55804");
    const auto outcomes = run_rule_checks(rules);
    REQUIRE_FALSE(outcomes.front().ok());
    const auto& problems = outcomes.front().report.diagnostics();
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].problem == Problem::unknown_key);
    CHECK(problems[0].found == "a quantity 'wall_fracton'");
    CHECK(problems[0].mend == "did you mean 'wall_fraction'?");
    CHECK(problems[0].where.line > 0);
    // The other expectations of the check are still compared.
    CHECK(outcomes.front().quantities.size() + 1 == outcomes.front().check->expect.size());
}

TEST_CASE("a check of a segment that has no mechanism is reported, not passed") {
    TempFolder folder;
    const RuleSet rules =
        changed_rules(folder, "material: carbon_steel", "material: duplex_stainless");
    const auto outcomes = run_rule_checks(rules);
    CHECK_FALSE(outcomes.front().ok());
    REQUIRE(outcomes.front().report.diagnostics().size() == 1);
    CHECK(outcomes.front().report.diagnostics()[0].problem == Problem::check_failed);
}

TEST_CASE("a cell of a check that cannot be read is reported at the check") {
    TempFolder folder;
    const RuleSet rules = changed_rules(folder, "driver: moderate", "driver: modrate");
    const auto outcomes = run_rule_checks(rules);
    CHECK_FALSE(outcomes.front().ok());
    REQUIRE_FALSE(outcomes.front().report.ok());
    CHECK(outcomes.front().report.diagnostics()[0].problem == Problem::unknown_word);
}

}  // namespace
}  // namespace lagline
