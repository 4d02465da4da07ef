#include <doctest/doctest.h>

#include <algorithm>
#include <stdexcept>

#include "program.h"
#include "support/csv_records.h"
#include "support/printed.h"
#include "support/worked_cases.h"

namespace lagline {
namespace {

const std::string sample = std::string{LAGLINE_SOURCE_DIR} + "/sample-plant/plant";

// A plant folder with the worked cases W1 to W4: their numbers in the units of the source.
void write_worked_cases(const TempFolder& folder) {
    folder.write("plant.yaml", "name: Worked cases\ncurrency: USD\nmanagement_score: 50 %\n");
    std::string csv =
        "segment,line,unit,material,nominal_size [NPS],outside_diameter [in],nominal_wall [in],"
        "in_service,operating_temperature [degF],insulation_type,insulation_condition,complexity,"
        "pooling,ground_or_water_interface,driver,coating_quality,coating_date,"
        "design_pressure [psi],allowable_stress [psi],yield_strength [psi],tensile_strength [psi],"
        "joint_efficiency,corrosion_allowance [in],data_confidence\n";
    const std::string tail = ",20000,35000,60000,1,0,low\n";
    for (const auto* name : {"W1", "W2", "W3"}) {
        csv += std::string{name} +
               ",L-1,U-1,carbon_steel,6,6.625,0.280,2010-01-01,160,mineral_wool,below_average,"
               "average,no,no,moderate,medium,2010-01-01,250" +
               tail;
    }
    csv +=
        "W4,L-1,U-1,carbon_steel,2,2.375,0.154,2015-01-01,90,mineral_wool,average,"
        "above_average,yes,no,severe,none,2015-01-01,150" +
        tail;
    folder.write("segments.csv", csv);
    // One usually effective (B), two highly effective (A) inspections.
    folder.write("inspections.csv",
                 "segment,date,technique,coverage [%]\nW2,2020-06-01,strip_and_measure,60\n"
                 "W3,2018-06-01,strip_and_measure,100\nW3,2022-06-01,strip_and_measure,100\n");
}

class Table {
  public:
    explicit Table(const std::string& csv) : records_(csv_records(csv)) {}
    [[nodiscard]] std::string text(std::string_view segment, const std::string& heading) const {
        const auto& headings = records_.front();
        const auto at = std::ranges::find(headings, heading) - headings.begin();
        for (const auto& record : records_) {
            if (record.at(1) == segment) return record.at(static_cast<std::size_t>(at));
        }
        throw std::runtime_error("no segment " + std::string{segment});
    }
    [[nodiscard]] double number(std::string_view segment, const std::string& heading) const {
        return std::stod(text(segment, heading));
    }

  private:
    std::vector<std::vector<std::string>> records_;
};

TEST_CASE("API RP 581 (2020) Part 2, section 16: the worked cases W1 to W4 by a plant folder") {
    const TempFolder folder;
    write_worked_cases(folder);
    const Ran ran = run({"rank", folder.path().string(), "--at", "2025-01-01", "--format", "csv",
                         "--rules", "published"});
    INFO(ran.err);
    REQUIRE(ran.code == 0);
    const Table table{ran.out};
    for (const WorkedCase& each : worked_cases) {
        const auto same = [&](const std::string& heading, std::string_view printed, double unit) {
            CAPTURE(each.name);
            CAPTURE(heading);
            CHECK(printed_like(table.number(each.name, heading) / unit, printed) ==
                  std::string{printed});
        };
        same("base_rate [mm/y]", each.base_mpy, mm_per_mil);
        same("corrosion_rate [mm/y]", each.rate_mpy, mm_per_mil);
        same("coating_credit [y]", each.credit_y, 1.0);
        same("exposed_time [y]", each.exposed_y, 1.0);
        same("pressure_minimum [mm]", each.pressure_minimum_in, mm_per_inch);
        same("strength_ratio_a", each.ratio_a, 1.0);
        same("strength_ratio_b", each.ratio_b, 1.0);
        same("wall_fraction", each.fraction, 1.0);
        for (std::size_t i = 0; i < 3; ++i) {
            const std::string state = std::to_string(i + 1);
            same("state_probability_" + state, each.state[i], 1.0);
            same("reliability_index_" + state, each.index[i], 1.0);
        }
        same("damage_factor", each.damage, 1.0);
        same("probability_of_failure [1/y]", each.probability, 1.0);
    }
}

TEST_CASE("the same bytes for any number of threads and any size of block") {
    for (const auto* format : {"csv", "json", "table"}) {
        const Arguments rank{"rank", sample, "--at", fixed_day, "--format", format};
        const Ran expected = run(rank);
        REQUIRE(expected.code == 0);
        for (const auto* threads : {"1", "2"}) {
            for (const auto* block : {"1", "7", "1024"}) {
                Arguments arguments = rank;
                arguments.insert(arguments.end(), {"--threads", threads, "--block", block});
                const bool same = run(arguments).out == expected.out;
                CAPTURE(format);
                CAPTURE(threads);
                CAPTURE(block);
                CHECK(same);
            }
        }
    }
}

TEST_CASE("--top: 25 rows on the screen, all in CSV and JSON, unless told") {
    const auto rows = [](const Arguments& more) {
        Arguments arguments{"rank", sample, "--at", fixed_day, "--format", "csv"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        return csv_records(run(arguments).out).size() - 1;
    };
    const auto all = rows({});
    CHECK(all > 25);
    CHECK(rows({"--top", "0"}) == all);
    CHECK(rows({"--top", "3"}) == 3);
    CHECK(rows({"--top", "1000000"}) == all);
    const Ran screen = run({"rank", sample, "--at", fixed_day});
    CHECK(holds(screen.out, "\n  25  "));
    CHECK_FALSE(holds(screen.out, "\n  26  "));
    const Ran json = run({"rank", sample, "--at", fixed_day, "--format", "json", "--top", "2"});
    CHECK(count(json.out, "\"rank\": ") == 2);
}

TEST_CASE("--at moves the date, and the first line says so") {
    const Ran ran = run({"rank", sample, "--at", "2031-05-06"});
    CHECK(ran.code == 0);
    CHECK(holds(ran.out, "Ranked at 2031-05-06 (as asked)"));
}

TEST_CASE("--rules takes a name or a folder; an unknown one is refused") {
    const StarterPlant plant;
    const std::string folder = std::string{LAGLINE_SOURCE_DIR} + "/rules/published";
    const Ran by_name =
        run({"rank", plant.path(), "--at", fixed_day, "--format", "csv", "--rules", "published"});
    const Ran by_folder =
        run({"rank", plant.path(), "--at", fixed_day, "--format", "csv", "--rules", folder});
    CHECK(by_name.code == 0);
    CHECK(by_name.out == by_folder.out);
    const Ran unknown = run({"rank", plant.path(), "--rules", "publishd"});
    CHECK(unknown.code == 3);
    CHECK(holds(unknown.err, "no rule set 'publishd'"));
    CHECK(holds(unknown.err, "published"));
}

}  // namespace
}  // namespace lagline
