#include <doctest/doctest.h>

#include <algorithm>
#include <initializer_list>

#include "degradation/coating.h"
#include "degradation/weibull.h"

namespace lagline {
namespace {

// Quarters of a year are exact in binary: the comparison is by ==.
TEST_CASE("a life without spread (shape 1e6) is the banded credit, exactly") {
    for (const double life : {0.0, 5.0, 15.0}) {
        for (double age = 0.0; age <= 30.0; age += 0.25) {
            for (double since_wall = 0.0; since_wall <= 30.0; since_wall += 0.25) {
                CAPTURE(life);
                CAPTURE(age);
                CAPTURE(since_wall);
                const double credit = coating_credit_years(life, age, since_wall, false);
                const double banded = since_wall - credit;
                // Bare before the coating was applied, then the coating from its age on.
                const double bare = std::max(0.0, since_wall - age);
                const double from = std::max(0.0, age - since_wall);
                const double spread = bare + unprotected_time({life, 1e6}, {}, from, age);
                CHECK(spread == banded);
            }
        }
    }
}

TEST_CASE("a narrow spread comes close to it: shape 2000 within a hundredth of a year") {
    for (double age = 1.0; age <= 30.0; age += 1.0) {
        CAPTURE(age);
        const double banded = age - coating_credit_years(15.0, age, age, false);
        CHECK(std::abs(unprotected_time({15.0, 2000.0}, {}, 0.0, age) - banded) < 0.01);
    }
}

}  // namespace
}  // namespace lagline
