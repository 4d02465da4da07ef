// Numbers that no option can mean, and plants that no rank may come of.
#include <doctest/doctest.h>

#include "program.h"

namespace lagline {
namespace {

TEST_CASE("an option with an impossible number ends with 2, its name and its range") {
    struct Case {
        Arguments arguments;
        std::string option, says;
    };
    const std::string not_gap = " is not a number between 0 and 1";
    const std::string not_seconds = " is not a number between 0.1 and 86400";
    for (const Case& each :
         {Case{{"plan", "p", "--gap", "nan"}, "--gap", "'nan'" + not_gap},
          Case{{"plan", "p", "--gap", "inf"}, "--gap", "'inf'" + not_gap},
          Case{{"plan", "p", "--gap", "1e999"}, "--gap", "'1e999'" + not_gap},
          Case{{"plan", "p", "--gap=-0.1"}, "--gap", "'-0.1'" + not_gap},
          Case{{"plan", "p", "--gap", "2"}, "--gap", "'2'" + not_gap},
          Case{{"plan", "p", "--gap", "0,5"}, "--gap", "'0,5'" + not_gap},
          Case{{"plan", "p", "--gap", "0x1"}, "--gap", "'0x1'" + not_gap},
          Case{{"plan", "p", "--seconds", "nan"}, "--seconds", "'nan'" + not_seconds},
          Case{{"plan", "p", "--seconds", "1e9"}, "--seconds", "'1e9'" + not_seconds},
          Case{{"plan", "p", "--seconds=-5"}, "--seconds", "'-5'" + not_seconds},
          Case{{"plan", "p", "--budget", "TA-2027=nan"}, "--budget", "not WINDOW=AMOUNT"},
          Case{{"plan", "p", "--budget", "TA-2027=inf"}, "--budget", "not WINDOW=AMOUNT"},
          Case{{"plan", "p", "--budget", "TA-2027=-1"}, "--budget", "not WINDOW=AMOUNT"},
          Case{{"plan", "p", "--budget", "TA-2027=1e308"}, "--budget", "not WINDOW=AMOUNT"},
          Case{{"rank", "p", "--top", "nan"}, "--top", "not a whole number between 0 and"},
          Case{{"rank", "p", "--top", "99999999999999999999999"},
               "--top",
               "not a whole number between 0 and 18446744073709551615"},
          Case{{"forecast", "p", "--years", "nan"}, "--years", "not a whole number between 1 and"},
          Case{{"forecast", "p", "--years", "1e3"}, "--years", "not a whole number between 1 and"},
          Case{{"forecast", "p", "--years", "100000"},
               "--years",
               "not a whole number between 1 and"},
          Case{{"uncertainty", "p", "--samples", "99999999999999999999"},
               "--samples",
               "not a whole number between"},
          Case{{"uncertainty", "p", "--samples", "0"}, "--samples", "not a whole number between"},
          Case{{"uncertainty", "p", "--samples", "inf"}, "--samples", "not a whole number between"},
          Case{{"rank", "p", "--threads", "nan"}, "--threads", "not a whole number between 0 and"},
          Case{{"rank", "p", "--threads", "99999999999"},
               "--threads",
               "not a whole number between 0 and"},
          Case{{"rank", "p", "--block", "1e308"}, "--block", "not a whole number between"},
          Case{{"rank", "p", "--at", "2025-02-30"}, "--at", "'2025-02-30' is not a date"},
          Case{{"rank", "p", "--at", "1850-01-01"}, "--at", "of the years 1900 to 2200"},
          Case{{"rank", "p", "--today", "9999-01-01"}, "--today", "of the years 1900 to 2200"},
          Case{{"rank", "p", "--today", "inf"}, "--today", "'inf' is not a date"}}) {
        const Ran ran = run(each.arguments);
        CAPTURE(each.arguments.back());
        INFO(ran.err);
        CHECK(ran.code == 2);
        CHECK(ran.out.empty());
        CHECK(holds(ran.err, each.option));
        CHECK(holds(ran.err, each.says));
    }
}

TEST_CASE("an overlay with a factor that nothing multiplies by is refused at its line") {
    for (const auto* factor : {"-1", "0", "1e9", "1e308", ".nan", ".inf"}) {
        CAPTURE(factor);
        const StarterPlant plant;
        plant.write("rules/site.yaml",
                    "ruleset: {name: site, meaning: an invented site, based_on: extended}\n"
                    "changes:\n"
                    "  - {table: insulation_factor, entry: mineral_wool, to: " +
                        std::string{factor} + ", reason: a slip}\n");
        const Ran ran = run({"rank", plant.path(), "--at", fixed_day});
        INFO(ran.err);
        CHECK(ran.code == 3);
        CHECK(ran.out.empty());
        CHECK(holds(ran.err, "rules/site.yaml:3:60: error ["));
        CHECK(count(ran.err, ": error [") == 1);
    }
}

TEST_CASE("a value on trial is held to the limits of a cell") {
    const StarterPlant plant;
    const auto trial = [&](const std::string& change) {
        return run({"what-if", plant.path(), "--set", "all." + change, "--at", fixed_day});
    };
    for (const auto* change :
         {"nominal_wall=100 mm", "operating_temperature=899 degC", "coating_date=2150-01-01",
          "design_pressure=2000 barg", "corrosion_allowance=49 mm", "length=nan m",
          "length=1e308 m", "in_service=2150-01-01"}) {
        CAPTURE(change);
        const Ran ran = trial(change);
        INFO(ran.err);
        CHECK(ran.code == 3);
        CHECK(ran.out.empty());
        CHECK(holds(ran.err, ": error ["));
    }
    CHECK(trial("operating_temperature=90 degC").code == 0);
}

// The segment of highest rank in the starter plant, and the rank table with these inspections.
std::string ranked(const std::string& rows, const std::string& rules) {
    const StarterPlant plant;
    plant.write("inspections.csv",
                "segment,date,technique,coverage [%],least_thickness [mm]\n" + rows);
    const Ran ran = run({"rank", plant.path(), "--at", "2032-06-01", "--today", "2026-06-01",
                         "--rules", rules, "--format", "csv"});
    INFO(ran.err);
    REQUIRE(ran.code == 0);
    return ran.out;
}

TEST_CASE("an inspection of the future and a row pasted twice move no rank, in either rule set") {
    const std::string once = "EX-001,2020-05-01,strip_and_measure,100,\n";
    for (const auto* rules : {"published", "extended"}) {
        CAPTURE(rules);
        const std::string one = ranked(once, rules);
        CHECK(ranked(once + once + once, rules) == one);
        CHECK(ranked(once + "EX-001,2028-05-01,strip_and_measure,100,\n", rules) == one);
        CHECK(ranked("EX-001,2020-05-01,strip_and_measure,60,\n" + once, rules) == one);
        CHECK(ranked("EX-001,2019-05-01,strip_and_measure,100,\n" + once, rules) != one);
        CHECK(count(one, "inf") == count(ranked("", rules), "inf"));
    }
}

}  // namespace
}  // namespace lagline
