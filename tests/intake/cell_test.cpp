#include <doctest/doctest.h>

#include <cmath>

#include "plant_folder.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

using S = SegmentField;

// One extra column with one cell, in both rows: the cell stands behind the 57 characters of a row
// and a comma, in column 59.
LoadedPlant with_cell(const std::string& heading, const std::string& cell, const Files& more = {}) {
    Files files = more;
    files["segments.csv"] = segments(heading, cell);
    return load(files);
}

void refused(const std::string& heading, const std::string& cell, std::string_view code,
             std::string_view found, std::string_view expected, std::string_view mend) {
    CAPTURE(heading);
    CAPTURE(cell);
    const auto loaded = with_cell(heading, cell);
    const std::string key = heading.substr(0, heading.find(' '));
    CHECK(summary(loaded.report) == std::string{code} + " segments.csv:2:59 " + key + "\n" +
                                        std::string{code} + " segments.csv:3:59 " + key + "\n");
    REQUIRE(!loaded.report.diagnostics().empty());
    const Diagnostic& first = loaded.report.diagnostics().front();
    CHECK(first.found == found);
    CHECK(holds(first.expected, expected));
    CHECK(holds(first.mend, mend));
    CHECK(first.excerpt.width > 0);
}

double number(const std::string& heading, const std::string& cell, S field) {
    const auto loaded = with_cell(heading, cell);
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant);
    return loaded.plant->segments.numbers(field)[1];
}

TEST_CASE("units in the heading and in the cell; the cell's own comes first") {
    // Exact by definition: 1 in = 25.4 mm, 1 ft = 0.3048 m, degC = (degF - 32) / 1.8.
    CHECK(number("length [m]", "12.5", S::length) == 12.5);
    CHECK(number("length [ft]", "10", S::length) == doctest::Approx(3.048).epsilon(1e-15));
    CHECK(number("length [m]", "10 ft", S::length) == doctest::Approx(3.048).epsilon(1e-15));
    CHECK(number("length", "10 ft", S::length) == doctest::Approx(3.048).epsilon(1e-15));
    CHECK(number("temperature_low [degF]", "32", S::temperature_low) == 0.0);
    CHECK(number("temperature_low [degC]", "-40 degF", S::temperature_low) ==
          doctest::Approx(-40.0).epsilon(1e-15));
    CHECK(number("hot_fraction", "0.4", S::hot_fraction) == 0.4);
    CHECK(number("hot_fraction", "40 %", S::hot_fraction) == doctest::Approx(0.4).epsilon(1e-15));
    CHECK(number("fittings", "\" 6 \"", S::fittings) == 6.0);
}

TEST_CASE("money: the plant's currency, thousands, and others by their price") {
    const std::string euro = "name: x\ncurrency: EUR\nexchange: {USD: 0.5}\n";
    const auto cost = [&](const std::string& heading, const std::string& cell) {
        const auto loaded = with_cell(heading, cell, {{"plant.yaml", euro}});
        INFO(to_text(loaded.report));
        REQUIRE(loaded.plant);
        return loaded.plant->segments.numbers(S::leak_cost)[0];
    };
    CHECK(cost("leak_cost [EUR]", "250000") == 250000.0);
    CHECK(cost("leak_cost [kEUR]", "250") == 250000.0);
    CHECK(cost("leak_cost [USD]", "100") == 50.0);
    CHECK(cost("leak_cost [EUR]", "2 kUSD") == 1000.0);
    const auto unknown = with_cell("leak_cost [GBP]", "1", {{"plant.yaml", euro}});
    CHECK(summary(unknown.report) == "unit-mismatch segments.csv:1:121 leak_cost [GBP]\n");
    CHECK(only(unknown).mend == "give the price of one GBP in EUR under `exchange` in plant.yaml");
    const auto bare = with_cell("leak_cost", "1", {{"plant.yaml", euro}});
    CHECK(summary(bare.report) == "missing-unit segments.csv:1:121 leak_cost\n");
    CHECK(holds(only(bare).mend, "leak_cost [EUR]"));
}

