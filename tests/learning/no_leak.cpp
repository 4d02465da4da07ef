// Nothing that was recorded after a past date moves the ranking at that date by a single byte.
#include <doctest/doctest.h>

#include <optional>
#include <random>
#include <set>
#include <string>

#include "intake/source_file.h"
#include "learning/as_known.h"
#include "learning/made_backtest.h"
#include "quantity/date.h"
#include "ranking/ranking.h"
#include "report/ranking_csv.h"
#include "support/csv_records.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

constexpr Date cut = make_date(2015, 1, 1);

struct Records {
    std::vector<Cells> segments;
    std::vector<Cells> inspections;
    std::vector<Cells> overrides;
};

std::vector<Cells> rows_of(const std::string& csv) {
    const auto records = csv_records(csv);
    std::vector<Cells> rows;
    for (std::size_t i = 1; i < records.size(); ++i) {
        Cells row;
        for (std::size_t k = 0; k < records[i].size(); ++k) row[records[0][k]] = records[i][k];
        rows.push_back(std::move(row));
    }
    return rows;
}

Cells override_of(const std::string& segment, const char* quantity, const char* value,
                  const char* when, const char* until) {
    return {{"segment", segment},   {"quantity", quantity}, {"value", value}, {"reason", "seen"},
            {"who", "A. Engineer"}, {"when", when},         {"until", until}};
}

Records made_records(const SyntheticPlant& plant) {
    Records records{rows_of(plant.segments_csv), rows_of(plant.inspections_csv), {}};
    // In force on the day, and run out since.
    records.overrides.push_back(override_of(records.segments[3].at("segment"), "driver", "severe",
                                            "2014-02-01", "2016-01-01"));
    // Made later.
    records.overrides.push_back(
        override_of(records.segments[5].at("segment"), "driver", "severe", "2018-02-01", ""));
    return records;
}

PlantSources sources_of(const SyntheticPlant& plant, const Records& records) {
    PlantSources sources = lagline::sources_of(plant);
    Report report;
    sources.segments = source_from_text(csv_of(records.segments), "segments.csv", report);
    sources.inspections = source_from_text(csv_of(records.inspections), "inspections.csv", report);
    sources.overrides = source_from_text(csv_of(records.overrides), "overrides.csv", report);
    return sources;
}

std::string ranking_then(const SyntheticPlant& plant, const Records& records,
                         const RuleSet& rules) {
    Report report;
    const auto known = plant_as_known(sources_of(plant, records), rules, cut, report);
    REQUIRE_MESSAGE(known.has_value(), to_text(report));
    return ranking_csv(known->plant, rules, rank(known->plant, rules), 0, {});
}

bool later(const Cells& row, std::string_view key) {
    const auto cell = row.find(key);
    if (cell == row.end() || cell->second.empty()) return false;
    return parse_date(cell->second).value().date > cut;
}

/// Changes all that was recorded later.
class Alterer {
  public:
    explicit Alterer(unsigned seed) : dice_(seed) {}

    Records alter(Records records) {
        for (Cells& row : records.segments) {
            if (later(row, "in_service")) {
                pipe(row);
            } else {
                protection(row);
            }
        }
        std::erase_if(records.inspections, [&](const Cells& row) {
            return gone_.contains(row.at("segment")) || (later(row, "date") && chance(3));
        });
        for (Cells& row : records.inspections) {
            if (later(row, "date")) inspection(row);
        }
        for (Cells& row : records.overrides) {
            if (!later(row, "when")) continue;
            row["value"] = "dry";
            row["when"] = "2019-03-03";
        }
        std::ranges::shuffle(records.inspections, dice_);
        return records;
    }
    int altered = 0;

  private:
    bool chance(unsigned one_in) { return dice_() % one_in == 0; }
    void set(Cells& row, const char* key, const char* text) {
        REQUIRE(row.contains(key));
        row[key] = text;
        ++altered;
    }

