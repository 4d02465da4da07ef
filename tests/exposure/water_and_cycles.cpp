// Water beside the weather, the service cycle, and what keeps rain out, under the extended rules.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "extended/made_plant.h"
#include "ranking/explain.h"
#include "support/temp_folder.h"
#include "synthesis/synthesis.h"

namespace lagline {
namespace {

const RuleSet& rules() { return shipped_extended(); }

RowCells swinging(double low, double high, double cycles, RowCells more = {}) {
    RowCells cells{{"operating_temperature", std::to_string(high) + " degC"},
                   {"service", "cyclic"},
                   {"temperature_low", std::to_string(low) + " degC"},
                   {"temperature_high", std::to_string(high) + " degC"},
                   {"hot_fraction", "0.5"},
                   {"cycles_per_year", std::to_string(cycles) + " 1/y"}};
    for (const auto& [key, text] : more) cells[key] = text;
    return cells;
}

// A temperate coast, dew points from 2 to 14 degC.
Climate temperate() {
    Climate climate = even_climate(0.0, 80.0, 900.0);
    climate.mean_temperature_degc = {4.1,  4.4,  6.3,  8.9,  12.6, 15.4,
                                     17.5, 17.6, 15.2, 11.6, 7.6,  5.0};
    return climate;
}

Ranking ranked(const std::vector<RowCells>& segments) {
    PlantDescription description;
    description.climate = temperate();
    return rank(read_made({.segments = segments, .description = description}, rules()), rules());
}

double rate(const RowCells& changes) {
    return ranked({made_segment("S-1", changes)}).wall_loss.corrosion_rate_mm_per_year[0];
}

TEST_CASE("ends of a cycle without a service: the line cycles") {
    const RowCells ends{{"operating_temperature", "200 degC"},
                        {"service", ""},
                        {"temperature_low", "15 degC"},
                        {"temperature_high", "200 degC"}};
    RowCells entered = ends;
    entered["service"] = "cyclic";
    CHECK(rate(ends) == rate(entered));
    CHECK(rate(ends) > 0.0);
    // Within the step of 20 K it is the season or the control.
    const RowCells close{{"operating_temperature", "70 degC"},
                         {"service", ""},
                         {"temperature_low", "62 degC"},
                         {"temperature_high", "80 degC"}};
    CHECK(rate(close) == rate({{"operating_temperature", "70 degC"}}));
}

// The report of one line with these cells behind the needed ones.
Report report_of(const RuleSet& set, const std::string& headings, const std::string& cells) {
    const TempFolder folder;
    folder.write("plant.yaml", "name: x\ncurrency: USD\n");
    folder.write("segments.csv",
                 "segment,line,unit,material,nominal_size,nominal_wall,operating_temperature,"
                 "insulation_type,in_service," +
                     headings + "\nS-1,L-1,U1,carbon_steel,NPS 4,6.02 mm,200 degC,mineral_wool," +
                     "1994-06-01," + cells + "\n");
    const Date at = make_date(2025, 1, 1);
    return load_plant(folder.path(), set, {at, at, {}}).report;
}

std::size_t count_in(const std::string& text, const std::string& part) {
    std::size_t count = 0;
    for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
    return count;
}

TEST_CASE("ends of a cycle without a service are warned of at the cell, with what is taken") {
    const std::string ends = "temperature_low,temperature_high,service";
    const std::string extended = to_text(report_of(rules(), ends, "20 degC,200 degC,"));
    CAPTURE(extended);
    CHECK(count_in(extended, "temperature_high") >= 1);
    CHECK(count_in(extended, "service is taken as cyclic") == 1);
    CHECK(count_in(extended, "20 K") == 1);
    const std::string close = to_text(report_of(rules(), ends, "190 degC,200 degC,"));
    CHECK(count_in(close, "the ends are not used") == 1);
    const std::string published =
        to_text(report_of(shipped_published(), ends, "20 degC,200 degC,"));
    CHECK(count_in(published, "warning [contradiction] temperature_high") == 1);
    // A warning lets the plant through; an entered service leaves nothing to say.
    CHECK(report_of(rules(), ends, "20 degC,200 degC,").ok());
    CHECK(count_in(to_text(report_of(rules(), ends, "20 degC,200 degC,cyclic")), "service is") ==
          0);
}

TEST_CASE("hot and standby shares of more than a year are refused at the cell") {
    const std::string shares = "service,hot_fraction,standby_fraction";
    CHECK_FALSE(report_of(rules(), shares, "cyclic,0.7,0.4").ok());
    CHECK(report_of(rules(), shares, "cyclic,0.6,0.4").ok());
    CHECK(report_of(rules(), shares, "cyclic,0.9,").ok());
}

TEST_CASE("a cycle through the dew point stands above steel that stands at 10 degC") {
    for (const char* driver : {"severe", "moderate", "mild", "dry"}) {
        CAPTURE(driver);
        const RowCells weather{{"driver", driver}};
        const double steady = rate({{"operating_temperature", "10 degC"}, {"driver", driver}});
        for (const double cycles : {12.0, 52.0, 365.0, 730.0}) {
            CAPTURE(cycles);
            CHECK(rate(swinging(-20.0, 200.0, cycles, weather)) > steady);
        }
    }
}

TEST_CASE("the hot end below the boiling point or just above it: hardly a difference") {
    for (const double cycles : {12.0, 52.0, 365.0}) {
        CAPTURE(cycles);
        const double below = rate(swinging(60.0, 99.9, cycles));
        const double above = rate(swinging(60.0, 101.0, cycles));
        CHECK(std::abs(above / below - 1.0) < 0.04);
    }
}

// Relative change of the rate from one point of a sweep to the next, the greatest of all.
double greatest_jump(const std::vector<RowCells>& sweep) {
    std::vector<RowCells> segments;
    for (std::size_t i = 0; i < sweep.size(); ++i) {
        // Names in order of the sweep: rows of a ranking stand as the file has them.
        segments.push_back(made_segment("S-" + std::to_string(100'000 + i), sweep[i]));
    }
    const Numbers rates = ranked(segments).wall_loss.corrosion_rate_mm_per_year;
    double greatest = 0.0;
    for (Eigen::Index i = 1; i < rates.size(); ++i) {
        const double least = std::max({rates[i], rates[i - 1], 1e-3});
        greatest = std::max(greatest, std::abs(rates[i] - rates[i - 1]) / least);
    }
    return greatest;
}

TEST_CASE("no cliff: steps of 0.2 K or of 2 % in cycles move the rate by less than 7 %") {
    for (const std::string& driver : std::vector<std::string>{"severe", "mild"}) {
        CAPTURE(driver);
        const RowCells weather{{"driver", driver}};
        for (const double low : {-40.0, -17.0, 5.0, 15.0, 60.0}) {
            CAPTURE(low);
            std::vector<RowCells> by_high;
            for (double high = low + 1.0; high <= 260.0; high += 0.2) {
                by_high.push_back(swinging(low, high, 52.0, weather));
            }
            CHECK(greatest_jump(by_high) < 0.07);
        }
        for (const double high : {30.0, 90.0, 105.0, 220.0}) {
            CAPTURE(high);
            // Above 163 degC (325 degF) the printed rate itself falls to 0 within 14 K.
            std::vector<RowCells> by_low;
            for (double low = -60.0; low <= std::min(high - 1.0, 150.0); low += 0.2) {
                by_low.push_back(swinging(low, high, 52.0, weather));
            }
            CHECK(greatest_jump(by_low) < 0.07);
        }
        std::vector<RowCells> by_cycles;
        for (double cycles = 1.0; cycles < 1000.0; cycles *= 1.02) {
            by_cycles.push_back(swinging(-17.0, 220.0, cycles, weather));
        }
        CHECK(greatest_jump(by_cycles) < 0.07);
    }
}

TEST_CASE("no cycle corrodes less than the safest of its own steady levels") {
    for (const double low : {-40.0, -5.0, 4.0, 12.0, 40.0}) {
        for (const double high : {60.0, 99.0, 140.0, 220.0}) {
            for (const double cycles : {1.0, 52.0, 730.0}) {
                CAPTURE(low);
                CAPTURE(high);
                CAPTURE(cycles);
                const auto steady = [&](double degc) {
                    return rate({{"operating_temperature", std::to_string(degc) + " degC"}});
                };
                const double safest = std::min(steady(low), steady(high));
                CHECK(rate(swinging(low, high, cycles)) >= safest * (1.0 - 1e-12));
            }
        }
    }
}

TEST_CASE("a cold line that never thaws stays frozen") {
    CHECK(rate(swinging(-60.0, -20.0, 365.0, {{"standby_fraction", "0"}})) == 0.0);
    CHECK(rate(swinging(-60.0, -20.0, 365.0, {{"standby_fraction", "0.3"}})) > 0.0);
}

TEST_CASE("standby and time of a ramp can be entered; more time in the wet range is worse") {
    const auto with = [](const char* key, const char* value) {
        RowCells more{{"standby_fraction", "0"}};
        more[key] = value;
        return rate(swinging(-17.0, 220.0, 2.0, more));
    };
    CHECK(with("standby_fraction", "0.3") > with("standby_fraction", "0"));
    CHECK(with("standby_fraction", "0.5") > with("standby_fraction", "0.3"));
    CHECK(with("ramp_time", "24 h") > with("ramp_time", "2 h"));
    const auto standing = [](const char* degc) {
        return rate(swinging(-17.0, 220.0, 2.0,
                             {{"standby_fraction", "0.3"}, {"standby_temperature", degc}}));
    };
    CHECK(standing("20 degC") > standing("-17 degC"));
}

// What knowing less of it does to the line of the Beacon; each is a way to enter it.
std::vector<RowCells> ways_to_enter_the_failed_line() {
    std::vector<RowCells> ways;
    for (const char* low : {"", "1 degF"}) {
        for (const char* cycles : {"", "12 1/y", "52 1/y"}) {
            for (const char* hot : {"", "0.05", "0.1"}) {
                for (const char* standby : {"", "0.3", "0.5"}) {
                    for (const char* service : {"", "cyclic"}) {
                        ways.push_back({{"segment", "BEACON"},
                                        {"line", "L-8"},
                                        {"unit", "U2"},
                                        {"material", "carbon_steel"},
                                        {"nominal_size", "NPS 8"},
                                        {"nominal_wall", "8.18 mm"},
                                        {"in_service", "1997-04-05"},
                                        {"operating_temperature", "1 degF"},
                                        {"temperature_low", low},
                                        {"temperature_high", "428 degF"},
                                        {"insulation_type", "mineral_wool"},
                                        {"service", service},
                                        {"cycles_per_year", cycles},
                                        {"hot_fraction", hot},
                                        {"standby_fraction", standby}});
                    }
                }
            }
        }
    }
    return ways;
}

Plant plant_of(const std::filesystem::path& folder) {
    const Date at = make_date(2027, 4, 5);
    LoadedPlant loaded = load_plant(folder, rules(), {at, at, {}});
    if (!loaded.plant) throw std::runtime_error(to_text(loaded.report));
    return std::move(*loaded.plant);
}

void stands_in_the_top_decile(const Plant& plant) {
    const Ranking among = rank(plant, rules());
    std::vector<double> risks;
    for (const std::uint32_t row : among.order) risks.push_back(among.risk.risk_per_year[row]);
    const double tenth = risks[risks.size() / 10];
    std::vector<RowCells> ways = ways_to_enter_the_failed_line();
    for (std::size_t i = 0; i < ways.size(); ++i) ways[i]["segment"] += std::to_string(i);
    const Plant failed = read_made(
        {.segments = ways, .description = plant.description, .at = make_date(2027, 4, 5)}, rules());
    const Ranking found = rank(failed, rules());
    for (Eigen::Index row = 0; row < found.risk.risk_per_year.size(); ++row) {
        CAPTURE(row);
        CHECK(found.risk.risk_per_year[row] > tenth);
    }
}

TEST_CASE("CCPS Process Safety Beacon, June 2019: the line that failed is in the top decile") {
    stands_in_the_top_decile(
        plant_of(std::filesystem::path{LAGLINE_SOURCE_DIR} / "sample-plant" / "plant"));
    for (const std::uint64_t seed : {11U, 12U, 13U}) {
        CAPTURE(seed);
        const SyntheticPlant made = synthesise({.segments = 600, .seed = seed});
        const TempFolder folder;
        folder.write("plant.yaml", made.plant_yaml);
        folder.write("segments.csv", made.segments_csv);
        folder.write("inspections.csv", made.inspections_csv);
        folder.write("turnarounds.csv", made.turnarounds_csv);
        stands_in_the_top_decile(plant_of(folder.path()));
    }
}

struct Moved {
    const char* column;
    const char* worse;
    const char* better;
    const char* rule;
};

TEST_CASE(
    "tracing, jacket, age, insulation and run each move the risk, and explain cites the rule") {
    for (const Moved& each :
         {Moved{"heat_tracing", "steam", "none", "driver_of_tracing"},
          Moved{"jacket", "none", "aluminium", "weather_jacket_factor"},
          Moved{"jacket", "mastic", "stainless_steel", "weather_jacket_factor"},
          Moved{"insulation_installed", "2006-01-01", "2020-01-01", "insulation_age_factor"},
          Moved{"insulation_installed", "", "2020-01-01", "insulation_age_factor"},
          Moved{"insulation_type", "mineral_wool", "elastomeric_foam", "insulation_factor"},
          Moved{"insulation_type", "mineral_wool", "aerogel_blanket", "insulation_factor"},
          Moved{"insulation_type", "mineral_wool", "polyurethane_foam", "insulation_factor"},
          Moved{"orientation", "vertical", "horizontal", "orientation_factor"}}) {
        CAPTURE(each.column);
        CAPTURE(each.worse);
        const auto segment = [&](const char* name, const char* word) {
            return made_segment(name, {{each.column, word}, {"driver", "dry"}});
        };
        PlantDescription description;
        description.climate = even_climate(12.0, 75.0, 300.0);
        const Plant plant = read_made(
            {.segments = {segment("S-better", each.better), segment("S-worse", each.worse)},
             .description = description},
            rules());
        const Ranking ranking = rank(plant, rules());
        CHECK(ranking.risk.risk_per_year[1] > ranking.risk.risk_per_year[0]);
        bool cited = false;
        for (const ExplainedQuantity& quantity : explain(plant, rules(), ranking, 1).quantities) {
            for (const ExplainedRule& rule : quantity.rules) {
                cited = cited || rule.table->name == each.rule;
            }
        }
        CHECK(cited);
    }
}

TEST_CASE("damage to the jacket that was found raises the risk") {
    const auto risk = [](const char* damage) {
        MadePlant made{.segments = {made_segment("S-1")}};
        made.inspections = {made_inspection(
            "S-1", "2015-01-01", {{"technique", "external_visual"}, {"jacket_damage", damage}})};
        return rank(read_made(made, rules()), rules()).risk.risk_per_year[0];
    };
    CHECK(risk("severe") > risk("none"));
}

TEST_CASE("the printed factors multiply to the printed table rate, in every row") {
    const Plant plant =
        plant_of(std::filesystem::path{LAGLINE_SOURCE_DIR} / "sample-plant" / "plant");
    const Ranking ranking = rank(plant, rules());
    const auto rows = static_cast<std::uint32_t>(ranking.mechanism_rows.wall_loss);
    REQUIRE(rows > 500);
    for (std::uint32_t row = 0; row < rows; ++row) {
        CAPTURE(row);
        const Explanation told = explain(plant, rules(), ranking, row);
        const auto number = [&](std::string_view key) {
            const auto found = std::ranges::find_if(
                told.quantities, [&](const auto& each) { return each.info->key == key; });
            REQUIRE(found != told.quantities.end());
            return *found;
        };
        const ExplainedQuantity table_rate = number("table_rate");
        double product = 1.0;
        double worse_of_two = 0.0;
        for (const ExplainedInput& input : table_rate.inputs) {
            const double value = number(input.key).number.value();
            const bool of_two = input.key == "pooling_factor" || input.key == "interface_factor";
            if (of_two) {
                worse_of_two = std::max(worse_of_two, value);
            } else {
                product *= value;
            }
        }
        CHECK(product * worse_of_two == doctest::Approx(table_rate.number.value()).epsilon(1e-9));
    }
}

}  // namespace
}  // namespace lagline