TEST_CASE("numbers that are none, or cannot be right") {
    refused("length [m]", "93 degC", "unit-mismatch", "'93 degC', a temperature", "a length (mm",
            "correct the unit, or move the value to its own column");
    refused("length [m]", "93 xyz", "unknown-unit", "'93 xyz'", "a length", "the unit 'xyz'");
    refused("length [m]", "\"12,5\"", "not-a-number", "'12,5', a number with a comma",
            "with a decimal point", "with a point and without thousands separators");
    refused("length [m]", "NaN", "not-a-number", "'NaN', which is not a finite number", "a length",
            "or leave it empty if the value is not known");
    refused("length [m]", "inf", "not-a-number", "'inf', which is not a finite number", "a length",
            "leave it empty");
    refused("length [m]", "1e400", "not-a-number", "'1e400', which is not a finite number",
            "a length", "leave it empty");
    refused("length [m]", "n/a", "not-a-number", "'n/a'", "a length", "leave it empty");
    refused("length [m]", "1e308", "out-of-range", "'1e308'", "between 0.01 m and 100000 m",
            "or the unit in the heading");
    refused("length [km]", "1e308", "out-of-range", "'1e308' km = inf m", "between 0.01 m",
            "or the unit in the heading");
    refused("insulation_thickness [mm]", "-50", "out-of-range", "'-50'", "between 1 mm and 1000 mm",
            "it cannot be negative");
    refused("insulation_thickness [in]", "50", "out-of-range", "'50' in = 1270 mm",
            "between 1 mm and 1000 mm", "or the unit in the heading");
    refused("hot_fraction", "40", "out-of-range", "'40'", "between 0 and 1", "correct the cell");
}

TEST_CASE("a needed cell that is empty or no number says that it must be filled") {
    const std::string head = std::string{needed_headings} + "\n";
    const auto empty =
        load({{"segments.csv", head + "S-1,L-1,U1,carbon_steel,4,,82,mineral_wool,1994-06-01\n"}});
    CHECK(summary(empty.report) == "missing-value segments.csv:2:27 nominal_wall\n");
    const auto nan = load(
        {{"segments.csv", head + "S-1,L-1,U1,carbon_steel,4,nan,82,mineral_wool,1994-06-01\n"}});
    CHECK(summary(nan.report) == "not-a-number segments.csv:2:27 nominal_wall\n");
    CHECK(holds(only(nan).mend, "this column must be filled"));
}

TEST_CASE("dates: a day, or a month or year that is marked as imprecise") {
    struct Case {
        std::string cell;
        Date date;
        CellState state;
    };
    for (const Case& each : {Case{"2011-09-15", make_date(2011, 9, 15), CellState::given},
                             Case{"2011-09", make_date(2011, 9, 1), CellState::imprecise},
                             Case{"2011", make_date(2011, 1, 1), CellState::imprecise}}) {
        CAPTURE(each.cell);
        const auto loaded = with_cell("coating_date", each.cell);
        REQUIRE(loaded.plant);
        CHECK(loaded.plant->segments.days(S::coating_date)[0] == each.date.days);
        CHECK(loaded.plant->segments.state(S::coating_date, 0) == each.state);
    }
    for (const auto* bad : {"15.9.2011", "09/15/2011", "2011-13-01", "2011-02-30", "11-09-15"}) {
        refused("coating_date", bad, "not-a-date", "'" + std::string{bad} + "'", "YYYY-MM-DD",
                "2014-06-30");
    }
}

TEST_CASE("words: exact, with the nearest one offered") {
    refused("driver", "Moderat", "unknown-word", "'Moderat'",
            "one of: severe, moderate, mild or dry", "did you mean 'moderate'?");
    refused("driver", "xyz", "unknown-word", "'xyz'", "one of: severe", "use one of these words");
    refused("pooling", "maybe", "unknown-word", "'maybe'", "one of: no or yes", "");
    const auto loaded = with_cell("pooling", "yes");
    REQUIRE(loaded.plant);
    CHECK(loaded.plant->segments.codes(S::pooling)[0] == 1);
}

