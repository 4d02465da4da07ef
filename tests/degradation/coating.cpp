#include "degradation/coating.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "support/columns.h"

namespace lagline {
namespace {

// The rule as its source states it (API RP 581, 3rd edition, Part 2, section 16; recalled), in two
// branches; the program has both in one expression.
double credit_by_branches(double life, double age_coat, double age_tke) {
    if (age_tke >= age_coat) return std::min(life, age_coat);
    return std::min(life, age_coat) - std::min(life, age_coat - age_tke);
}

TEST_CASE("coating credit by API RP 581 (3rd ed.), Part 2, section 16 (recalled), case by case") {
    struct Row {
        double life, age_coat, age_tke, credit;
        const char* why;
    };
    for (const Row& row :
         {Row{5, 15, 15, 5, "coated when the wall was last known: whole life"},
          Row{15, 10, 10, 10, "younger than its life: all its age"},
          Row{15, 10, 20, 10, "coated after the wall was last known"},
          Row{5, 8, 20, 5, "the same, and worn out since"},
          Row{15, 20, 12, 7, "15 years of life, 8 of them spent at the reading"},
          Row{15, 10, 4, 4, "alive at the reading and today: all the time"},
          Row{5, 20, 12, 0, "worn out before the reading"}, Row{0, 20, 12, 0, "no life at all"},
          Row{15, 0, 12, 0, "coated on the day of calculation"},
          Row{15, 20, 0, 0, "read on the day of calculation"}}) {
        CAPTURE(std::string{row.why});
        CHECK(coating_credit_years(row.life, row.age_coat, row.age_tke, false) == row.credit);
        CHECK(credit_by_branches(row.life, row.age_coat, row.age_tke) == row.credit);
        CHECK(coating_credit_years(row.life, row.age_coat, row.age_tke, true) == 0.0);
    }
}

TEST_CASE("coating credit equals the two branches of its source, lies in range and is continuous") {
    std::mt19937_64 dice{20250101};
    std::uniform_real_distribution<double> years{0.0, 40.0};
    for (int draw = 0; draw < 20000; ++draw) {
        const double life = years(dice);
        const double age_coat = years(dice);
        const double age_tke = draw % 4 == 0 ? age_coat : years(dice);  // the seam, too
        CAPTURE(life);
        CAPTURE(age_coat);
        CAPTURE(age_tke);
        const double credit = coating_credit_years(life, age_coat, age_tke, false);
        REQUIRE(credit == credit_by_branches(life, age_coat, age_tke));
        REQUIRE(credit >= 0.0);
        REQUIRE(credit <= age_tke + 1e-12);
        REQUIRE(credit <= life);
        REQUIRE_FALSE((credit == 0.0 && std::signbit(credit)));
        // A slope of at most 1 in each age: a small step gives no jump, least of all at equality.
        const double step = 1e-6;
        const double later = coating_credit_years(life, age_coat, age_tke + step, false);
        const double older = coating_credit_years(life, age_coat + step, age_tke, false);
        REQUIRE(std::abs(later - credit) <= step + 1e-12);
        REQUIRE(std::abs(older - credit) <= step + 1e-12);
    }
}

}  // namespace
}  // namespace lagline
