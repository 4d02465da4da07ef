#include "quantity/unit.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

using namespace lagline;

namespace {

constexpr int last_dimension = static_cast<int>(Dimension::deposition);
// A rounded factor, a product and a sum: a few units in the last place.
constexpr double few_ulp = 4 * std::numeric_limits<double>::epsilon();

Unit unit(std::string_view symbol, Dimension dimension) {
    const auto parsed = parse_unit(symbol, dimension);
    REQUIRE_MESSAGE(parsed.has_value(), std::string(symbol));
    return *parsed;
}

double to_base(double value, std::string_view symbol, Dimension dimension) {
    return convert(value, unit(symbol, dimension), base_unit(dimension));
}

/// Within `relative` of the wanted value, without doctest's added 1.
bool near(double got, double wanted, double relative) {
    return std::abs(got - wanted) <= relative * std::abs(wanted);
}

}  // namespace

TEST_CASE("conversions reproduce NIST SP 811 (2008), appendix B.8 (factors recalled)") {
    // Tolerance: half a unit of the last printed digit; factors that NIST prints in bold are exact.
    struct Row {
        std::string_view symbol;
        Dimension dimension;
        double factor, tolerance;
    };
    for (const auto& row : {
             Row{"in", Dimension::length, 25.4, few_ulp},
             Row{"mil", Dimension::length, 2.54e-2, few_ulp},
             Row{"thou", Dimension::length, 2.54e-2, few_ulp},
             Row{"ft", Dimension::length, 304.8, few_ulp},
             Row{"ft2", Dimension::area, 9.290304e-2, few_ulp},
             Row{"psi", Dimension::stress, 6.894757e-3, 0.5e-6 / 6.8},
             Row{"ksi", Dimension::stress, 6.894757, 0.5e-6 / 6.8},
             Row{"psig", Dimension::pressure, 6.894757e-3, 0.5e-6 / 6.8},
             Row{"bar", Dimension::pressure, 0.1, few_ulp},
             Row{"kgf/cm2", Dimension::pressure, 9.80665e-2, few_ulp},
             Row{"delta_degF", Dimension::temperature_difference, 1 / 1.8, few_ulp},
             Row{"mpy", Dimension::corrosion_rate, 2.54e-2, few_ulp},
         }) {
        CAPTURE(row.symbol);
        CHECK(near(to_base(1.0, row.symbol, row.dimension), row.factor, row.tolerance));
    }
    // Degree Fahrenheit to degree Celsius: (t - 32) / 1.8.
    for (const double degf : {-459.67, -40.0, 0.0, 32.0, 160.0, 212.0, 350.0, 1000.0}) {
        CAPTURE(degf);
        const double wanted = (degf - 32) / 1.8;
        CHECK(near(to_base(degf, "degF", Dimension::temperature), wanted, few_ulp));
    }
    CHECK(to_base(300.0, "K", Dimension::temperature) == doctest::Approx(26.85).epsilon(1e-14));
}

TEST_CASE("conversions that must not lose a digit") {
    CHECK(to_base(160.0, "degF", Dimension::temperature) == 640.0 / 9.0);
    CHECK(to_base(32.0, "degF", Dimension::temperature) == 0.0);
    CHECK(to_base(212.0, "degF", Dimension::temperature) == 100.0);
    CHECK(to_base(-40.0, "degF", Dimension::temperature) == -40.0);
    CHECK(to_base(273.15, "K", Dimension::temperature) == 0.0);
    CHECK(to_base(0.280, "in", Dimension::length) == 7.112);
    // 250 x 4.4482216152605 N / 645.16 mm2 = 1.72368932329209034168...
    CHECK(near(to_base(250.0, "psi", Dimension::stress), 1.72368932329209034168,
               std::numeric_limits<double>::epsilon()));
    CHECK(to_base(0.1 + 0.2, "mm", Dimension::length) == 0.1 + 0.2);
}

TEST_CASE("API 570: NPS 16 example in psig agrees with its kPa column where that is right") {
    // Older table 7-1, row 7 years: 450 psig and 3104 kPa; 450 psi is 3102.6 kPa, the printed value
    // differs in the fourth digit.
    const double kpa =
        convert(450.0, unit("psig", Dimension::pressure), unit("kPag", Dimension::pressure));
    CHECK(kpa == doctest::Approx(3104.0).epsilon(1e-3));
}

