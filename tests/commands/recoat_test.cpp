#include <doctest/doctest.h>

#include "program.h"

namespace lagline {
namespace {

TEST_CASE("recoat specifies a segment, as a page of 80 columns and as JSON, with both sets") {
    const StarterPlant plant;
    for (const char* rules : {"extended", "published"}) {
        const Ran text =
            run({"recoat", plant.path(), "EX-001", "--at", fixed_day, "--rules", rules});
        CAPTURE(rules);
        INFO(text.err);
        CHECK(text.code == 0);
        CHECK(holds(text.out, "New coating for EX-001"));
        CHECK(holds(text.out, "flexible_epoxy_phenolic"));
        // 82 degC is too hot to paint on, and zinc is spent fast.
        CHECK(holds(text.out, "steel at 82 degC is too hot to coat, up to 50 degC"));
        CHECK(holds(text.out, "inorganic_zinc: zinc is spent fast"));
        CHECK(holds(text.out, "screening aid"));
        CHECK(widest_line(text.out) <= 100);
        const Ran json = run({"recoat", plant.path(), "EX-001", "--at", fixed_day, "--rules", rules,
                              "--format", "json"});
        CHECK(json.code == 0);
        CHECK(json.out.starts_with("{"));
        CHECK(count(json.out, "\"life_cycle_cost\"") >= 3);
        CHECK(count(json.out, "\"reason\"") >= 3);
    }
    const Ran narrow = run_on_terminal({"recoat", plant.path(), "EX-001", "--at", fixed_day}, 80);
    CHECK(widest_line(narrow.out) <= 80);
}

TEST_CASE("recoat tells the same whatever the threads and blocks") {
    const StarterPlant plant;
    const Ran one = run({"recoat", plant.path(), "EX-002", "--at", fixed_day, "--threads", "1"});
    const Ran two = run(
        {"recoat", plant.path(), "EX-002", "--at", fixed_day, "--threads", "2", "--block", "1"});
    CHECK(one.code == 0);
    CHECK(one.out == two.out);
}

TEST_CASE("recoat of a name that is not there offers the nearest") {
    const StarterPlant plant;
    const Ran near = run({"recoat", plant.path(), "EX-0001", "--at", fixed_day});
    CHECK(near.code == 2);
    CHECK(near.out.empty());
    CHECK(holds(near.err, "no segment 'EX-0001' in segments.csv; did you mean 'EX-001'?"));
}

}  // namespace
}  // namespace lagline