    void pipe(Cells& row) {
        gone_.insert(row.at("segment"));
        set(row, "in_service", "2021-07-01");
        set(row, "nominal_wall [mm]", "12.7");
        set(row, "insulation_installed", "");
        set(row, "coating_date", "");
    }

    void protection(Cells& row) {
        const bool coated = later(row, "coating_date");
        const bool insulated = later(row, "insulation_installed");
        if (coated || (insulated && row.at("coating_date").empty())) {
            set(row, "coating_system", chance(2) ? "sprayed_aluminium" : "alkyd");
            set(row, "coating_quality", chance(2) ? "none" : "high");
            set(row, "coating_thickness [um]", chance(2) ? "75" : "600");
            set(row, "coating_substrate_prep", "sp2_hand_tool");
            if (coated) set(row, "coating_date", "2022-02-02");
        }
        if (insulated || (coated && row.at("insulation_installed").empty())) {
            set(row, "insulation_type", chance(2) ? "cellular_glass" : "mineral_wool");
            set(row, "insulation_thickness [mm]", "25");
            set(row, "insulation_condition", chance(2) ? "above_average" : "below_average");
            set(row, "jacket", "none");
            if (insulated) set(row, "insulation_installed", "2022-02-02");
        }
    }

    void inspection(Cells& row) {
        set(row, "technique", chance(2) ? "strip_and_measure" : "external_visual");
        set(row, "coverage [%]", "100");
        set(row, "least_thickness [mm]", chance(2) ? "0.4" : "");
        set(row, "rust_grade", chance(2) ? "0" : "10");
        set(row, "coating_renewed [%]", "100");
        set(row, "insulation_wet", "yes");
        set(row, "cracks_found", "yes");
    }

    std::mt19937 dice_;
    std::set<std::string> gone_;
};

const SyntheticPlant& plant_of_test() {
    static const SyntheticPlant plant = synthesise({.segments = 320, .inspections = 0, .seed = 3});
    return plant;
}

TEST_CASE("altering every later record leaves the ranking of the past the same, to the byte") {
    const Records records = made_records(plant_of_test());
    for (const char* name : {"published", "extended"}) {
        CAPTURE(name);
        const RuleSet rules = rules_from(rules_root(), name);
        const std::string then = ranking_then(plant_of_test(), records, rules);
        CHECK(then.size() > 50'000);
        for (unsigned seed = 1; seed <= 3; ++seed) {
            CAPTURE(seed);
            Alterer alterer{seed};
            const Records other = alterer.alter(records);
            CHECK(alterer.altered > 300);
            CHECK((ranking_then(plant_of_test(), other, rules) == then));
        }
    }
}

// The comparison above can fail: what was known does move the ranking.
TEST_CASE("an earlier record moves the ranking of the past") {
    const RuleSet rules = rules_from(rules_root(), "extended");
    const Records records = made_records(plant_of_test());
    const std::string then = ranking_then(plant_of_test(), records, rules);
    Records without_override = records;
    without_override.overrides.erase(without_override.overrides.begin());
    CHECK((ranking_then(plant_of_test(), without_override, rules) != then));
    Records without_inspection = records;
    std::erase_if(without_inspection.inspections, [](const Cells& row) {
        return !later(row, "date") && row.at("technique") == "strip_and_measure";
    });
    CHECK(without_inspection.inspections.size() < records.inspections.size());
    CHECK((ranking_then(plant_of_test(), without_inspection, rules) != then));
}

TEST_CASE("the ranking of today does move with later records") {
    const RuleSet rules = rules_from(rules_root(), "extended");
    const Records records = made_records(plant_of_test());
    Alterer alterer{1};
    const auto now = [&](const Records& all) {
        const Plant plant = read_at(sources_of(plant_of_test(), all), rules, make_date(2026, 1, 1));
        return ranking_csv(plant, rules, rank(plant, rules), 0, {});
    };
    CHECK((now(records) != now(alterer.alter(records))));
}

}  // namespace
}  // namespace lagline
