// All else equal, what makes a segment worse never makes it better.  Where the method promises that
// follows from its equations (docs/method.md); each test names them, and asserts no more.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdint>
#include <functional>

#include "random_plant.h"
#include "support/rounds.h"
#include "support/rules.h"

namespace lagline {
namespace {

using Worsen = std::function<bool(SmallPlant&, std::size_t segment, Dice&)>;

/// From this strength ratio on eq. 17 does not fall all the way (docs/method.md, section 22,
/// limits): the probability may drop, by less than 1 in 1000.
constexpr double falls_all_the_way_below = 0.5;
constexpr double most_drop = 1e-3;
constexpr double round_off = 1e-12;

/// Checks damage factor, probability, risk and rank of the segment that was made worse.
void check_worse(const Ranked& before, const Ranked& after) {
    CAPTURE(before.damage_factor);
    CAPTURE(after.damage_factor);
    CAPTURE(after.strength_ratio);
    const bool strict =
        std::max(before.strength_ratio, after.strength_ratio) < falls_all_the_way_below;
    const double least = 1.0 - (strict ? round_off : most_drop);
    CHECK(after.damage_factor >= before.damage_factor * least);
    CHECK(after.probability_per_year >= before.probability_per_year * least);
    CHECK(after.risk_per_year >= before.risk_per_year * least);
    if (after.risk_per_year >= before.risk_per_year) CHECK(after.rank <= before.rank);
}

/// Which inspections the plants have.
enum class Inspected : std::uint8_t {
    never,
    accepted,  ///< with readings that are accepted whatever they say (section 4)
    without_findings,
};

SmallPlant drawn(Inspected inspected, std::uint64_t seed) {
    SmallPlant plant = random_plant(12, seed);
    if (inspected == Inspected::never) plant.inspections.clear();
    for (Cells& each : plant.inspections) {
        if (inspected == Inspected::without_findings) {
            each = inspection_cells(each.at("segment"), each.at("date"),
                                    {{"technique", each.at("technique")}});
        } else {
            each["technique"] = "strip_and_measure";
            each["coverage"] = "100 %";
        }
    }
    return plant;
}

/// Draws plants, makes one segment after the other worse, and counts how many became it.
struct Tried {
    int all = 0;
    int grew = 0;
};
Tried try_all(const RuleSet& rules, std::uint64_t seed, Inspected inspected, const Worsen& worsen) {
    Tried tried;
    for (int round = 0; round < rounds(15); ++round) {
        Dice dice{seed + static_cast<std::uint64_t>(round)};
        const SmallPlant plant = drawn(inspected, 1000 * seed + static_cast<std::uint64_t>(round));
        const auto before = ranked(plant, rules);
        for (std::size_t i = 0; i < plant.segments.size(); ++i) {
            SmallPlant worse = plant;
            if (!worsen(worse, i, dice)) continue;
            const std::string& name = plant.segments[i].at("segment");
            CAPTURE(rules.name);
            CAPTURE(name);
            CAPTURE(csv_of({plant.segments[i]}));
            CAPTURE(csv_of({worse.segments[i]}));
            const auto after = ranked(worse, rules);
            check_worse(of_segment(before, name), of_segment(after, name));
            ++tried.all;
            if (of_segment(after, name).damage_factor > of_segment(before, name).damage_factor) {
                ++tried.grew;
            }
        }
    }
    return tried;
}

/// Holds, and is not empty: some of the segments did become worse.
void check_all(const RuleSet& rules, std::uint64_t seed, Inspected inspected,
               const Worsen& worsen) {
    const Tried tried = try_all(rules, seed, inspected, worsen);
    CHECK(tried.all >= rounds(15) * 4);
    CHECK(tried.grew * 10 >= tried.all);
}

/// The next worse word of a list from mild to bad; false when there is none.
bool one_worse(std::string& word, const std::vector<std::string>& from_mild_to_bad) {
    const auto at = std::ranges::find(from_mild_to_bad, word);
    if (at == from_mild_to_bad.end() || at + 1 == from_mild_to_bad.end()) return false;
    word = *(at + 1);
    return true;
}

bool wetter(SmallPlant& plant, std::size_t i, Dice&) {
    return one_worse(plant.segments[i]["driver"], {"dry", "mild", "moderate", "severe"});
}

bool worse_condition(SmallPlant& plant, std::size_t i, Dice&) {
    return one_worse(plant.segments[i]["insulation_condition"],
                     {"above_average", "average", "below_average"});
}

bool worse_type(SmallPlant& plant, std::size_t i, Dice&) {
    return one_worse(plant.segments[i]["insulation_type"],
                     {"cellular_glass", "perlite", "mineral_wool"});
}

bool thinner(SmallPlant& plant, std::size_t i, Dice& dice) {
    if (plant.segments[i].at("material") == "austenitic_stainless") return false;  // no wall in it
    std::string& wall = plant.segments[i]["nominal_wall"];
    wall = written(std::stod(wall) * dice.real(0.6, 0.99), 2) + " mm";
    return true;
}

TEST_CASE("a wetter driver, without readings (eq. 2, 3, 8; table 18.2)") {
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        check_all(*rules, 100, Inspected::never, wetter);
    }
}

TEST_CASE(
    "a wetter driver, with readings that are accepted, by the published method (eq. 2 to 8)") {
    check_all(published_rules(), 200, Inspected::accepted, wetter);
}

TEST_CASE("worse insulation, without readings (F_INS and F_IC in eq. 3, steps of eq. 38)") {
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        check_all(*rules, 300, Inspected::never, worse_condition);
    }
    check_all(published_rules(), 310, Inspected::never, worse_type);
}

