#include <doctest/doctest.h>

#include <string_view>
#include <vector>

#include "ranking/ranking.h"
#include "support/columns.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

// In service and coated (medium, 5 years) on 2005-01-01, ranked on 2025-01-01.
double at_2025(const std::vector<Cells>& inspections, std::string_view key,
               const Cells& changes = {}) {
    const Plant plant =
        assemble({.segments = {segment_cells("S-1", changes)}, .inspections = inspections},
                 published_rules());
    return number_of(plant, rank(plant, published_rules()), "S-1", key);
}

TEST_CASE("without inspections time counts from the start of service, less the coating's life") {
    CHECK(at_2025({}, "wall_thickness") == 7.11);
    CHECK(at_2025({}, "time_since_wall") == 20.0);
    CHECK(at_2025({}, "coating_credit") == 5.0);
    CHECK(at_2025({}, "exposed_time") == 15.0);
}

TEST_CASE(
    "an accepted reading resets wall and clock, and the worn-out coating gives nothing more") {
    const std::vector<Cells> read{
        inspection_cells("S-1", "2017-01-01", {{"least_thickness", "6.2 mm"}})};
    CHECK(at_2025(read, "wall_thickness") == 6.2);
    CHECK(at_2025(read, "time_since_wall") == 8.0);
    CHECK(at_2025(read, "coating_credit") == 0.0);
    CHECK(at_2025(read, "exposed_time") == 8.0);
}

TEST_CASE("recoated after the reading: the whole life counts again") {
    const std::vector<Cells> read{
        inspection_cells("S-1", "2017-01-01", {{"least_thickness", "6.2 mm"}})};
    const Cells recoated{{"coating_date", "2018-01-01"}};
    CHECK(at_2025(read, "coating_credit", recoated) == 5.0);
    CHECK(at_2025(read, "exposed_time", recoated) == 3.0);
}

TEST_CASE("a coating found failed gives no credit; found before recoating it says nothing") {
    const std::vector<Cells> rusty{inspection_cells("S-1", "2012-01-01", {{"rust_grade", "3"}})};
    CHECK(at_2025(rusty, "coating_credit") == 0.0);
    CHECK(at_2025(rusty, "exposed_time") == 20.0);
    const Cells recoated{{"coating_date", "2018-01-01"}};
    CHECK(at_2025(rusty, "coating_credit", recoated) == 5.0);
    CHECK(at_2025(rusty, "exposed_time", recoated) == 15.0);
    const std::vector<Cells> sound{inspection_cells("S-1", "2012-01-01", {{"rust_grade", "8"}})};
    CHECK(at_2025(sound, "coating_credit") == 5.0);
}

TEST_CASE("inspections after the rank date change nothing, neither wall, coating nor probability") {
    const std::vector<Cells> later{
        inspection_cells("S-1", "2025-01-02", {{"least_thickness", "3 mm"}, {"rust_grade", "0"}})};
    for (const std::string_view key :
         {"wall_thickness", "exposed_time", "coating_credit", "inspections_a",
          "state_probability_1", "probability_of_failure", "risk"}) {
        CAPTURE(key);
        CHECK(at_2025(later, key) == at_2025({}, key));
    }
}

TEST_CASE("inspections that find nothing lower the probability: none, one, two; B then A") {
    const auto probability = [](std::size_t number, const char* coverage) {
        const std::vector<Cells> clean(
            number, inspection_cells("S-1", "2020-01-01", {{"coverage", coverage}}));
        return at_2025(clean, "probability_of_failure");
    };
    const double none = probability(0, "100 %");
    CHECK(probability(1, "60 %") < none);
    CHECK(probability(1, "100 %") < probability(1, "60 %"));
    CHECK(probability(2, "60 %") < probability(1, "60 %"));
    CHECK(probability(3, "3 %") == none);  // ineffective
}

}  // namespace
}  // namespace lagline
