#include <doctest/doctest.h>

#include <string>
#include <string_view>

#include "quantity/unit.h"

using namespace lagline;

TEST_CASE("read_number reads what a person writes") {
    struct Row {
        std::string_view text;
        double value;
    };
    for (const auto& row : {Row{"12.5", 12.5}, Row{"-3", -3.0}, Row{"1e-4", 1e-4}, Row{"+7", 7.0},
                            Row{" 93 ", 93.0}, Row{".5", 0.5}, Row{"5.", 5.0}, Row{"0", 0.0},
                            Row{"1E3", 1000.0}, Row{"-0.25", -0.25}, Row{"0.1", 0.1}}) {
        CAPTURE(row.text);
        const auto reading = read_number(row.text);
        CHECK(reading.fault == NumberFault::none);
        CHECK(reading.value == row.value);
        CHECK(reading.unit.empty());
    }
}

TEST_CASE("read_number says what is wrong") {
    struct Row {
        std::string_view text;
        NumberFault fault;
    };
    for (const auto& row : {
             Row{"", NumberFault::empty},
             Row{"  \t", NumberFault::empty},
             Row{"abc", NumberFault::not_a_number},
             Row{"12 5", NumberFault::not_a_number},
             Row{"1 000", NumberFault::not_a_number},
             Row{"0x10", NumberFault::not_a_number},
             Row{"1e", NumberFault::not_a_number},
             Row{"--3", NumberFault::not_a_number},
             Row{"+-3", NumberFault::not_a_number},
             Row{"++3", NumberFault::not_a_number},
             Row{"-", NumberFault::not_a_number},
             Row{"+", NumberFault::not_a_number},
             Row{".", NumberFault::not_a_number},
             Row{",", NumberFault::not_a_number},
             Row{"5,", NumberFault::not_a_number},
             Row{"12.5.1", NumberFault::not_a_number},
             Row{"93 mm", NumberFault::not_a_number},
             Row{"info", NumberFault::not_a_number},
             Row{"12,5x", NumberFault::not_a_number},
             Row{"12,5", NumberFault::comma_decimal},
             Row{"-0,25", NumberFault::comma_decimal},
             Row{"1,234.5", NumberFault::comma_decimal},
             Row{"1.234,5", NumberFault::comma_decimal},
             Row{"1,234,567", NumberFault::comma_decimal},
             Row{"inf", NumberFault::not_finite},
             Row{"-inf", NumberFault::not_finite},
             Row{"Infinity", NumberFault::not_finite},
             Row{"nan", NumberFault::not_finite},
             Row{"NaN", NumberFault::not_finite},
             Row{"1e999", NumberFault::not_finite},
             Row{"-1e999", NumberFault::not_finite},
         }) {
        CAPTURE(row.text);
        const auto reading = read_number(row.text);
        CHECK(reading.fault == row.fault);
        CHECK(reading.value == 0.0);
    }
}

TEST_CASE("read_quantity parts the number from its unit") {
    struct Row {
        std::string_view text;
        double value;
        std::string_view unit;
    };
    for (const auto& row :
         {Row{"93", 93.0, ""}, Row{"93 mm", 93.0, "mm"}, Row{"93mm", 93.0, "mm"},
          Row{"50 %", 50.0, "%"}, Row{"0.5 mm/y", 0.5, "mm/y"}, Row{" -40degF ", -40.0, "degF"},
          Row{"12 \u00B5m", 12.0, "\u00B5m"}, Row{"1e3 kEUR", 1000.0, "kEUR"},
          Row{"3e-5 1/y", 3e-5, "1/y"}, Row{"2 mg/m2/day", 2.0, "mg/m2/day"},
          Row{"0.5 -", 0.5, "-"}, Row{"5E", 5.0, "E"}, Row{"93\u00A0mm", 93.0, "mm"}}) {
        CAPTURE(row.text);
        const auto reading = read_quantity(row.text);
        CHECK(reading.fault == NumberFault::none);
        CHECK(reading.value == row.value);
        CHECK(reading.unit == row.unit);
    }
}

TEST_CASE("read_quantity says what is wrong") {
    struct Row {
        std::string_view text;
        NumberFault fault;
    };
    for (const auto& row : {
             Row{"", NumberFault::empty},
             Row{"mm", NumberFault::not_a_number},
             Row{"1 000 mm", NumberFault::not_a_number},
             Row{"12.5.1 mm", NumberFault::not_a_number},
             Row{"2024-05-01", NumberFault::not_a_number},
             Row{"info", NumberFault::not_a_number},
             Row{"nano", NumberFault::not_a_number},
             Row{"n/a", NumberFault::not_a_number},
             Row{"12,5 mm", NumberFault::comma_decimal},
             Row{"12,5mm", NumberFault::comma_decimal},
             Row{"0,5 mg/m2/day", NumberFault::comma_decimal},
             Row{"1,234.5 psi", NumberFault::comma_decimal},
             Row{"inf mm", NumberFault::not_finite},
             Row{"1e999 mm", NumberFault::not_finite},
             Row{"1e999mm", NumberFault::not_finite},
         }) {
        CAPTURE(row.text);
        const auto reading = read_quantity(row.text);
        CHECK(reading.fault == row.fault);
        CHECK(reading.unit.empty());
    }
}
