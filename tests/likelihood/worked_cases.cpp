#include "support/worked_cases.h"

#include <doctest/doctest.h>

#include <cstdint>
#include <string>
#include <vector>

#include "degradation/coating.h"
#include "degradation/wall_loss.h"
#include "likelihood/damage_factor.h"
#include "likelihood/strength.h"
#include "likelihood/updating.h"
#include "support/columns.h"
#include "support/printed.h"
#include "support/rules.h"

namespace lagline {
namespace {

constexpr auto cases = static_cast<Eigen::Index>(worked_cases.size());

// Lengths and stresses of a system of units, in inches and psi.
struct Units {
    const char* name;
    double inch;  ///< length units in an inch
    double psi;   ///< stress units in a psi
};

template <class Get>
Numbers gathered(const Get& get) {
    Numbers numbers(cases);
    for (Eigen::Index i = 0; i < cases; ++i) {
        numbers[i] = get(worked_cases[static_cast<std::size_t>(i)]);
    }
    return numbers;
}

Numbers made() { return Numbers(cases); }

// The whole method, one kernel after the other, four segments at a time.
struct Worked {
    Numbers base = made(), rate = made(), credit = made(), exposed = made(), needed = made(),
            flow = made(), ratio_a = made(), ratio_b = made(), ratio = made(), fraction = made(),
            damage = made(), probability = made();
    std::array<Numbers, 3> state{made(), made(), made()}, index{made(), made(), made()};

    explicit Worked(const Units& units) {
        wall_loss(units);
        strength(units);
        likelihood();
    }

  private:
    void wall_loss(const Units& units) {
        const RuleSet& rules = published_rules();
        std::vector<std::uint8_t> drivers;
        for (const WorkedCase& each : worked_cases) {
            drivers.push_back(code_of(rules, "driver", each.driver));
        }
        std::vector<std::uint8_t> outside(worked_cases.size(), 0);
        base_rate(rules.curve("base_rate"),
                  held_at(gathered([](const WorkedCase& c) { return degc_from_degf(c.degf); })),
                  drivers, base, outside);
        CHECK(outside == std::vector<std::uint8_t>(worked_cases.size(), 0));
        base *= units.inch / mm_per_inch;  // the table gives mm/y
        corrosion_rate(base, gathered([](const WorkedCase& c) { return c.insulation; }),
                       gathered([](const WorkedCase& c) { return c.complexity; }),
                       gathered([](const WorkedCase& c) { return c.condition; }),
                       gathered([](const WorkedCase& c) { return c.pooling; }),
                       gathered([](const WorkedCase& c) { return c.interface_factor; }),
                       Numbers::Ones(cases), rate);
        const Numbers since = gathered([](const WorkedCase& c) { return c.since_wall_y; });
        credit = gathered([](const WorkedCase& c) {
            return coating_credit_years(c.coating_life_y, c.coating_age_y, c.since_wall_y, false);
        });
        exposed = since - credit;
        wall_ = units.inch * gathered([](const WorkedCase& c) { return c.wall_in; });
        wall_fraction(rate, exposed, wall_, fraction);
    }

    void strength(const Units& units) {
        const Numbers one = Numbers::Ones(cases);
        const Numbers allowable = Numbers::Constant(cases, units.psi * allowable_psi);
        const Numbers pressure =
            units.psi * gathered([](const WorkedCase& c) { return c.pressure_psi; });
        const Numbers outside =
            units.inch * gathered([](const WorkedCase& c) { return c.outside_in; });
        const Numbers nominal =
            units.inch * gathered([](const WorkedCase& c) { return c.nominal_in; });
        flow_stress(Numbers::Constant(cases, units.psi * yield_psi),
                    Numbers::Constant(cases, units.psi * tensile_psi), one, 1.1, flow);
        pressure_minimum(pressure, outside, allowable, one, nominal, Numbers::Zero(cases), 0.4,
                         needed);
        const Numbers minimum =
            needed.max(units.inch * gathered([](const WorkedCase& c) { return c.structural_in; }));
        strength_ratio_by_minimum(allowable, one, flow, minimum, wall_, ratio_a);
        strength_ratio_by_pressure(pressure, outside, nominal, flow, wall_, 2.0, ratio_b);
        ratio = ratio_a.max(ratio_b);
    }

    void likelihood() {
        const GridTable& conditional = published_rules().grid("conditional_probability");
        constexpr std::array state_factors{1.0, 2.0, 4.0};
        for (Eigen::Index i = 0; i < cases; ++i) {
            const WorkedCase& each = worked_cases[static_cast<std::size_t>(i)];
            const auto states = updated_states(each.prior, conditional, each.counts);
            for (std::size_t k = 0; k < damage_states; ++k) state[k][i] = states[k];
        }
        for (std::size_t k = 0; k < damage_states; ++k) {
            reliability_index(fraction, ratio, state_factors[k], {0.20, 0.20, 0.05}, index[k]);
        }
        damage_factor({state[0], state[1], state[2]}, {index[0], index[1], index[2]}, 1.56e-4,
                      damage);
        probability_of_failure(Numbers::Constant(cases, 3.06e-5), 1.0, damage, 1.0, probability);
    }

    Numbers wall_;
};

void check(double got, std::string_view printed) { CHECK(printed_like(got, printed) == printed); }

TEST_CASE(
    "cases W1 to W4 of the wall-loss method, API RP 581 (3rd ed.), Part 2, section 16, to "
    "every digit, in inches and psi as in mm and MPa") {
    for (const Units& units :
         {Units{"inch, psi", 1.0, 1.0}, Units{"mm, MPa", mm_per_inch, mpa_per_psi}}) {
        CAPTURE(std::string{units.name});
        const Worked got{units};
        for (Eigen::Index i = 0; i < cases; ++i) {
            const WorkedCase& expected = worked_cases[static_cast<std::size_t>(i)];
            CAPTURE(expected.name);
            check(1000.0 * got.base[i] / units.inch, expected.base_mpy);
            check(1000.0 * got.rate[i] / units.inch, expected.rate_mpy);
            check(got.credit[i], expected.credit_y);
            check(got.exposed[i], expected.exposed_y);
            check(got.needed[i] / units.inch, expected.pressure_minimum_in);
            check(got.flow[i] / units.psi, "52250.0");
            check(got.ratio_a[i], expected.ratio_a);
            check(got.ratio_b[i], expected.ratio_b);
            check(got.fraction[i], expected.fraction);
            for (std::size_t k = 0; k < damage_states; ++k) {
                CAPTURE(k);
                check(got.state[k][i], expected.state[k]);
                check(got.index[k][i], expected.index[k]);
            }
            check(got.damage[i], expected.damage);
            check(got.probability[i], expected.probability);
        }
    }
}

TEST_CASE("pure numbers of the cases do not depend on the units") {
    const Worked inch{{"inch, psi", 1.0, 1.0}};
    const Worked metric{{"mm, MPa", mm_per_inch, mpa_per_psi}};
    const auto same = [](const Numbers& a, const Numbers& b) {
        for (Eigen::Index i = 0; i < a.size(); ++i)
            CHECK(a[i] == doctest::Approx(b[i]).epsilon(1e-12));
    };
    same(inch.fraction, metric.fraction);
    same(inch.ratio, metric.ratio);
    for (std::size_t k = 0; k < damage_states; ++k) same(inch.index[k], metric.index[k]);
    same(inch.damage, metric.damage);
}

}  // namespace
}  // namespace lagline
