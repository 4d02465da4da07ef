// Neither the order of the rows nor the names of the segments have a say in the numbers.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>

#include "random_plant.h"
#include "report/ranking_csv.h"
#include "support/rounds.h"
#include "support/rules.h"

namespace lagline {
namespace {

std::string csv(const SmallPlant& plant, const RuleSet& rules) {
    const Plant assembled = assemble(plant, rules);
    return ranking_csv(assembled, rules, rank(assembled, rules), 0);
}

/// Shuffled by our own dice, so that every library gives the same order.
void shuffle(std::vector<Cells>& rows, Dice& dice) {
    for (std::size_t i = rows.size(); i > 1; --i) {
        const auto other = static_cast<std::size_t>(dice.whole(0, static_cast<int>(i) - 1));
        std::swap(rows[i - 1], rows[other]);
    }
}

TEST_CASE("the order of rows in segments.csv and inspections.csv changes no byte of the ranking") {
    for (int round = 0; round < rounds(20); ++round) {
        Dice dice{static_cast<std::uint64_t>(round) + 1};
        SmallPlant plant = random_plant(30, 20 + static_cast<std::uint64_t>(round));
        REQUIRE(plant.inspections.size() > 20);
        for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
            const std::string before = csv(plant, *rules);
            SmallPlant mixed = plant;
            shuffle(mixed.segments, dice);
            shuffle(mixed.inspections, dice);
            REQUIRE(mixed.inspections != plant.inspections);
            CAPTURE(round);
            CAPTURE(rules->name);
            CHECK((csv(mixed, *rules) == before));
        }
    }
}

TEST_CASE("of two readings of one day the thinner wall counts, and cracks stay found") {
    const auto plant_of = [](bool grave_first) {
        SmallPlant plant{
            .segments = {segment_cells("S-1"),
                         segment_cells("S-2", {{"material", "austenitic_stainless"}})}};
        for (const auto* name : {"S-1", "S-2"}) {
            const Cells grave = inspection_cells(
                name, "2020-05-04", {{"least_thickness", "4.1 mm"}, {"cracks_found", "yes"}});
            const Cells mild =
                inspection_cells(name, "2020-05-04", {{"least_thickness", "6.9 mm"}});
            plant.inspections.push_back(grave_first ? grave : mild);
            plant.inspections.push_back(grave_first ? mild : grave);
        }
        return plant;
    };
    for (const bool grave_first : {true, false}) {
        const Plant plant = assemble(plant_of(grave_first), published_rules());
        const Ranking ranking = rank(plant, published_rules());
        CHECK(ranking.wall_loss.wall_thickness_mm[0] == doctest::Approx(4.1));
        CHECK(ranking.cracking.cracks_found[0] == 1);
    }
}

/// The plant with every segment renamed, inspections with them.
SmallPlant renamed(SmallPlant plant, const std::map<std::string, std::string>& names) {
    for (auto* rows : {&plant.segments, &plant.inspections}) {
        for (Cells& cells : *rows) cells["segment"] = names.at(cells.at("segment"));
    }
    return plant;
}

TEST_CASE("new names for the segments change names and the order of ties, and no number") {
    for (int round = 0; round < rounds(15); ++round) {
        SmallPlant plant = random_plant(30, 60 + static_cast<std::uint64_t>(round));
        plant.segments.push_back(plant.segments.front());  // a tie
        plant.segments.back()["segment"] = "S-030";
        std::erase_if(plant.inspections, [](const Cells& c) { return c.at("segment") == "S-000"; });
        std::map<std::string, std::string> names;
        std::map<std::string, std::string> back;
        for (std::size_t i = 0; i < plant.segments.size(); ++i) {
            const std::string& old_name = plant.segments[i].at("segment");
            const std::string name = "Z/" + std::to_string(900 - i);  // the other way round
            names[old_name] = name;
            back[name] = old_name;
        }
        const auto before = ranked(plant, extended_rules());
        const auto after = ranked(renamed(plant, names), extended_rules());
        REQUIRE(before.size() == after.size());
        int moved = 0;
        for (std::size_t i = 0; i < before.size(); ++i) {
            const Ranked& now = of_segment(after, names.at(before[i].segment));
            CHECK(now.damage_factor == before[i].damage_factor);
            CHECK(now.risk_per_year == before[i].risk_per_year);
            CHECK(after[i].risk_per_year == before[i].risk_per_year);
            if (back.at(after[i].segment) == before[i].segment) continue;
            ++moved;
            CHECK(now.risk_per_year == after[i].risk_per_year);  // a tie
        }
        CHECK(moved >= 2);  // the tie that was made
    }
}

}  // namespace
}  // namespace lagline