// Walls of ASME B36.10M: NPS 4 Sch 40 (STD) 6.02 mm, Sch 80 (XS) 8.56 mm; NPS 6 Sch 40 7.11 mm.
TEST_CASE("a schedule is looked up at the row's size, whichever column comes first") {
    const std::string tail = ",82,mineral_wool,1994-06-01\n";
    for (const auto& [size, schedule, wall_mm] : {std::tuple{"4", "Sch 40", 6.02},
                                                  {"4", "STD", 6.02},
                                                  {"4", "XS", 8.56},
                                                  {"6", "Sch 40", 7.11},
                                                  {"DN 100", "Sch 80", 8.56}}) {
        CAPTURE(schedule);
        const auto behind =
            load({{"segments.csv", std::string{needed_headings} + "\nS-1,L-1,U1,carbon_steel," +
                                       size + "," + schedule + tail}});
        REQUIRE(behind.plant);
        CHECK(behind.plant->segments.numbers(S::nominal_wall)[0] == wall_mm);
        CHECK(behind.plant->segments.state(S::nominal_wall, 0) == CellState::given);
        const auto before =
            load({{"segments.csv",
                   std::string{"segment,line,unit,material,nominal_wall [mm],nominal_size [NPS],"
                               "operating_temperature [degC],insulation_type,in_service\n"
                               "S-1,L-1,U1,carbon_steel,"} +
                       schedule + "," + size + tail}});
        REQUIRE(before.plant);
        CHECK(before.plant->segments.numbers(S::nominal_wall)[0] == wall_mm);
    }
    const auto none = load({{"segments.csv", std::string{needed_headings} +
                                                 "\nS-1,L-1,U1,carbon_steel,4,Sch 41" + tail}});
    CHECK(summary(none.report) == "unknown-word segments.csv:2:27 nominal_wall\n");
    CHECK(only(none).found == "'Sch 41' at NPS 4");
    const auto sizeless = load({{"segments.csv", std::string{needed_headings} +
                                                     "\nS-1,L-1,U1,carbon_steel,5/7,STD" + tail}});
    CHECK(summary(sizeless.report) == "unknown-word segments.csv:2:25 nominal_size\n");
}

TEST_CASE("sizes by NPS, DN or inch, in heading or cell") {
    const std::string tail = ",6.02,82,mineral_wool,1994-06-01\n";
    struct Case {
        std::string heading, cell;
    };
    for (const Case& each : {Case{"nominal_size [NPS]", "4"}, Case{"nominal_size [DN]", "100"},
                             Case{"nominal_size [in]", "4"}, Case{"nominal_size", "NPS 4"},
                             Case{"nominal_size", "DN 100"}, Case{"nominal_size [NPS]", "DN100"},
                             Case{"nominal_size", "\"4\"\"\""}}) {
        CAPTURE(each.heading);
        CAPTURE(each.cell);
        const auto loaded =
            load({{"segments.csv", "segment,line,unit,material," + each.heading +
                                       ",nominal_wall [mm],operating_temperature [degC],"
                                       "insulation_type,in_service\nS-1,L-1,U1,carbon_steel," +
                                       each.cell + tail}});
        INFO(to_text(loaded.report));
        REQUIRE(loaded.plant);
        CHECK(pipe_sizes()[loaded.plant->segments.codes(S::nominal_size)[0]].nps == "4");
        CHECK(loaded.plant->segments.numbers(S::outside_diameter)[0] == 114.3);  // ASME B36.10M
        CHECK(loaded.plant->segments.state(S::outside_diameter, 0) == CellState::implied);
    }
}

}  // namespace
}  // namespace lagline
