// A wall at or below the minimum thickness is a fact: no model of the rest outvotes it.
#include "ranking/engineer_list.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "ranking/ranking.h"
#include "report/ranking_csv.h"
#include "report/ranking_json.h"
#include "report/ranking_table.h"
#include "support/columns.h"
#include "support/csv_records.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

// NPS 6: the structural minimum is 0.11 in, 2.794 mm.
Cells reading(const char* segment, const char* date, const char* wall,
              const char* technique = "strip_and_measure", const char* coverage = "100 %") {
    return inspection_cells(
        segment, date,
        {{"least_thickness", wall}, {"technique", technique}, {"coverage", coverage}});
}

Plant plant_of(const std::vector<Cells>& inspections, const RuleSet& rules,
               const Cells& changes = {}) {
    return assemble({.segments = {segment_cells("S-1", changes), segment_cells("S-2")},
                     .inspections = inspections},
                    rules);
}

std::vector<EngineerNeed> needs(const std::vector<Cells>& inspections,
                                const RuleSet& rules = published_rules(),
                                const Cells& changes = {}) {
    const Plant plant = plant_of(inspections, rules, changes);
    const auto found = rank_with_outlook(plant, rules, 0).outlook->engineer_now;
    CHECK(engineer_list(plant, rules).size() == found.size());
    return found;
}

TEST_CASE("a reading of 2.5 mm where 2.794 mm are needed stands above a pipe never looked at") {
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        const Plant plant = plant_of({reading("S-1", "2024-06-01", "2.5 mm")}, *rules);
        const Ranking ranking = rank_with_outlook(plant, *rules, 0);
        const auto number = [&](const char* segment, const char* key) {
            return number_of(plant, ranking, segment, key);
        };
        CHECK(number("S-1", "minimum_thickness") == doctest::Approx(2.794));
        CHECK(number("S-1", "probability_of_failure") >= number("S-2", "probability_of_failure"));
        CHECK(number("S-1", "damage_factor") == doctest::Approx(1.0 / 1.56e-4));
        CHECK(number("S-1", "below_minimum_probability") == 1.0);
        CHECK(word_of(plant, *rules, ranking, "S-1", "reading_at_minimum") == "yes");
        CHECK(word_of(plant, *rules, ranking, "S-2", "reading_at_minimum") == "no");
        const auto& list = ranking.outlook->engineer_now;
        REQUIRE(list.size() == 1);
        CHECK(list[0].reason == EngineerReason::thin_wall);
        CHECK(list[0].read_mm == 2.5);
        CHECK(describe(list[0], plant, *rules) ==
              "read 2.5 mm, minimum 2.794 mm, by strip_and_measure");
    }
}

TEST_CASE("it is due today by the fact, whatever criteria say") {
    const Plant plant = plant_of({reading("S-1", "2024-06-01", "2.5 mm")}, published_rules());
    const Ranking ranking = rank_with_outlook(plant, published_rules(), 0);
    REQUIRE(plant.segments.texts(SegmentField::segment)[ranking.segment_rows[ranking.order[0]]] ==
            "S-1");
    CHECK(ranking.outlook->due[0].first() == Criterion::fact);
    CHECK(ranking.outlook->due[0].date() == plant.today);
    CHECK(ranking.outlook->due[1].first() != Criterion::fact);
}

TEST_CASE("by any technique and any cell, at the minimum itself, and not above it") {
    CHECK(needs({reading("S-1", "2020-01-01", "1.5 mm", "ut_through_plugs", "2 %")}).size() == 1);
    CHECK(needs({reading("S-1", "2020-01-01", "0.11 in", "guided_wave", "10 %")}).size() == 1);
    CHECK(needs({reading("S-1", "2020-01-01", "2.8 mm")}).empty());
    CHECK(needs({inspection_cells("S-1", "2020-01-01", {{"pit_depth", "4.4 mm"}})}).size() == 1);
    // The minimum that the site gives.
    CHECK(needs({reading("S-1", "2020-01-01", "2.5 mm")}, published_rules(),
                {{"minimum_thickness", "2.4 mm"}})
              .empty());
}

TEST_CASE(
    "an accepted reading or a replaced pipe clears it, a reading of small coverage does not") {
    const Cells thin = reading("S-1", "2020-01-01", "2.7 mm", "ut_through_plugs", "2 %");
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        CHECK(needs({thin}, *rules).size() == 1);
        CHECK(needs({thin, reading("S-1", "2022-01-01", "2.9 mm")}, *rules).empty());
        CHECK(needs({thin, reading("S-1", "2022-01-01", "2.9 mm", "strip_and_measure", "20 %")},
                    *rules)
                  .size() == 1);
        CHECK(needs({thin, reading("S-1", "2022-01-01", "6 mm")}, *rules).empty());
        Plant renewed = plant_of({thin}, *rules);
        renewed.segments.column(SegmentField::in_service).days[0] = make_date(2021, 1, 1).days;
        CHECK(engineer_list(renewed, *rules).empty());
    }
}

TEST_CASE("what was found after today is not known today") {
    CHECK(needs({reading("S-1", "2026-01-01", "2 mm")}).empty());
}

