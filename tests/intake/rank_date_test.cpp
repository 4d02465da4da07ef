#include <doctest/doctest.h>

#include "plant_folder.h"

namespace lagline {
namespace {

const std::string windows =
    "name,start,end\nTA-2030,2030-04-08,2030-05-12\nTA-2027,2027-04-05,2027-05-09\n"
    "TA-2020,2020-04-05,2020-05-09\n";
const std::string dated = "name: x\ncurrency: USD\nrank_date: 2028-02-03\n";

RankDate rank_date(const Files& files, std::optional<Date> at, Date today) {
    const auto loaded = load(files, {.at = at, .today = today});
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant);
    return loaded.plant->ranked_at;
}

TEST_CASE("the rank date: as asked, else rank_date, else the window after the next") {
    const Date today = make_date(2026, 11, 25);
    const auto asked = rank_date({{"plant.yaml", dated}, {"turnarounds.csv", windows}},
                                 make_date(2031, 1, 1), today);
    CHECK(asked.date == make_date(2031, 1, 1));
    CHECK(asked.reason == "as asked");
    const auto stated =
        rank_date({{"plant.yaml", dated}, {"turnarounds.csv", windows}}, std::nullopt, today);
    CHECK(stated.date == make_date(2028, 2, 3));
    CHECK(stated.reason == "rank_date of plant.yaml");
    // What is left alone in TA-2027 must last until TA-2030.
    const auto next = rank_date({{"turnarounds.csv", windows}}, std::nullopt, today);
    CHECK(next.date == make_date(2030, 4, 8));
    CHECK(next.reason == "start of TA-2030, the window after the next one (TA-2027)");
    // On the first day of a window the next chance is the one after.
    const auto during =
        rank_date({{"turnarounds.csv", windows}}, std::nullopt, make_date(2020, 4, 5));
    CHECK(during.date == make_date(2030, 4, 8));
}

TEST_CASE("two windows of one day are one chance") {
    const std::string twins = windows + "OS-2027,2027-04-05,2027-04-09\n";
    const auto next =
        rank_date({{"turnarounds.csv", twins}}, std::nullopt, make_date(2026, 11, 25));
    CHECK(next.date == make_date(2030, 4, 8));
}

TEST_CASE("with one window left its start is taken, and a warning asks for the one after") {
    const auto loaded =
        load({{"turnarounds.csv", windows}}, {.at = std::nullopt, .today = make_date(2027, 4, 5)});
    REQUIRE(loaded.plant);
    CHECK(loaded.plant->ranked_at.date == make_date(2030, 4, 8));
    CHECK(loaded.plant->ranked_at.reason == "start of TA-2030, the only window after 2027-04-05");
    CHECK(only(loaded).severity == Severity::warning);
    CHECK(only(loaded).subject == "rank date");
    CHECK(only(loaded).where.line == 2);
    CHECK(holds(only(loaded).mend, "add the window after TA-2030"));
}

TEST_CASE("without any date there is one problem that says how to give one") {
    for (const Files& files : {Files{}, Files{{"turnarounds.csv", windows}}}) {
        const auto loaded = load(files, {.at = std::nullopt, .today = make_date(2030, 4, 8)});
        CHECK(only(loaded).problem == Problem::missing_value);
        CHECK(only(loaded).subject == "rank date");
        CHECK(holds(only(loaded).mend, "--at YYYY-MM-DD"));
    }
}

}  // namespace
}  // namespace lagline
