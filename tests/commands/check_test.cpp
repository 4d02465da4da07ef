#include <doctest/doctest.h>

#include "program.h"

namespace lagline {
namespace {

TEST_CASE("check --format json has the same problems as the text") {
    const StarterPlant plant;
    plant.replace("segments.csv", "Sch 40", "nan");
    const Ran text = run({"check", plant.path(), "--at", fixed_day});
    const Ran json = run({"check", plant.path(), "--at", fixed_day, "--format", "json"});
    CHECK(text.code == 3);
    CHECK(json.code == 3);
    CHECK(json.out.starts_with("{"));
    CHECK(holds(json.out, "\"not-a-number\""));
    CHECK(holds(text.out, "[not-a-number]"));
}

TEST_CASE("warnings do not stop a ranking but are told on standard error") {
    const StarterPlant plant;
    plant.replace("inspections.csv", "5.8", "15.8");
    const Ran ranked = run({"rank", plant.path(), "--at", fixed_day});
    CHECK(ranked.code == 0);
    CHECK(holds(ranked.err, "`lagline check` shows them"));
    const Ran checked = run({"check", plant.path(), "--at", fixed_day});
    CHECK(checked.code == 0);
    CHECK(holds(checked.out, "warning [contradiction] least_thickness"));
    CHECK(holds(checked.out, "0 errors, 1 warning"));
}

TEST_CASE(
    "readings that contradict each other are warned of at their cell, with the rules' answer") {
    const StarterPlant plant;
    plant.write("inspections.csv",
                "segment,date,technique,coverage [%],least_thickness [mm]\n"
                "EX-001,2010-01-01,strip_and_measure,100,4.5\n"
                "EX-001,2015-01-01,strip_and_measure,100,5.5\n");
    const Ran kept = run({"check", plant.path(), "--at", fixed_day});
    CHECK(kept.code == 0);
    CHECK(count(kept.out, "warning [contradiction] least_thickness") == 1);
    CHECK(holds(kept.out, "inspections.csv:3:"));
    CHECK(holds(kept.out, "set aside"));
    const Ran used = run({"check", plant.path(), "--at", fixed_day, "--rules", "published"});
    CHECK(count(used.out, "warning [contradiction] least_thickness") == 1);
    CHECK_FALSE(holds(used.out, "set aside"));
}

TEST_CASE("a rank date before a segment is in service is a warning") {
    const StarterPlant plant;
    const Ran checked = run({"check", plant.path(), "--at", "1990-01-01"});
    CHECK(checked.code == 0);
    CHECK(count(checked.out, "warning [contradiction] in_service") == 2);
}

}  // namespace
}  // namespace lagline