TEST_CASE("known cracks ask for an assessment of fitness for service") {
    const auto found = needs({inspection_cells("S-1", "2020-01-01", {{"cracks_found", "yes"}})},
                             published_rules(), {{"material", "austenitic_stainless"}});
    REQUIRE(found.size() == 1);
    CHECK(found[0].reason == EngineerReason::cracks);
    const Plant plant = plant_of({}, published_rules());
    CHECK(describe(found[0], plant, published_rules()) ==
          "known cracks: fitness-for-service assessment by a licensed engineer");
}

TEST_CASE("the list stands before the ranking in text and JSON, and in a column of CSV") {
    std::vector<Cells> segments;
    std::vector<Cells> inspections;
    for (int i = 10; i < 23; ++i) {
        const std::string name = "S-" + std::to_string(i);
        segments.push_back(segment_cells(name));
        if (i > 10) inspections.push_back(reading(name.c_str(), "2020-01-01", "2.5 mm"));
    }
    const Plant plant =
        assemble({.segments = segments, .inspections = inspections}, published_rules());
    const Ranking ranking = rank_with_outlook(plant, published_rules(), 0);
    for (const std::size_t width : {std::size_t{80}, std::size_t{120}}) {
        const std::string text =
            ranking_table(plant, published_rules(), ranking, 0, {.width = width, .colour = false});
        const std::size_t at = text.find("Needs an engineer now");
        REQUIRE(at != std::string::npos);
        CHECK(at < text.find("rank  "));
        CHECK(text.find("and 2 more: --format json lists all") != std::string::npos);
        std::size_t begin = at;
        for (std::size_t end = text.find('\n', at); end != std::string::npos;
             begin = end + 1, end = text.find('\n', begin)) {
            CHECK(end - begin <= width + 20);  // a table's cells may hold more bytes than columns
            if (text.compare(begin, 4, "rank") == 0) break;
            CHECK(end - begin <= width);
        }
    }
    const std::string json = ranking_json(plant, published_rules(), ranking, 1);
    CHECK(json.find("\"needs_engineer_now\"") < json.find("\"rows\""));
    const auto records = csv_records(ranking_csv(plant, published_rules(), ranking, 0));
    const auto column = std::ranges::find(records[0], "engineer_now");
    REQUIRE(column != records[0].end());
    const auto place = static_cast<std::size_t>(column - records[0].begin());
    CHECK(std::ranges::count_if(
              records, [&](const auto& record) { return record[place] == "thin_wall"; }) == 12);
}

TEST_CASE("an eighth of a percent more coverage does not make a pipe look safe") {
    // Nothing lost is read where 0.3 mm/y are expected for 20 years.
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        const auto factor = [&](const char* coverage) {
            const Plant plant =
                plant_of({reading("S-1", "2024-01-01", "7.11 mm", "strip_and_measure", coverage)},
                         *rules, {{"coating_system", "none"}, {"coating_quality", "none"}});
            return number_of(plant, rank(plant, *rules), "S-1", "damage_factor");
        };
        CHECK(factor("5.1 %") > 0.8 * factor("5 %"));
        CHECK(factor("25 %") == factor("5.1 %"));
    }
}

TEST_CASE("more loss found never lowers the risk, whatever was looked at") {
    const Cells bare{{"coating_system", "none"}, {"coating_quality", "none"}};
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        for (const Cells& changes : {Cells{}, bare}) {
            for (const char* coverage : {"100 %", "60 %", "30 %", "20 %", "2 %"}) {
                for (const bool earlier : {false, true}) {
                    double before = 0.0;
                    for (int hundredths = 711; hundredths >= 20; hundredths -= 9) {
                        const std::string wall = std::to_string(hundredths / 100.0) + " mm";
                        CAPTURE(coverage);
                        CAPTURE(wall);
                        CAPTURE(earlier);
                        std::vector<Cells> rows{reading("S-1", "2018-01-01", wall.c_str(),
                                                        "strip_and_measure", coverage)};
                        if (earlier) rows.push_back(reading("S-1", "2010-01-01", "7 mm"));
                        const Plant plant = plant_of(rows, *rules, changes);
                        const double risk = number_of(plant, rank(plant, *rules), "S-1", "risk");
                        // Eq. 17 may drop by a thousandth from a strength ratio of 0.5 on.
                        CHECK(risk >= before * 0.999);
                        before = std::max(before, risk);
                    }
                }
            }
        }
    }
}

TEST_CASE("a tenth of a millimetre read below nominal is no reason for a leap of the risk") {
    // The pipe of S-00240 in the sample plant: 5.49 mm nominal, read soon after it was built.
    const auto risk = [](const char* wall) {
        const Plant plant = plant_of({reading("S-1", "2007-01-01", wall)}, extended_rules(),
                                     {{"nominal_size", "NPS 3"},
                                      {"outside_diameter", "88.9 mm"},
                                      {"nominal_wall", "5.49 mm"}});
        return number_of(plant, rank(plant, extended_rules()), "S-1", "risk");
    };
    CHECK(risk("5.40 mm") < 2.0 * risk("5.49 mm"));
}

}  // namespace
}  // namespace lagline
