// What cannot be true of any pipe, or hardly, one input a row: code, severity and place.
#include <doctest/doctest.h>

#include "plant_folder.h"
#include "support/rules.h"

namespace lagline {
namespace {

// The rank date is 2025-01-01, today 2024-01-01 (plant_folder.h).
struct Row {
    std::string_view headings, cells;  ///< behind the needed ones of S-1
    std::string_view expected;         ///< "error contradiction segments.csv:2:59 nominal_wall"
    std::string_view says;             ///< in what is expected, or how to mend it
};

std::string told(const Report& report) {
    std::string text;
    for (const Diagnostic& each : report.diagnostics()) {
        Report one;
        one.add(each);
        text += (each.severity == Severity::error ? "error " : "warning ") + summary(one);
    }
    return text;
}

void check(const Files& files, std::string_view expected, std::string_view says,
           const RuleSet* rules = nullptr) {
    CAPTURE(expected);
    const LoadedPlant loaded = load(files, {}, rules);
    CHECK(told(loaded.report) == std::string{expected} + "\n");
    const Diagnostic& found = only(loaded);
    CAPTURE(found.found);
    CAPTURE(found.expected);
    CAPTURE(found.mend);
    CHECK((holds(found.expected, says) || holds(found.mend, says)));
    CHECK(loaded.plant.has_value() == (found.severity == Severity::warning));
    // A warning says whose rank it moves.
    if (found.severity == Severity::warning) CHECK(holds(found.mend, "rank"));
}

std::string with(std::string_view headings, std::string_view cells) {
    return std::string{needed_headings} + "," + std::string{headings} + "\n" +
           std::string{one_row} + "," + std::string{cells} + "\n";
}

void check_rows(std::initializer_list<Row> rows) {
    for (const Row& row : rows) {
        check({{"segments.csv", with(row.headings, row.cells)}}, row.expected, row.says);
    }
}

// S-1 with one of its needed cells replaced.
void check_cell(std::string_view from, std::string_view to, std::string_view expected,
                std::string_view says) {
    std::string row{one_row};
    row.replace(row.find(from), from.size(), to);
    check({{"segments.csv", std::string{needed_headings} + "\n" + row + "\n"}}, expected, says);
}

TEST_CASE("a wall that no pipe of its size has") {
    check_cell(",6.02,", ",60.2,", "error contradiction segments.csv:2:27 nominal_wall",
               "less than half the outside diameter");
    check_cell(",6.02,", ",40,", "error contradiction segments.csv:2:27 nominal_wall",
               "at most 25.68 mm, a limit well above 17.12 mm, the heaviest schedule of NPS 4");
    check_cell(",6.02,", ",20,", "warning contradiction segments.csv:2:27 nominal_wall",
               "moves the wall left and the rank of S-1");
    check_cell(",6.02,", ",0,", "error out-of-range segments.csv:2:27 nominal_wall", "between");
    check_cell(",6.02,", ",-6.02,", "error out-of-range segments.csv:2:27 nominal_wall",
               "cannot be negative");
    check_cell(",6.02,", ",1e308,", "error out-of-range segments.csv:2:27 nominal_wall", "between");
    check_cell(",6.02,", ",nan,", "error not-a-number segments.csv:2:27 nominal_wall", "a length");
    check_cell(",6.02,", ",inf,", "error not-a-number segments.csv:2:27 nominal_wall", "a length");
    check_cell(",6.02,", ",1e999,", "error not-a-number segments.csv:2:27 nominal_wall",
               "a length");
    // Made to order: no schedule 160 or XXS of this size says how heavy it gets.
    const auto large =
        load({{"segments.csv", std::string{needed_headings} + "\nS-1,L-1,U1,carbon_steel,36,40,82,"
                                                              "mineral_wool,1994-06-01\n"}});
    CHECK(told(large.report).empty());
}

TEST_CASE("a diameter of another size") {
    check_rows(
        {{"outside_diameter [mm]", "600", "error contradiction segments.csv:2:59 outside_diameter",
          "114.3 mm, that of NPS 4"},
         {"outside_diameter [mm]", "108",
          "warning contradiction segments.csv:2:59 outside_diameter", "the rank of S-1"},
         {"outside_diameter [mm]", "4",
          "error out-of-range segments.csv:2:59 "
          "outside_diameter",
          "between 5 mm and 3000 mm"}});
}

TEST_CASE("minimum and allowance against the wall") {
    check_rows({{"corrosion_allowance [mm]", "6.02",
                 "error contradiction segments.csv:2:59 corrosion_allowance",
                 "less than the nominal wall, 6.02 mm"},
                {"corrosion_allowance [mm]", "9",
                 "error contradiction segments.csv:2:59 corrosion_allowance", "less than"},
                {"corrosion_allowance [mm]", "-1",
                 "error out-of-range segments.csv:2:59 corrosion_allowance", "cannot be negative"},
                {"minimum_thickness [mm]", "7",
                 "warning contradiction segments.csv:2:59 minimum_thickness",
                 "the wall to spare and the rank of S-1"},
                {"minimum_thickness [mm]", "0",
                 "error out-of-range segments.csv:2:59 minimum_thickness", "between"}});
}

TEST_CASE("strengths in an order that no steel has") {
    check_rows(
        {{"yield_strength [MPa],tensile_strength [MPa]", "450,415",
          "error contradiction segments.csv:2:59 yield_strength",
          "less than tensile_strength, 415 MPa"},
         {"yield_strength [MPa],tensile_strength [MPa]", "415,415",
          "error contradiction segments.csv:2:59 yield_strength", "less than"},
         {"yield_strength [MPa]", "450", "warning contradiction segments.csv:2:59 yield_strength",
          "the strength of the wall and the rank of S-1"},
         {"allowable_stress [MPa],tensile_strength [MPa]", "500,415",
          "error contradiction segments.csv:2:59 allowable_stress", "less than tensile_strength"},
         {"allowable_stress [MPa]", "1e4", "error out-of-range segments.csv:2:59 allowable_stress",
          "between"},
         {"joint_efficiency", "1.2", "error out-of-range segments.csv:2:59 joint_efficiency",
          "between 0.1 and 1"},
         {"joint_efficiency", "0", "error out-of-range segments.csv:2:59 joint_efficiency",
          "between 0.1 and 1"}});
}

TEST_CASE("a pressure that the new pipe does not hold") {
    // 200 x 114.3 / (2 x 6.02) = 1898.7 MPa; 20 MPa gives 189.9, above the 137.9 of the table.
    check_rows(
        {{"design_pressure [barg]", "2000", "error contradiction segments.csv:2:59 design_pressure",
          "P D / 2 t is 1899 MPa, above tensile_strength"},
         {"design_pressure [MPa]", "20", "warning contradiction segments.csv:2:59 design_pressure",
          "the strength of the wall and the rank of S-1"},
         {"design_pressure [MPa]", "-1", "error out-of-range segments.csv:2:59 design_pressure",
          "cannot be negative"},
         {"design_pressure [MPa]", "1e9", "error out-of-range segments.csv:2:59 design_pressure",
          "between"}});
}

TEST_CASE("temperatures that the steel, or the row itself, does not allow") {
    check_cell(",82,", ",900,", "error contradiction segments.csv:2:32 operating_temperature",
               "at most 650 degC, for carbon_steel");
    check_cell(",82,", ",901,", "error out-of-range segments.csv:2:32 operating_temperature",
               "between -200 degC and 900 degC");
    check_cell(",82,", ",-300,", "error out-of-range segments.csv:2:32 operating_temperature",
               "between");
    check_cell("carbon_steel,4,6.02,82", "duplex_stainless,4,6.02,700",
               "error contradiction segments.csv:2:36 operating_temperature",
               "at most 650 degC, for duplex_stainless");
    const auto hot = load({{"segments.csv", std::string{needed_headings} +
                                                "\nS-1,L-1,U1,austenitic_stainless,4,6.02,800,"
                                                "mineral_wool,1994-06-01\n"}});
    CHECK(told(hot.report).empty());
    check_rows({{"temperature_low [degC],temperature_high [degC]", "90,80",
                 "error contradiction segments.csv:2:59 temperature_low",
                 "at most temperature_high, 80 degC"}});
}

TEST_CASE("an operating temperature outside its own cycle") {
    check_rows(
        {{"temperature_low [degC],temperature_high [degC],service", "100,180,cyclic",
          "error contradiction segments.csv:2:32 operating_temperature",
          "at least temperature_low, 100 degC"},
         {"temperature_low [degC],temperature_high [degC],service", "20,60,cyclic",
          "error contradiction segments.csv:2:32 operating_temperature",
          "at most temperature_high, 60 degC"},
         {"temperature_low [degC],temperature_high [degC]", "100,180",
          "warning contradiction segments.csv:2:32 operating_temperature",
          "the metal temperature and the rank of S-1"},
         {"temperature_low [degC],temperature_high [degC],service", "100,180,continuous",
          "warning contradiction segments.csv:2:32 operating_temperature", "the rank of S-1"},
         {"temperature_high [degC],service", "660,cyclic",
          "error contradiction segments.csv:2:59 temperature_high",
          "at most 650 degC, for carbon_steel"}});
}

TEST_CASE("days that have not come, or came before there was a pipe") {
    check_cell("1994-06-01", "2024-01-02", "error contradiction segments.csv:2:48 in_service",
               "a day up to today, 2024-01-01");
    check_cell("1994-06-01", "2060-01-01", "error contradiction segments.csv:2:48 in_service",
               "has no risk to rank");
    check_cell("1994-06-01", "1850-06-01", "error out-of-range segments.csv:2:48 in_service",
               "a day of the years 1900 to 2200");
    check_cell("1994-06-01", "9999-12-31", "error out-of-range segments.csv:2:48 in_service",
               "a day of the years 1900 to 2200");
    check_cell("1994-06-01", "1994-02-30", "error not-a-date segments.csv:2:48 in_service",
               "ISO 8601");
    check_rows(
        {{"coating_date", "2031-01-01", "error contradiction segments.csv:2:59 coating_date",
          "what is planned is no protection yet"},
         {"coating_date", "1970-01-01", "error contradiction segments.csv:2:59 coating_date",
          "a day near or after 1994-06-01"},
         {"coating_date", "1992-01-01", "warning contradiction segments.csv:2:59 coating_date",
          "the age of the coating and the rank of S-1"},
         {"insulation_installed", "2024-02-01",
          "error contradiction segments.csv:2:59 insulation_installed", "up to today"},
         {"insulation_installed", "1950-01-01",
          "error contradiction segments.csv:2:59 insulation_installed", "near or after"},
         {"insulation_installed", "1990-01-01",
          "warning contradiction segments.csv:2:59 insulation_installed",
          "the age of the insulation and the rank of S-1"}});
    // Coated in the shop half a year before the start.
    CHECK(told(load({{"segments.csv", with("coating_date", "1993-12-01")}}).report).empty());
}

TEST_CASE("cells beyond the range of their column") {
    check_rows(
        {{"length [m]", "0", "error out-of-range segments.csv:2:59 length", "between"},
         {"length [m]", "1e308", "error out-of-range segments.csv:2:59 length", "between"},
         {"fittings", "-1", "error out-of-range segments.csv:2:59 fittings", "negative"},
         {"hot_fraction", "1.5", "error out-of-range segments.csv:2:59 hot_fraction",
          "between 0 and 1"},
         {"cycles_per_year [1/y]", "-3", "error out-of-range segments.csv:2:59 cycles_per_year",
          "negative"},
         {"insulation_thickness [mm]", "0",
          "error out-of-range segments.csv:2:59 insulation_thickness", "between"},
         {"coating_thickness [um]", "1e9", "error out-of-range segments.csv:2:59 coating_thickness",
          "between"},
         {"leak_cost [USD]", "-5", "error out-of-range segments.csv:2:59 leak_cost", "negative"},
         {"leak_cost [USD]", "1e308", "error out-of-range segments.csv:2:59 leak_cost", "between"},
         {"outage [day]", "99999", "error out-of-range segments.csv:2:59 outage", "between"},
         {"elevation [m]", "8848", "error out-of-range segments.csv:2:59 elevation", "between"}});
}

const std::string inspection_head =
    "segment,date,technique,coverage [%],least_thickness [mm],pit_depth [mm],rust_grade\n";

void check_inspection(std::string_view row, std::string_view expected, std::string_view says) {
    check({{"inspections.csv", inspection_head + std::string{row} + "\n"}}, expected, says);
}

TEST_CASE("findings that no wall has") {
    check_inspection("S-1,2020-01-01,strip_and_measure,50,,7,",
                     "error contradiction inspections.csv:2:38 pit_depth",
                     "at most 6.02 mm, the nominal wall of S-1");
    check_inspection("S-1,2020-01-01,strip_and_measure,50,,6.5,",
                     "warning contradiction inspections.csv:2:38 pit_depth",
                     "taken as a hole, which moves the rank of S-1");
    check_inspection("S-1,2020-01-01,strip_and_measure,50,9,,",
                     "warning contradiction inspections.csv:2:37 least_thickness",
                     "moves the wall left and the rank of S-1");
    check_inspection("S-1,2020-01-01,strip_and_measure,50,-1,,",
                     "error out-of-range inspections.csv:2:37 least_thickness", "negative");
    check_inspection("S-1,2020-01-01,strip_and_measure,101,,,",
                     "error out-of-range inspections.csv:2:34 coverage", "between 0 % and 100 %");
    check_inspection("S-1,2020-01-01,strip_and_measure,50,,,11",
                     "error out-of-range inspections.csv:2:39 rust_grade", "between 0 and 10");
    check_inspection("S-1,1990-01-01,strip_and_measure,50,,,",
                     "error contradiction inspections.csv:2:5 date", "went into service");
}

TEST_CASE("an inspection after today is not counted, and said so") {
    check_inspection("S-1,2024-06-01,strip_and_measure,100,6,,",
                     "warning contradiction inspections.csv:2:5 date",
                     "not counted until then, so the rank of S-1 goes without it");
    const Files files{{"inspections.csv", inspection_head +
                                              "S-1,2024-06-01,strip_and_measure,100,3,,\n"
                                              "S-1,2023-06-01,strip_and_measure,100,6,,\n"}};
    const LoadedPlant loaded = load(files);
    REQUIRE(loaded.plant);
    CHECK(loaded.plant->inspection_order == std::vector<std::uint32_t>{1});
    // On the day itself it counts.
    const LoadedPlant later = load(files, {.today = make_date(2024, 6, 1)});
    REQUIRE(later.plant);
    CHECK(later.report.diagnostics().empty());
    CHECK(later.plant->inspection_order == std::vector<std::uint32_t>{1, 0});
}

TEST_CASE("the same row three times is one inspection; two findings of a day stay two") {
    const std::string row = "S-1,2020-01-01,strip_and_measure,100,6,,\n";
    const LoadedPlant loaded =
        load({{"inspections.csv",
               inspection_head + row + "S-2,2021-01-01,strip_and_measure,9,,,\n" + row + row}});
    REQUIRE(loaded.plant);
    CHECK(told(loaded.report) ==
          "warning duplicate-key inspections.csv:4:1 segment\n"
          "warning duplicate-key inspections.csv:5:1 segment\n");
    CHECK(holds(loaded.report.diagnostics()[0].found, "stands already in line 2"));
    CHECK(holds(loaded.report.diagnostics()[0].mend, "the rank of S-1 goes without this one"));
    CHECK(loaded.plant->inspection_begin == std::vector<std::uint32_t>{0, 1, 2});
    CHECK(loaded.plant->inspection_order == std::vector<std::uint32_t>{0, 1});

    const LoadedPlant two =
        load({{"inspections.csv",
               inspection_head + row + "S-1,2020-01-01,strip_and_measure,100,5,,\n"}});
    REQUIRE(two.plant);
    CHECK(two.report.diagnostics().empty());
    CHECK(two.plant->inspection_order == std::vector<std::uint32_t>{0, 1});
}

TEST_CASE("plant.yaml: exchange, costs, climate and defaults") {
    const std::string usual = "name: Invented plant\ncurrency: USD\n";
    struct Yaml {
        std::string text;
        std::string_view expected, says;
    };
    for (const Yaml& each : std::initializer_list<Yaml>{
             {"exchange: {EUR: 1e-9}", "error out-of-range plant.yaml:3:17 exchange -> EUR",
              "correct the number"},
             {"exchange: {EUR: 1e9}", "error out-of-range plant.yaml:3:17 exchange -> EUR",
              "correct the number"},
             {"exchange: {EUR: -1}", "error out-of-range plant.yaml:3:17 exchange -> EUR",
              "correct the number"},
             {"exchange: {EUR: .nan}", "error not-a-number plant.yaml:3:17 exchange -> EUR",
              "a number"},
             {"exchange: {USD: 2}", "error contradiction plant.yaml:3:17 exchange -> USD",
              "leave the plant's currency out"},
             {"management_score: 120 %", "error out-of-range plant.yaml:3:19 management_score",
              "correct the number"},
             {"unit_costs: {recoat: {value: -5, per: m2}}",
              "error out-of-range plant.yaml:3:30 unit_costs -> recoat", "correct the number"},
             {"criteria: {probability: 3 1/y}",
              "error out-of-range plant.yaml:3:25 criteria -> probability", "correct the number"},
             {"defaults: {corrosion_allowance: 60 mm}",
              "error out-of-range plant.yaml:3:33 default of corrosion_allowance",
              "correct the cell"}}) {
        check({{"plant.yaml", usual + each.text + "\n"}}, each.expected, each.says);
    }
    // A default contradicts the cells it stands beside, segment by segment.
    const LoadedPlant loaded =
        load({{"plant.yaml", usual + "defaults: {corrosion_allowance: 8 mm}\n"}});
    CHECK(told(loaded.report) ==
          "error contradiction segments.csv:2:1 corrosion_allowance\n"
          "error contradiction segments.csv:3:1 corrosion_allowance\n");
    CHECK(loaded.report.diagnostics()[0].found == "8 mm, the default of plant.yaml");
}

TEST_CASE("an override is held to the same limits, where it is written") {
    const std::string head = "segment,quantity,value,reason,who,when\n";
    struct Override {
        std::string_view quantity, value, expected, says;
    };
    for (const Override& each : std::initializer_list<Override>{
             {"nominal_wall", "40 mm", "error contradiction overrides.csv:2:18 value",
              "at most 25.68 mm"},
             {"nominal_wall", "-1 mm", "error out-of-range overrides.csv:2:18 value", "negative"},
             {"operating_temperature", "700 degC", "error contradiction overrides.csv:2:27 value",
              "at most 650 degC"},
             {"coating_date", "2031-01-01", "error contradiction overrides.csv:2:18 value",
              "up to today"},
             {"in_service", "2024-05-01", "error contradiction overrides.csv:2:16 value",
              "up to today"},
             {"design_pressure", "2000 barg", "error contradiction overrides.csv:2:21 value",
              "above tensile_strength"},
             {"tensile_strength", "200 MPa",
              "warning contradiction segments.csv:2:1 yield_strength", "the rank of S-1"},
             {"length", "nan m", "error not-a-number overrides.csv:2:12 value", "a length"}}) {
        check(
            {{"overrides.csv", head + "S-1," + std::string{each.quantity} + "," +
                                   std::string{each.value} + ",measured,A. Engineer,2020-01-01\n"}},
            each.expected, each.says);
    }
}

TEST_CASE("all impossible cells of all files are in one report") {
    const LoadedPlant loaded =
        load({{"segments.csv", std::string{needed_headings} +
                                   ",coating_date,corrosion_allowance [mm],design_pressure [MPa]\n"
                                   "S-1,L-1,U1,carbon_steel,4,40,700,mineral_wool,1850-01-01,,,\n"
                                   "S-2,L-1,U1,carbon_steel,4,6.02,82,mineral_wool,1994-06-01,"
                                   "2031-01-01,8,200\n"},
              {"inspections.csv", inspection_head + "S-2,2030-01-01,strip_and_measure,50,,,\n"
                                                    "S-2,2020-01-01,strip_and_measure,50,,60,\n"},
              {"plant.yaml", "name: x\ncurrency: USD\nexchange: {EUR: 1e-9}\n"}});
    CHECK(told(loaded.report) ==
          "warning contradiction inspections.csv:2:5 date\n"
          "error contradiction inspections.csv:3:38 pit_depth\n"
          "error out-of-range plant.yaml:3:17 exchange -> EUR\n"
          "error contradiction segments.csv:2:27 nominal_wall\n"
          "error contradiction segments.csv:2:30 operating_temperature\n"
          "error out-of-range segments.csv:2:47 in_service\n"
          "error contradiction segments.csv:3:59 coating_date\n"
          "error contradiction segments.csv:3:70 corrosion_allowance\n"
          "error contradiction segments.csv:3:72 design_pressure\n");
    CHECK_FALSE(loaded.plant);
}

}  // namespace
}  // namespace lagline
