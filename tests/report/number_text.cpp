#include "blocks/number_text.h"

#include <doctest/doctest.h>

#include <bit>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <random>
#include <string>

namespace lagline {
namespace {

TEST_CASE("plain_number: the same double, never an exponent") {
    CHECK(plain_number(100'000.0) == "100000");
    CHECK(plain_number(9.53) == "9.53");
    CHECK(plain_number(-1.5e-7) == "-0.00000015");
    for (const double value :
         {std::numeric_limits<double>::max(), -0.1, std::numeric_limits<double>::min(),
          std::numeric_limits<double>::denorm_min(), 2.2250738585072011e-308}) {
        const std::string text = plain_number(value);
        CAPTURE(text);
        CHECK(text.find('e') == std::string::npos);
        CHECK(std::strtod(text.c_str(), nullptr) == value);
    }
}

TEST_CASE("short_number: significant digits for people") {
    struct Row {
        double value;
        int digits;
        std::string text;
    };
    for (const Row& row : {Row{0.0, 3, "0"},
                           Row{-0.0, 3, "0"},
                           Row{0.5, 3, "0.5"},
                           Row{1.0, 3, "1"},
                           Row{-1.0, 3, "-1"},
                           Row{-12.345, 3, "-12.3"},
                           Row{-0.05578, 2, "-0.056"},
                           Row{0.55804, 3, "0.558"},
                           Row{0.0001, 3, "0.0001"},
                           Row{0.00001, 3, "1e-05"},
                           Row{9.3022e-5, 3, "9.3e-05"},
                           Row{3039.935, 4, "3040"},
                           Row{3039.935, 2, "3040"},  // digits before the point are all shown
                           Row{999.96, 4, "1000"},
                           Row{999.96, 5, "999.96"},
                           Row{9.9996, 4, "10"},
                           Row{100.0, 2, "100"},
                           Row{1000000.0, 3, "1000000"},
                           Row{123456789.0, 3, "123456789"},
                           Row{1e15, 3, "1e+15"},
                           Row{1.5e15, 3, "1.5e+15"},
                           Row{1e-300, 3, "1e-300"},
                           Row{1e300, 3, "1e+300"},
                           Row{-1.25e-300, 3, "-1.25e-300"},
                           Row{-1.25e300, 1, "-1e+300"},
                           Row{2.0e300, 1, "2e+300"},
                           Row{5e-324, 2, "4.9e-324"}}) {
        CAPTURE(row.value);
        CAPTURE(row.digits);
        CHECK(short_number(row.value, row.digits) == row.text);
    }
}

TEST_CASE("short_number: what is no finite number is said so") {
    CHECK(short_number(std::numeric_limits<double>::infinity(), 3) == "inf");
    CHECK(short_number(-std::numeric_limits<double>::infinity(), 3) == "-inf");
    CHECK(short_number(std::numeric_limits<double>::quiet_NaN(), 3).ends_with("nan"));
}

TEST_CASE("short_number: within half a unit of the last digit, over the whole range of doubles") {
    std::mt19937_64 dice{3};
    std::uniform_real_distribution<double> mantissa{1.0, 10.0};
    std::uniform_int_distribution<int> exponent{-290, 290};
    for (int draw = 0; draw < 20000; ++draw) {
        const double value = mantissa(dice) * std::pow(10.0, exponent(dice));
        const double shown = std::stod(short_number(value, 4));
        CAPTURE(value);
        REQUIRE(std::abs(shown / value - 1.0) <= 0.5e-3 * (1.0 + 1e-9));
    }
}

TEST_CASE("exact_number reads back as the same double, whatever its bits") {
    std::mt19937_64 dice{4};
    for (int draw = 0; draw < 50000; ++draw) {
        const auto value = std::bit_cast<double>(dice());
        if (!std::isfinite(value)) continue;
        const std::string text = exact_number(value);
        double back = 0.0;
        const auto read = std::from_chars(text.data(), text.data() + text.size(), back);
        REQUIRE(read.ptr == text.data() + text.size());
        REQUIRE(std::bit_cast<std::uint64_t>(back) == std::bit_cast<std::uint64_t>(value));
    }
    CHECK(exact_number(0.1) == "0.1");
    CHECK(exact_number(100.0) == "100");
    CHECK(exact_number(-7.11) == "-7.11");
}

}  // namespace
}  // namespace lagline
