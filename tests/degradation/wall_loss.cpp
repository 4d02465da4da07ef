#include "degradation/wall_loss.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "support/columns.h"
#include "support/printed.h"
#include "support/rules.h"

namespace lagline {
namespace {

struct Rates {
    Numbers mm_per_year;
    std::vector<std::uint8_t> outside;
};

Rates rates_at(std::initializer_list<double> degf, std::vector<std::uint8_t> drivers) {
    Numbers degc = column(degf);
    for (double& each : degc) each = degc_from_degf(each);
    Rates rates{Numbers(degc.size()), std::vector<std::uint8_t>(drivers.size(), 0)};
    base_rate(published_rules().curve("base_rate"), held_at(degc), drivers, rates.mm_per_year,
              rates.outside);
    return rates;
}

TEST_CASE("base_rate between the points of API RP 581 (3rd ed., 2020), Part 2, Table 16.2") {
    // Straight lines between the printed points, worked out apart from this program.
    struct Row {
        double degf;
        std::string_view driver, mpy, mm_per_year;
        std::uint8_t outside;
    };
    for (const Row& row :
         {Row{30, "severe", "6.36", "0.16154", 0}, Row{120, "moderate", "7.142857", "0.181429", 0},
          Row{190, "mild", "3.153846", "0.080108", 0},
          Row{200, "severe", "13.846154", "0.351692", 0}, Row{250, "moderate", "3.5", "0.0889", 0},
          Row{300, "severe", "7.5", "0.1905", 0}, Row{160, "dry", "2.0", "0.0508", 0},
          Row{355, "severe", "0", "0", 1}}) {
        CAPTURE(row.degf);
        CAPTURE(row.driver);
        const Rates got = rates_at({row.degf}, {code_of(published_rules(), "driver", row.driver)});
        CHECK(printed_like(got.mm_per_year[0] / mm_per_mil, row.mpy) == row.mpy);
        CHECK(printed_like(got.mm_per_year[0], row.mm_per_year) == row.mm_per_year);
        CHECK(got.outside[0] == row.outside);
    }
}

TEST_CASE("base_rate works through a column and flags only the rows outside the table") {
    const std::uint8_t severe = code_of(published_rules(), "driver", "severe");
    const Rates got = rates_at({9, 10, 160, 350, 351}, {severe, severe, severe, severe, severe});
    CHECK(got.outside == std::vector<std::uint8_t>{1, 0, 0, 0, 1});
    CHECK(got.mm_per_year[0] == 0.0);
    CHECK(printed_like(got.mm_per_year[2] / mm_per_mil, "20.0") == "20.0");
    CHECK(got.mm_per_year[4] == 0.0);
}

TEST_CASE("base_rate is continuous: a thousandth of a degree never moves it by much") {
    // Steepest stretch of the table: severe, from 0 at 10 degF to 3 mpy at 18 degF.
    const double most = 3.0 / 8.0 * mm_per_mil * 0.001 * (1.0 + 1e-6);
    for (const auto* driver : {"severe", "moderate", "mild", "dry"}) {
        const std::uint8_t code = code_of(published_rules(), "driver", driver);
        const CurveTable& table = published_rules().curve("base_rate");
        for (double degf = 5.0; degf < 355.0; degf += 0.25) {
            CAPTURE(degf);
            const double here = table.find(code, degc_from_degf(degf)).value;
            const double beside = table.find(code, degc_from_degf(degf + 0.001)).value;
            CHECK(std::abs(beside - here) <= most);
            CHECK(here >= 0.0);
            CHECK(here <= 20.0 * mm_per_mil * (1.0 + 1e-12));
        }
    }
}

TEST_CASE("factor takes the entry of each row's code, whatever the order of the rows") {
    const LookupTable& table = published_rules().lookup("insulation_factor");
    const std::vector<std::uint8_t> types{
        code_of(published_rules(), "insulation_type", "mineral_wool"),
        code_of(published_rules(), "insulation_type", "cellular_glass"),
        code_of(published_rules(), "insulation_type", "perlite")};
    const std::vector<std::uint32_t> rows{2, 0, 1, 0};
    Numbers got(4);
    factor(table, types, rows, got);
    CHECK(got[0] == 1.0);
    CHECK(got[1] == 1.25);
    CHECK(got[2] == 0.75);
    CHECK(got[3] == 1.25);
}

TEST_CASE("corrosion_rate takes the larger of pooling and interface factor, not their product") {
    const Numbers one = column({1, 1, 1, 1});
    Numbers got(4);
    corrosion_rate(column({0.1, 0.1, 0.1, 0.1}), one, one, one, column({1, 2, 1, 2}),
                   column({1, 1, 2, 2}), one, got);
    CHECK(got[0] == 0.1);
    CHECK(got[1] == 0.2);
    CHECK(got[2] == 0.2);
    CHECK(got[3] == 0.2);
}

TEST_CASE("corrosion_rate is the product of all its factors") {
    // Unequal factors, so that a factor taken twice or left out shows.
    Numbers got(1);
    corrosion_rate(column({0.254}), column({1.25}), column({0.75}), column({1.5}), column({2.0}),
                   column({1.0}), column({1.1}), got);
    CHECK(got[0] == doctest::Approx(0.254 * 1.25 * 0.75 * 1.5 * 2.0 * 1.1).epsilon(1e-15));
}

}  // namespace
}  // namespace lagline
