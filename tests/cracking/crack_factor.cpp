#include "likelihood/crack_factor.h"

#include <doctest/doctest.h>

#include "extended/made_plant.h"

namespace lagline {
namespace {

double base_of(const char* severity, const InspectionCounts& a_to_d) {
    const RuleSet& rules = shipped_extended();
    return base_damage_factor(rules.grid("scc_base_damage_factor"),
                              word_code(rules, "severity_index", severity), a_to_d)
        .value;
}

TEST_CASE("base damage factor by inspections of one category, Table 6.3 (recalled)") {
    CHECK(base_of("s50", {}) == 50);
    CHECK(base_of("s50", {0, 0, 0, 1}) == 40);
    CHECK(base_of("s50", {0, 0, 1, 0}) == 17);
    CHECK(base_of("s50", {0, 1, 0, 0}) == 5);
    CHECK(base_of("s50", {1, 0, 0, 0}) == 3);
    CHECK(base_of("s50", {2, 0, 0, 0}) == 1);
    CHECK(base_of("s5000", {6, 0, 0, 0}) == 1);
    CHECK(base_of("s5000", {60, 0, 0, 0}) == 1);  // six are the most that count
    CHECK(base_of("s0", {}) == 0);
}

TEST_CASE("two of a lower category count as one of the next, API RP 581, 3.4.3 (recalled)") {
    CHECK(base_of("s50", {0, 0, 0, 2}) == 17);    // one C; two D alone would give 30
    CHECK(base_of("s50", {0, 0, 0, 3}) == 17);    // the odd one is left over
    CHECK(base_of("s50", {0, 0, 2, 0}) == 5);     // one B; two C alone: 10
    CHECK(base_of("s50", {0, 0, 0, 4}) == 5);     // two C, one B
    CHECK(base_of("s50", {0, 0, 1, 2}) == 5);     // two C, one B
    CHECK(base_of("s1000", {0, 0, 0, 8}) == 40);  // two B; six D, four C or one A: 50
    CHECK(base_of("s1000", {0, 2, 0, 0}) == 40);  // two B; one A would give 50
    CHECK(base_of("s1000", {1, 2, 0, 0}) == 10);  // two A
}

TEST_CASE("one more inspection never raises the base damage factor") {
    for (const char* severity : {"s0", "s1", "s10", "s50", "s100", "s500", "s1000", "s5000"}) {
        for (int code = 0; code < 625; ++code) {
            const InspectionCounts counts{
                static_cast<double>(code % 5), static_cast<double>(code / 5 % 5),
                static_cast<double>(code / 25 % 5), static_cast<double>(code / 125)};
            for (std::size_t category = 0; category < counts.size(); ++category) {
                InspectionCounts more = counts;
                more[category] += 1.0;
                CAPTURE(severity);
                CAPTURE(code);
                CAPTURE(category);
                CHECK(base_of(severity, more) <= base_of(severity, counts));
            }
        }
    }
}

double aged(double base, double age_years, double known = 1.0) {
    return aged_damage_factor(base, age_years, known,
                              {.exponent = 1.1, .cap = 5000, .floor = 1, .known_factor = 2});
}

TEST_CASE("growth with age: API RP 581, section 18, D = min(D_B max(age, 1)^1.1, 5000)") {
    // Worked out from the formula apart from the program.
    CHECK(std::abs(aged(50, 12) - 769.2533) <= 5e-5);
    CHECK(std::abs(aged(5, 12) - 76.92533) <= 5e-6);
    CHECK(std::abs(aged(10, 6) - 71.77387) <= 5e-6);
    CHECK(std::abs(aged_damage_factor(50, 80, 1.0, {.exponent = 1.1, .cap = 1e9}) - 6199.68) <=
          5e-3);
    CHECK(aged(50, 80) == 5000);
    CHECK(aged(50, 0.2) == 50);
    CHECK(aged(0, 80) == 1);            // the floor
    CHECK(aged(50, 80, 2.0) == 10000);  // known cracks stand above the cap
}

}  // namespace
}  // namespace lagline
