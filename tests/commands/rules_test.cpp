#include <doctest/doctest.h>

#include "program.h"

namespace lagline {
namespace {

const std::string overlay = R"(ruleset: {name: site, meaning: an invented site, based_on: published}
changes:
  - {table: insulation_factor, entry: mineral_wool, to: 1.5, reason: wet in 2021, who: A. Engineer}
)";

TEST_CASE("rules list, show, sources and recalled of the shipped set") {
    for (const auto& [part, said] : {std::pair{"list", "insulation_factor"},
                                     {"sources", "api-581-2020"},
                                     {"recalled", "recalled from memory ("}}) {
        const Ran ran = run({"rules", part});
        CHECK(ran.code == 0);
        CHECK(holds(ran.out, said));
    }
    const Ran shown = run({"rules", "show", "insulation_factor"});
    CHECK(shown.code == 0);
    CHECK(holds(shown.out, "mineral_wool"));
    CHECK(holds(shown.out, "recalled"));
    const Ran near = run({"rules", "show", "insulaton_factor"});
    CHECK(near.code == 2);
    CHECK(holds(near.err, "did you mean 'insulation_factor'?"));
    const Ran far = run({"rules", "show", "zzz"});
    CHECK(far.code == 2);
    CHECK(holds(far.err, "`lagline rules list` shows all"));
    CHECK(run({"rules", "list", "--rules", "nope"}).code == 3);
}

TEST_CASE("rules check of the shipped set passes") {
    const Ran ran = run({"rules", "check"});
    CHECK(ran.code == 0);
    CHECK(holds(ran.out, ", 0 failed\n"));
    CHECK(count(ran.out, "ok      W") == 4);
}

TEST_CASE("a plant's overlay acts, and is told wherever it does") {
    const StarterPlant plant;
    const auto ranked = [&] {
        return run({"rank", plant.path(), "--at", fixed_day, "--format", "csv"}).out;
    };
    const std::string before = ranked();
    plant.write("rules/site.yaml", overlay);
    CHECK(ranked() != before);
    const Ran listed = run({"rules", "list", "--plant", plant.path()});
    CHECK(listed.code == 0);
    CHECK(holds(listed.out, "insulation_factor: mineral_wool from 1.25 to 1.5 (wet in 2021)"));
    const Ran shown = run({"rules", "show", "insulation_factor", "--plant", plant.path()});
    CHECK(holds(shown.out, "site.yaml:3"));
    const Ran told = run({"explain", plant.path(), "EX-001", "--at", fixed_day});
    CHECK(told.code == 0);
    CHECK(holds(told.out, "insulation_factor, mineral_wool = 1.5 [site]"));
    CHECK(holds(told.out, "changed from 1.25"));
    CHECK(holds(told.out, "wet in 2021"));
}

TEST_CASE("a check that an overlay breaks ends with 4 and names the change") {
    const StarterPlant plant;
    plant.write("rules/site.yaml", overlay);
    const Ran ran = run({"rules", "check", "--rules", "published", "--plant", plant.path()});
    CHECK(ran.code == 4);
    CHECK(holds(ran.out, "insulation_factor: expected 1.25, got 1.5"));
    CHECK(holds(ran.out, "The rule set is not as shipped."));
    CHECK(holds(ran.out, "insulation_factor: mineral_wool from 1.25 to 1.5 (wet in 2021)"));
    CHECK(run({"rules", "check"}).code == 0);
}

TEST_CASE("a faulty overlay is refused together with the faults of the plant") {
    const StarterPlant plant;
    plant.write("rules/site.yaml",
                "ruleset: {name: site, meaning: m, based_on: published}\n"
                "changes:\n  - {table: insulation_factor, entry: mineral_wool, to: 1.5}\n");
    plant.replace("segments.csv", "Sch 40", "nan");
    const Ran ran = run({"check", plant.path(), "--at", fixed_day});
    CHECK(ran.code == 3);
    CHECK(holds(ran.out, "[missing-reason]"));
    CHECK(holds(ran.out, "[not-a-number]"));
    CHECK(run({"rules", "list", "--plant", plant.path()}).code == 3);
}

}  // namespace
}  // namespace lagline