TEST_CASE("gauge and absolute pressure differ by one standard atmosphere") {
    CHECK(to_base(1.01325, "bara", Dimension::pressure) == doctest::Approx(0.0));
    CHECK(to_base(101.325, "kPaa", Dimension::pressure) == doctest::Approx(0.0));
    CHECK(to_base(1.0, "MPaa", Dimension::pressure) == doctest::Approx(0.898675).epsilon(1e-14));
    // 14.6959 psi: NIST SP 811 (recalled), atmosphere over pound-force per square inch.
    CHECK(std::abs(to_base(14.6959, "psia", Dimension::pressure)) < 0.00005 * 6.9e-3);
    CHECK(to_base(10.0, "bar", Dimension::pressure) == to_base(10.0, "barg", Dimension::pressure));
    CHECK_FALSE(parse_unit("barg", Dimension::stress));
    CHECK_FALSE(parse_unit("psia", Dimension::stress));
}

TEST_CASE("times are those of the Julian year") {
    CHECK(to_base(365.25, "day", Dimension::time) == doctest::Approx(1.0).epsilon(1e-15));
    CHECK(to_base(8766.0, "h", Dimension::time) == doctest::Approx(1.0).epsilon(1e-15));
    CHECK(to_base(18.0, "month", Dimension::time) == doctest::Approx(1.5).epsilon(1e-15));
    CHECK(to_base(365.25, "week", Dimension::time) == doctest::Approx(7.0).epsilon(1e-15));
    CHECK(to_base(1.0, "1/h", Dimension::frequency) == 8766.0);
    CHECK(to_base(1.0, "1/day", Dimension::frequency) == 365.25);
}

TEST_CASE("every spelling in use is understood") {
    struct Row {
        Dimension dimension;
        std::vector<std::string_view> spellings;
    };
    for (const auto& row : {
             Row{Dimension::temperature, {"degC", "\u00B0C", "C"}},
             Row{Dimension::temperature, {"degF", "\u00B0F", "F"}},
             Row{Dimension::temperature_difference, {"K", "deltaC", "delta_degC"}},
             Row{Dimension::length, {"um", "\u00B5m", "\u03BCm"}},
             Row{Dimension::length, {"mil", "thou"}},
             Row{Dimension::corrosion_rate, {"mm/y", "mm/yr", "mm/a", "mm/year"}},
             Row{Dimension::corrosion_rate,
                 {"um/y", "um/yr", "um/a", "um/year", "\u00B5m/y", "\u03BCm/y", "\u00B5m/a",
                  "\u03BCm/a"}},
             Row{Dimension::corrosion_rate, {"in/y", "in/yr"}},
             Row{Dimension::area, {"m2", "m\u00B2"}},
             Row{Dimension::area, {"ft2", "ft\u00B2"}},
             Row{Dimension::pressure, {"MPa", "MPag"}},
             Row{Dimension::pressure, {"psi", "psig"}},
             Row{Dimension::pressure, {"bar", "barg"}},
             Row{Dimension::pressure, {"kPa", "kPag"}},
             Row{Dimension::pressure, {"kgf/cm2", "kgf/cm\u00B2"}},
             Row{Dimension::stress, {"MPa", "N/mm2", "N/mm\u00B2"}},
             Row{Dimension::deposition, {"mg/m2/day", "mg/m2/d", "mg/m\u00B2/day"}},
             Row{Dimension::conductivity, {"W/m/K", "W/(m K)"}},
             Row{Dimension::time, {"y", "yr", "year", "a"}},
             Row{Dimension::time, {"day", "d"}},
             Row{Dimension::frequency, {"1/y", "1/yr"}},
             Row{Dimension::number, {"", "-", "1"}},
             Row{Dimension::work, {"h", "man-h"}},
         }) {
        const auto first = unit(row.spellings.front(), row.dimension);
        for (const auto spelling : row.spellings) {
            CAPTURE(spelling);
            const auto here = unit(spelling, row.dimension);
            CHECK(here.scale == first.scale);
            CHECK(here.offset == first.offset);
            CHECK(convert(0.1, here, first) == 0.1);
        }
    }
    CHECK(to_base(25.0, "%", Dimension::number) == 0.25);
    CHECK(unit("NPS", Dimension::nominal_size).symbol == "NPS");
    CHECK(unit(" degF ", Dimension::temperature).symbol == "degF");
}

TEST_CASE("a unit of another dimension is refused") {
    CHECK_FALSE(parse_unit("mm", Dimension::temperature));
    CHECK_FALSE(parse_unit("degC", Dimension::temperature_difference));
    CHECK_FALSE(parse_unit("deltaC", Dimension::temperature));
    CHECK_FALSE(parse_unit("", Dimension::length));
    CHECK_FALSE(parse_unit("MM", Dimension::length));  // capitals matter: mPa is not MPa
    CHECK_FALSE(parse_unit("mPa", Dimension::stress));
    CHECK_FALSE(parse_unit("%", Dimension::length));
}

