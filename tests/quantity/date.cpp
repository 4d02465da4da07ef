#include "quantity/date.h"

#include <doctest/doctest.h>

#include <string_view>

using namespace lagline;

TEST_CASE("parse_date reads ISO 8601 calendar dates, complete and with reduced precision") {
    struct Row {
        std::string_view text;
        Date date;
        bool precise;
    };
    for (const auto& row : {
             Row{"2024-05-17", make_date(2024, 5, 17), true},
             Row{" 2024-05-17 ", make_date(2024, 5, 17), true},
             Row{"2024-05", make_date(2024, 5, 1), false},
             Row{"2024", make_date(2024, 1, 1), false},
             Row{"2024-02-29", make_date(2024, 2, 29), true},
             Row{"2000-02-29", make_date(2000, 2, 29), true},  // divisible by 400
             Row{"1900-01-01", make_date(1900, 1, 1), true},
             Row{"2200-12-31", make_date(2200, 12, 31), true},
         }) {
        CAPTURE(row.text);
        const auto reading = parse_date(row.text);
        REQUIRE(reading);
        CHECK(reading->date == row.date);
        CHECK(reading->precise == row.precise);
    }
    CHECK(make_date(1970, 1, 1).days == 0);
    CHECK(make_date(2000, 3, 1).days == 11'017);  // 30 x 365 + 7 leap days + 60 days of 2000
}

TEST_CASE("parse_date refuses what is no date") {
    for (const auto* bad :
         {"",           "20",         "202",        "20240517",   "2024-5-17",
          "2024-05-7",  "2024-13",    "2024-00",    "2024-05-00", "2024-05-32",
          "2024-04-31", "2023-02-29", "1900-02-29", "2100-02-29", "1899-12-31",
          "2201-01-01", "17.05.2024", "05/17/2024", "2024/05/17", "2024-05-17T00:00",
          "2024-0517",  "2024-05-1x", "-024-05-17", "2024--5-17", "2024-05-+1",
          "2024- 5-17", "abcd"}) {
        CAPTURE(bad);
        CHECK_FALSE(parse_date(bad));
    }
}

TEST_CASE("a date prints as it is read") {
    for (int days = make_date(1900, 1, 1).days; days <= make_date(2200, 12, 31).days; days += 13) {
        const Date date{days};
        const auto reading = parse_date(to_string(date));
        REQUIRE(reading);
        REQUIRE(reading->date == date);
    }
    CHECK(to_string(make_date(2024, 2, 29)) == "2024-02-29");
    CHECK(to_string(make_date(987, 6, 5)) == "0987-06-05");
}

TEST_CASE("years_between is whole at anniversaries") {
    CHECK(years_between(make_date(2010, 1, 1), make_date(2025, 1, 1)) == 15.0);
    CHECK(years_between(make_date(2025, 1, 1), make_date(2010, 1, 1)) == -15.0);
    CHECK(years_between(make_date(2024, 2, 29), make_date(2028, 2, 29)) == 4.0);
    CHECK(years_between(make_date(2024, 2, 29), make_date(2025, 3, 1)) == 1.0);
    CHECK(years_between(make_date(2024, 2, 29), make_date(2025, 2, 28)) < 1.0);
    CHECK(years_between(make_date(2023, 1, 1), make_date(2023, 7, 2)) == 182.0 / 365.0);
    CHECK(years_between(make_date(2024, 1, 1), make_date(2024, 7, 2)) == 183.0 / 366.0);
    CHECK(years_between(make_date(2024, 5, 5), make_date(2024, 5, 5)) == 0.0);
    for (const int year : {2019, 2020, 2023, 2024}) {
        for (unsigned month = 1; month <= 12; ++month) {
            const Date from = make_date(year, month, 28);
            for (int years = -20; years <= 20; ++years) {
                REQUIRE(years_between(from, add_years(from, years)) == years);
            }
        }
    }
}

TEST_CASE("years_between rises with every day and has the sign of the direction") {
    for (const Date from : {make_date(2024, 2, 29), make_date(2024, 2, 28), make_date(2023, 3, 1),
                            make_date(2020, 12, 31), make_date(2021, 1, 1)}) {
        CAPTURE(to_string(from));
        double before = years_between(from, Date{from.days - 3'001});
        for (int step = -3'000; step <= 3'000; ++step) {
            const double years = years_between(from, Date{from.days + step});
            REQUIRE(years > before);
            REQUIRE((years > 0.0) == (step > 0));
            REQUIRE((years < 0.0) == (step < 0));
            REQUIRE(years == doctest::Approx(step / 365.25).epsilon(0.01));
            before = years;
        }
    }
}

TEST_CASE("add_years carries 29 February over to 1 March") {
    CHECK(add_years(make_date(2024, 2, 29), 1) == make_date(2025, 3, 1));
    CHECK(add_years(make_date(2024, 2, 29), 4) == make_date(2028, 2, 29));
    CHECK(add_years(make_date(2024, 2, 29), -1) == make_date(2023, 3, 1));
    CHECK(add_years(make_date(2023, 5, 17), 10) == make_date(2033, 5, 17));
}

TEST_CASE("year and month of a date") {
    CHECK(year_of(make_date(2024, 12, 31)) == 2024);
    CHECK(month_of(make_date(2024, 12, 31)) == 12);
    CHECK(year_of(make_date(1969, 1, 1)) == 1969);
    CHECK(month_of(make_date(1969, 1, 1)) == 1);
}
