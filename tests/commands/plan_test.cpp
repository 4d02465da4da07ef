#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "program.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

const std::string sample = std::string{LAGLINE_SOURCE_DIR} + "/sample-plant/plant";

// A wide gap, for these tests do not look at how good the plan is.
Ran plan(Arguments more) {
    Arguments arguments{"plan", sample, "--today", "2026-11-25", "--no-curve", "--gap", "0.01"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(arguments);
}

TEST_CASE("plan: the CSV has every segment once, and money that adds up with the table") {
    const Ran csv = plan({"--format", "csv"});
    REQUIRE(csv.code == 0);
    const auto records = csv_records(csv.out);
    REQUIRE(records.size() == 601);
    const auto at = [&](std::string_view heading) {
        return static_cast<std::size_t>(std::ranges::find(records[0], heading) -
                                        records[0].begin());
    };
    std::size_t acting = 0;
    for (std::size_t i = 1; i < records.size(); ++i) {
        const bool acts = records[i][at("action")] != "leave";
        acting += acts ? 1U : 0U;
        CHECK(records[i][at("window")].empty() != acts);
        CHECK(std::stod(records[i][at("loss_with_plan")]) <=
              std::stod(records[i][at("loss_if_left")]) * (1 + 1e-9) + 1e-6);
    }
    CHECK(acting > 20);
    const Ran json = plan({"--format", "json"});
    REQUIRE(json.code == 0);
    CHECK(holds(json.out, "\"fits\": true"));
    CHECK(holds(json.out, "\"segments\": " + std::to_string(acting)));
}

TEST_CASE("plan fits 80 columns and tells what is proven, what limits it and what just missed") {
    const Ran shown = run_on_terminal(
        {"plan", sample, "--today", "2026-11-25", "--no-curve", "--gap", "0.01"}, 80);
    REQUIRE(shown.code == 0);
    CHECK(holds(shown.out, "Proven: no plan within"));
    CHECK(holds(shown.out, "What limits the plan"));
    CHECK(holds(shown.out, "Just missed"));
    CHECK(holds(shown.out, "screening aid"));
}

TEST_CASE(
    "plan: without money nothing but what must be done is asked, and what is missing is told") {
    const Ran none =
        plan({"--budget", "TA-2027=0", "--budget", "OS-2028=0", "--budget", "TA-2030=0"});
    REQUIRE(none.code == 0);
    CHECK(holds(none.out, "The compulsory work does not fit"));
    CHECK(holds(none.out, "budget of TA-2027: "));
}

TEST_CASE("plan refuses a window that is not there and an amount that is none") {
    const Ran unknown = plan({"--budget", "TA-1999=5"});
    CHECK(unknown.code == 3);
    CHECK(holds(unknown.err, "no window 'TA-1999'"));
    CHECK(holds(unknown.err, "TA-2027"));
    const Ran wrong = plan({"--budget", "TA-2027=much"});
    CHECK(wrong.code == 2);
    CHECK(holds(wrong.err, "WINDOW=AMOUNT"));
}

TEST_CASE("plan: the scope sheets name every segment that is worked on") {
    const Ran csv = plan({"--format", "csv"});
    const Ran scope = plan({"--format", "scope"});
    REQUIRE(scope.code == 0);
    const auto records = csv_records(csv.out);
    for (std::size_t i = 1; i < records.size(); ++i) {
        if (records[i][5] == "leave") continue;
        CAPTURE(records[i][0]);
        CHECK(holds(scope.out, "[ ] " + records[i][0] + ","));
    }
    CHECK(holds(scope.out, "look first at"));
    CHECK(holds(scope.out, "take-off"));
    CHECK(holds(scope.out, "Cautions"));
}

TEST_CASE("explain --action shows every window, the build-up of the cost and the tree") {
    const Ran shown =
        run({"explain", sample, "S-00110", "--today", "2026-11-25", "--action", "open_part"});
    REQUIRE(shown.code == 0);
    CHECK(holds(shown.out, "strip part, inspect, make good"));
    CHECK(holds(shown.out, "insulation and jacket"));
    CHECK(holds(shown.out, "present value"));
    CHECK(count(shown.out, "TA-2030") >= 6);
    const Ran wrong = run({"explain", sample, "S-00110", "--action", "paint"});
    CHECK(wrong.code == 2);
    CHECK(holds(wrong.err, "strip_recoat"));
}

TEST_CASE("what-if ranks and plans with other values") {
    const Ran tried = run({"what-if", sample, "--today", "2026-11-25", "--set",
                           "S-00001.operating_temperature=95 degC", "--gap", "0.01"});
    REQUIRE(tried.code == 0);
    CHECK(holds(tried.out, "no file is changed"));
    CHECK(holds(tried.out, "S-00001"));
    const Ran same = run({"what-if", sample, "--today", "2026-11-25", "--gap", "0.01"});
    REQUIRE(same.code == 0);
    CHECK(holds(same.out, "No segment has another risk"));
    CHECK(holds(same.out, "No segment is planned otherwise"));
    const Ran wrong = run({"what-if", sample, "--set", "S-99999.length=3 m"});
    CHECK(wrong.code == 3);
    CHECK(holds(wrong.err, "S-99999"));
    const Ran unit = run({"what-if", sample, "--set", "S-00110.length=3"});
    CHECK(unit.code == 3);
    CHECK(holds(unit.err, "unit"));
}

}  // namespace
}  // namespace lagline