TEST_CASE("dimensions_of names every reading of a symbol") {
    using List = std::vector<Dimension>;
    CHECK(dimensions_of("K") == List{Dimension::temperature, Dimension::temperature_difference});
    CHECK(dimensions_of("MPa") == List{Dimension::pressure, Dimension::stress});
    CHECK(dimensions_of("h") == List{Dimension::time, Dimension::work});
    CHECK(dimensions_of("mm") == List{Dimension::length});
    CHECK(dimensions_of("kEUR") == List{Dimension::money});
    CHECK(dimensions_of("NPS") == List{Dimension::nominal_size});
    CHECK(dimensions_of("furlong").empty());
}

TEST_CASE("money keeps its currency in the symbol and has a scale") {
    CHECK(unit("EUR", Dimension::money).scale == 1.0);
    CHECK(unit("kEUR", Dimension::money).scale == 1e3);
    CHECK(unit("MNOK", Dimension::money).scale == 1e6);
    CHECK(unit("MNOK", Dimension::money).symbol == "MNOK");
    CHECK(to_base(2.5, "kUSD", Dimension::money) == 2500.0);
    CHECK(base_unit(Dimension::money).symbol.empty());
    for (const auto* bad : {"", "eur", "EURO", "KEUR", "kkEUR", "k", "EU", "NPS", "kNPS"}) {
        CAPTURE(bad);
        CHECK_FALSE(parse_unit(bad, Dimension::money));
    }
}

TEST_CASE("convert refuses what has no fixed factor") {
    const auto mm = unit("mm", Dimension::length);
    CHECK_THROWS_AS((void)convert(1.0, mm, unit("degC", Dimension::temperature)),
                    std::invalid_argument);
    CHECK_THROWS_AS(
        (void)convert(1.0, unit("MPa", Dimension::stress), unit("MPa", Dimension::pressure)),
        std::invalid_argument);
    CHECK_THROWS_AS(
        (void)convert(1.0, unit("EUR", Dimension::money), unit("USD", Dimension::money)),
        std::invalid_argument);
    CHECK_THROWS_AS((void)convert(6.0, unit("NPS", Dimension::nominal_size),
                                  unit("DN", Dimension::nominal_size)),
                    std::invalid_argument);
    CHECK(convert(2.0, unit("MEUR", Dimension::money), unit("kEUR", Dimension::money)) == 2000.0);
}

TEST_CASE("each dimension offers symbols it understands, and has a base unit of scale 1") {
    for (int i = 0; i <= last_dimension; ++i) {
        const auto dimension = static_cast<Dimension>(i);
        CAPTURE(describe(dimension));
        const auto& base = base_unit(dimension);
        CHECK(base.dimension == dimension);
        CHECK(base.scale == 1.0);
        CHECK(base.offset == 0.0);
        const auto symbols = unit_symbols(dimension);
        CHECK_FALSE(symbols.empty());
        CHECK(symbols.size() <= 12);
        for (const auto symbol : symbols) {
            CAPTURE(symbol);
            const auto parsed = parse_unit(symbol, dimension);
            REQUIRE(parsed);
            CHECK_FALSE(symbol.empty());
            CHECK(std::ranges::count(symbols, symbol) == 1);
        }
    }
    CHECK(base_unit(Dimension::temperature).symbol == "degC");
    CHECK(base_unit(Dimension::temperature_difference).symbol == "K");
    CHECK(base_unit(Dimension::corrosion_rate).symbol == "mm/y");
    CHECK(base_unit(Dimension::pressure).symbol == "MPa");
    CHECK(base_unit(Dimension::deposition).symbol == "mg/m2/day");
}

TEST_CASE("there and back again is the same value to a few units in the last place") {
    for (int i = 0; i <= last_dimension; ++i) {
        const auto dimension = static_cast<Dimension>(i);
        if (dimension == Dimension::nominal_size) continue;
        for (const auto symbol : unit_symbols(dimension)) {
            const auto here = unit(symbol, dimension);
            for (const double value : {0.001, 1.0, 37.7, 1234.5}) {
                CAPTURE(symbol);
                CAPTURE(value);
                const double base = convert(value, here, base_unit(dimension));
                const double back = convert(base, base_unit(dimension), here);
                // An offset costs digits of a small value: judged against the larger of the two.
                const double size = std::max(value, std::abs(here.offset / here.scale));
                CHECK(std::abs(back - value) <= few_ulp * size);
            }
        }
    }
}

TEST_CASE("a description belongs to each dimension") {
    CHECK(describe(Dimension::temperature) == "a temperature");
    CHECK(describe(Dimension::length) == "a length");
    CHECK(describe(Dimension::area) == "an area");
}