TEST_CASE("a thinner wall, without readings (t_rde in eq. 8, 12 and 13)") {
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        check_all(*rules, 400, Inspected::never, thinner);
    }
}

/// The same calendar day so many years before.
std::string years_before(const std::string& day, int years) {
    return to_string(add_years(parse_date(day).value().date, -years));
}

TEST_CASE("a thinner wall found at an accepted reading, by the published method (eq. 4)") {
    check_all(published_rules(), 500, Inspected::accepted,
              [](SmallPlant& plant, std::size_t i, Dice& dice) {
                  if (plant.segments[i].at("material") == "austenitic_stainless") return false;
                  for (Cells& each : plant.inspections) {
                      if (each.at("segment") != plant.segments[i].at("segment")) continue;
                      if (!each.contains("least_thickness")) continue;
                      std::string& wall = each["least_thickness"];
                      wall = written(std::stod(wall) * dice.real(0.6, 0.99), 2) + " mm";
                      return true;
                  }
                  return false;
              });
}

TEST_CASE("an older segment with the coating of its first day (eq. 6, 7 and 36)") {
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        check_all(*rules, 600, Inspected::never, [](SmallPlant& plant, std::size_t i, Dice& dice) {
            Cells& cells = plant.segments[i];
            if (cells.at("coating_date") != cells.at("in_service")) return false;
            cells["in_service"] = years_before(cells.at("in_service"), dice.whole(1, 20));
            cells["coating_date"] = cells.at("in_service");
            return true;
        });
    }
}

/// One reading of the whole surface after each coating date, so that the wall is known since.
SmallPlant measured_after_coating(std::uint64_t seed, Dice& dice) {
    SmallPlant plant = drawn(Inspected::never, seed);
    for (Cells& cells : plant.segments) {
        cells["coating_date"] = dice.day(2013, 2019);
        plant.inspections.push_back(inspection_cells(cells.at("segment"), dice.day(2020, 2022),
                                                     {{"least_thickness", "5.6 mm"}}));
    }
    return plant;
}

TEST_CASE("an older coating, the wall measured since (eq. 6: C_age used up at the reading)") {
    int grew = 0;
    for (int round = 0; round < rounds(15); ++round) {
        Dice dice{700 + static_cast<std::uint64_t>(round)};
        const SmallPlant plant =
            measured_after_coating(7000 + static_cast<std::uint64_t>(round), dice);
        SmallPlant older = plant;
        for (Cells& cells : older.segments) {
            cells["coating_date"] = years_before(cells.at("coating_date"), dice.whole(1, 10));
            if (cells.at("coating_date") < cells.at("in_service")) {
                cells["coating_date"] = cells.at("in_service");
            }
        }
        const auto before = ranked(plant, published_rules());
        const auto after = ranked(older, published_rules());
        for (const Ranked& each : before) {
            const Ranked& now = of_segment(after, each.segment);
            CAPTURE(each.segment);
            CHECK(now.damage_factor >= each.damage_factor * (1.0 - most_drop));
            if (now.strength_ratio < falls_all_the_way_below) {
                CHECK(now.damage_factor >= each.damage_factor * (1.0 - round_off));
            }
            if (now.damage_factor > each.damage_factor) ++grew;
        }
    }
    CHECK(grew > rounds(15));
}

TEST_CASE("where the wall is known from before the coating, an earlier coat is the better one") {
    // Eq. 6 credits min(C_age, age_coat) then: a coat that came sooner left less time without one.
    int fell = 0;
    for (int round = 0; round < rounds(15); ++round) {
        Dice dice{800 + static_cast<std::uint64_t>(round)};
        SmallPlant late = drawn(Inspected::never, 8000 + static_cast<std::uint64_t>(round));
        SmallPlant early = late;
        for (std::size_t i = 0; i < late.segments.size(); ++i) {
            late.segments[i]["coating_date"] = dice.day(2020, 2024);
            early.segments[i]["coating_date"] = dice.day(2013, 2019);
        }
        const auto after = ranked(early, published_rules());
        for (const Ranked& each : ranked(late, published_rules())) {
            const Ranked& now = of_segment(after, each.segment);
            CAPTURE(each.segment);
            CHECK(now.damage_factor <= each.damage_factor * (1.0 + most_drop));
            if (now.damage_factor < each.damage_factor) ++fell;
        }
    }
    CHECK(fell > rounds(15));
}

TEST_CASE("one inspection less, which found nothing (eq. 15, 16, 40; time in eq. 41)") {
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        check_all(
            *rules, 900, Inspected::without_findings, [](SmallPlant& plant, std::size_t i, Dice&) {
                const std::string name = plant.segments[i].at("segment");
                const auto one = std::ranges::find_if(plant.inspections, [&](const Cells& each) {
                    return each.at("segment") == name;
                });
                if (one == plant.inspections.end()) return false;
                plant.inspections.erase(one);
                return true;
            });
    }
}

}  // namespace
}  // namespace lagline
