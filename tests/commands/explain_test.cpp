#include <doctest/doctest.h>

#include "program.h"

namespace lagline {
namespace {

TEST_CASE("explain shows cells and rules with their places, as text and as JSON") {
    const StarterPlant plant;
    const Ran text = run({"explain", plant.path(), "EX-001", "--at", fixed_day});
    CHECK(text.code == 0);
    CHECK(holds(text.out, "corrosion_rate"));
    CHECK(holds(text.out, plant.file("segments.csv") + ":2:40"));
    CHECK(holds(text.out, "corrosion-rate.yaml:"));
    CHECK(holds(text.out, "[recalled]"));
    const Ran json =
        run({"explain", plant.path(), "EX-001", "--at", fixed_day, "--format", "json"});
    CHECK(json.code == 0);
    CHECK(json.out.starts_with("{"));
    CHECK(holds(json.out, "\"corrosion_rate\""));
}

TEST_CASE("explain of a name that is not there offers the nearest") {
    const StarterPlant plant;
    const Ran near = run({"explain", plant.path(), "EX-0001", "--at", fixed_day});
    CHECK(near.code == 2);
    CHECK(holds(near.err, "no segment 'EX-0001' in segments.csv; did you mean 'EX-001'?"));
    const Ran far = run({"explain", plant.path(), "zzz", "--at", fixed_day});
    CHECK(far.code == 2);
    CHECK(far.err == "lagline: no segment 'zzz' in segments.csv\n");
}

TEST_CASE("a segment that is not ranked says why") {
    const StarterPlant plant;
    plant.replace("segments.csv", "EX-003,L-2,U1,carbon_steel", "EX-003,L-2,U1,duplex_stainless");
    const Ran ranked = run({"rank", plant.path(), "--at", fixed_day, "--rules", "published"});
    CHECK(ranked.code == 0);
    CHECK(holds(ranked.out, "Not ranked: 1 segment"));
    const Ran ran =
        run({"explain", plant.path(), "EX-003", "--at", fixed_day, "--rules", "published"});
    CHECK(ran.code == 2);
    CHECK(holds(ran.err, "segment EX-003 is not ranked: no mechanism for duplex_stainless"));
}

TEST_CASE("an override is shown where it acts, with what it replaced and why") {
    const StarterPlant plant;
    plant.write("overrides.csv",
                "segment,quantity,value,reason,who,when,until\n"
                "EX-001,operating_temperature,95 degC,measured in 2025,A. Engineer,2025-03-01,\n");
    const Ran ran = run({"explain", plant.path(), "EX-001", "--at", fixed_day});
    CHECK(ran.code == 0);
    CHECK(holds(ran.out, "95"));
    CHECK(holds(ran.out, "measured in 2025"));
}

}  // namespace
}  // namespace lagline
