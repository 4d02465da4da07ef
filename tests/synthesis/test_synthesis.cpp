#include <doctest/doctest.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "plant/field.h"
#include "quantity/date.h"
#include "quantity/pipe_size.h"
#include "quantity/unit.h"
#include "synthesis/synthesis.h"

using namespace lagline;

namespace {

const std::string source_dir = LAGLINE_SOURCE_DIR;

using Row = std::vector<std::string>;
struct Table {
    Row headings;
    std::vector<Row> rows;
};

/// RFC 4180 as far as the generator may use it.
Table read_csv(const std::string& bytes) {
    std::vector<Row> rows(1, Row(1));
    bool quoted = false;
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        const char c = bytes[i];
        auto& cell = rows.back().back();
        if (quoted && c == '"' && i + 1 < bytes.size() && bytes[i + 1] == '"') {
            cell += bytes[++i];
        } else if (c == '"') {
            quoted = !quoted;
        } else if (!quoted && c == ',') {
            rows.back().emplace_back();
        } else if (!quoted && c == '\n') {
            rows.emplace_back(1);
        } else {
            cell += c;
        }
    }
    REQUIRE_FALSE(quoted);
    REQUIRE(rows.back() == Row{""});  // the last line is ended
    rows.pop_back();
    Table table;
    table.headings = rows.front();
    table.rows.assign(rows.begin() + 1, rows.end());
    return table;
}

std::string file_bytes(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    REQUIRE_MESSAGE(in.good(), path);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// The vocabularies of the shipped rule set.
const std::map<std::string, std::set<std::string>>& vocabularies() {
    static const auto words = [] {
        std::map<std::string, std::set<std::string>> found;
        const auto file = YAML::LoadFile(source_dir + "/rules/published/words.yaml");
        for (const auto& vocabulary : file["words"]) {
            for (const auto& entry : vocabulary.second) {
                found[vocabulary.first.as<std::string>()].insert(entry.first.as<std::string>());
            }
        }
        return found;
    }();
    return words;
}

bool fits(const FieldInfo& field, const std::string& cell) {
    switch (field.kind) {
        case FieldKind::text:
            return true;
        case FieldKind::flag:
            return cell == "yes" || cell == "no";
        case FieldKind::word:
            return vocabularies().at(std::string(field.words)).contains(cell);
        case FieldKind::quantity: {
            const auto reading = read_number(cell);
            return reading.fault == NumberFault::none && reading.value >= field.least &&
                   reading.value <= field.most;
        }
        case FieldKind::date:
            return parse_date(cell).has_value();
        case FieldKind::pipe_size:
            return parse_pipe_size(cell, SizeSystem::nps).has_value();
    }
    return false;
}

/// Every heading as the plant folder wants it, every cell of its kind and within its range.
void check_table(const Table& table, std::span<const FieldInfo> fields) {
    REQUIRE(table.headings.size() == fields.size());
    for (std::size_t f = 0; f < fields.size(); ++f) {
        const bool money = fields[f].dimension == Dimension::money;
        CHECK(table.headings[f] == heading_of(fields[f]) + (money ? " [EUR]" : ""));
    }
    for (const auto& row : table.rows) {
        REQUIRE(row.size() == fields.size());
        for (std::size_t f = 0; f < fields.size(); ++f) {
            const bool good = row[f].empty() ? !fields[f].needed : fits(fields[f], row[f]);
            if (good) continue;  // a message per cell would slow the loop down
            CAPTURE(row[0]);
            CAPTURE(row[f]);
            FAIL_CHECK(std::string(fields[f].key));
        }
    }
}

double number(const Row& row, SegmentField field) {
    return read_number(row[index_of(field)]).value;
}
const std::string& cell(const Row& row, SegmentField field) { return row[index_of(field)]; }
const std::string& cell(const Row& row, InspectionField field) { return row[index_of(field)]; }

double share_of(const Table& table, SegmentField field, std::string_view word) {
    const auto count =
        std::ranges::count_if(table.rows, [&](const Row& row) { return cell(row, field) == word; });
    return static_cast<double>(count) / static_cast<double>(table.rows.size());
}

}  // namespace

TEST_CASE("the same options give the same bytes, another seed others") {
    const SynthesisOptions options{200, 0, 11};
    const auto one = synthesise(options);
    const auto same = synthesise(options);
    CHECK(one.plant_yaml == same.plant_yaml);
    CHECK(one.segments_csv == same.segments_csv);
    CHECK(one.inspections_csv == same.inspections_csv);
    CHECK(one.turnarounds_csv == same.turnarounds_csv);

    const auto other = synthesise({200, 0, 12});
    CHECK(one.segments_csv != other.segments_csv);
    CHECK(one.inspections_csv != other.inspections_csv);
}

TEST_CASE("the rows of a plant are the first rows of a larger one") {
    const auto small = synthesise({150, 0, 5});
    const auto large = synthesise({1600, 0, 5});
    CHECK(large.segments_csv.starts_with(small.segments_csv));

    // Nine whole racks of sixteen keep their inspections; the tenth is cut short.
    const auto whole = synthesise({144, 0, 5});
    CHECK(large.inspections_csv.starts_with(whole.inspections_csv));
}

TEST_CASE("as many rows as asked for") {
    for (const std::size_t segments : {0U, 1U, 15U, 16U, 17U, 601U}) {
        for (const std::size_t inspections : {0U, 1U, 40U, 5000U}) {
            CAPTURE(segments);
            CAPTURE(inspections);
            const auto plant = synthesise({segments, inspections, 3});
            const auto wanted = inspections == 0 ? segments * 3 / 2 : inspections;
            CHECK(read_csv(plant.segments_csv).rows.size() == segments);
            CHECK(read_csv(plant.inspections_csv).rows.size() == (segments == 0 ? 0 : wanted));
            CHECK(read_csv(plant.turnarounds_csv).rows.size() == 3);
        }
    }
}

TEST_CASE("names are padded to the number of segments, five digits at least") {
    CHECK(read_csv(synthesise({3, 0, 1}).segments_csv).rows.back()[0] == "S-00003");
    CHECK(read_csv(synthesise({100'000, 1, 1}).segments_csv).rows.front()[0] == "S-000001");
}

TEST_CASE("every cell is of its column's kind, range and vocabulary") {
    for (const std::uint64_t seed : {1U, 2U, 7U}) {
        const auto plant = synthesise({3000, 0, seed});
        check_table(read_csv(plant.segments_csv), segment_fields());
        check_table(read_csv(plant.inspections_csv), inspection_fields());
        check_table(read_csv(plant.turnarounds_csv), turnaround_fields());
    }
}

TEST_CASE("a segment does not contradict itself") {
    using F = SegmentField;
    const auto table = read_csv(synthesise({5000, 1, 4}).segments_csv);
    std::set<std::string> names;
    for (const auto& row : table.rows) {
        CAPTURE(row[0]);
        CHECK(names.insert(row[0]).second);
        const Date in_service = parse_date(cell(row, F::in_service))->date;
        CHECK(in_service >= make_date(1971, 1, 1));
        CHECK(in_service <= make_date(2019, 12, 31));
        for (const F later : {F::insulation_installed, F::coating_date}) {
            if (cell(row, later).empty()) continue;
            CHECK(parse_date(cell(row, later))->date >= in_service);
            CHECK(parse_date(cell(row, later))->date < make_date(2026, 1, 1));
        }
        const double operating = number(row, F::operating_temperature);
        if (!cell(row, F::temperature_low).empty()) {
            CHECK(number(row, F::temperature_low) <= operating);
        }
        if (!cell(row, F::temperature_high).empty()) {
            CHECK(number(row, F::temperature_high) >= operating);
        }
        const double wall = number(row, F::nominal_wall);
        CHECK(number(row, F::minimum_thickness) < wall);
        const auto size = parse_pipe_size(cell(row, F::nominal_size), SizeSystem::nps);
        const double outside = pipe_sizes()[*size].outside_mm;
        if (!cell(row, F::outside_diameter).empty()) {
            CHECK(number(row, F::outside_diameter) == outside);
        }
        // Barlow at 138 MPa: the wall as ordered holds the design pressure.
        CHECK(number(row, F::design_pressure) * outside / (2 * 137.9) < wall);
        if (!cell(row, F::dead_leg_length).empty() && !cell(row, F::length).empty()) {
            CHECK(number(row, F::dead_leg_length) <= number(row, F::length));
        }
        const bool both =
            !cell(row, F::consequence_category).empty() && !cell(row, F::leak_cost).empty();
        CHECK_FALSE(both);
    }
}

TEST_CASE("the plant has the spread that makes a ranking worth the work") {
    using F = SegmentField;
    const auto table = read_csv(synthesise({6000, 1, 1}).segments_csv);
    CHECK(share_of(table, F::material, "carbon_steel") == doctest::Approx(0.80).epsilon(0.06));
    for (const auto steel : {"low_alloy_steel", "austenitic_stainless", "duplex_stainless"}) {
        CAPTURE(steel);
        CHECK(share_of(table, F::material, steel) > 0.005);
    }
    std::set<std::string> units;
    std::map<std::string, int> groups;
    std::size_t cold = 0, hot = 0, quoted = 0;
    for (const auto& row : table.rows) {
        units.insert(cell(row, F::unit));
        if (!cell(row, F::scaffold_group).empty()) ++groups[cell(row, F::scaffold_group)];
        cold += number(row, F::operating_temperature) < 0 ? 1U : 0U;
        hot += number(row, F::operating_temperature) > 176 ? 1U : 0U;
        quoted += std::ranges::any_of(row,
                                      [](const std::string& text) {
                                          return text.find_first_of(",\"") != std::string::npos;
                                      })
                      ? 1U
                      : 0U;
    }
    CHECK(units == std::set<std::string>{"U1", "U2", "U3", "U4", "U5", "U6"});
    CHECK(cold > 300);
    CHECK(hot > 300);
    CHECK(quoted > 30);
    CHECK(quoted < 180);
    for (const auto& [group, size] : groups) {
        CAPTURE(group);
        CHECK(size <= 10);
    }
}

TEST_CASE("records have gaps, the older the more") {
    using F = SegmentField;
    const auto table = read_csv(synthesise({6000, 1, 1}).segments_csv);
    // Columns that every segment has something to say about.
    for (const F field : {F::fluid, F::service, F::insulation_thickness, F::insulation_condition,
                          F::jacket, F::coating_system, F::driver, F::design_pressure, F::x}) {
        CAPTURE(info(field).key);
        const double lacking = share_of(table, field, "");
        CHECK(lacking > 0.15);
        CHECK(lacking < 0.30);
    }
    std::array<std::size_t, 2> rows{}, lacking{};  // before 1990, from 1990
    for (const auto& row : table.rows) {
        const auto era = cell(row, F::in_service) < "1990" ? 0U : 1U;
        ++rows[era];
        lacking[era] += cell(row, F::driver).empty() ? 1U : 0U;
    }
    CHECK(lacking[0] * rows[1] > lacking[1] * rows[0]);
    for (const F field : {F::outside_diameter, F::minimum_thickness, F::allowable_stress,
                          F::yield_strength, F::tensile_strength}) {
        CAPTURE(info(field).key);
        const double given = 1.0 - share_of(table, field, "");
        CHECK(given > 0.10);
        CHECK(given < 0.30);
    }
}

TEST_CASE("inspections agree with their segments") {
    using I = InspectionField;
    const auto plant = synthesise({4000, 0, 9});
    std::map<std::string, Row> segments;
    for (const auto& row : read_csv(plant.segments_csv).rows) segments[row[0]] = row;
    std::set<std::string> techniques;
    std::string before;
    for (const auto& row : read_csv(plant.inspections_csv).rows) {
        CAPTURE(row[0]);
        CAPTURE(row[1]);
        REQUIRE(segments.contains(row[0]));
        const auto& segment = segments[row[0]];
        techniques.insert(cell(row, I::technique));
        const Date at = parse_date(cell(row, I::date))->date;
        CHECK(at > parse_date(cell(segment, SegmentField::in_service))->date);
        CHECK(at < make_date(2026, 6, 1));
        CHECK(before <= row[0] + row[1]);  // by segment and date
        before = row[0] + row[1];
        const bool stripped = cell(row, I::technique).starts_with("strip");
        CHECK((stripped || cell(row, I::rust_grade).empty()));
        if (cell(row, I::least_thickness).empty()) continue;
        const double least = read_number(cell(row, I::least_thickness)).value;
        CHECK(least > 0.0);
        CHECK(least <= 1.05 * number(segment, SegmentField::nominal_wall));
    }
    CHECK(techniques == vocabularies().at("technique"));
}

TEST_CASE("hot wet carbon steel has lost more wall than stainless steel") {
    const auto plant = synthesise({8000, 16000, 2});
    std::map<std::string, Row> segments;
    for (const auto& row : read_csv(plant.segments_csv).rows) segments[row[0]] = row;
    std::map<std::string, std::pair<double, int>> lost;  // by material: sum of shares, readings
    for (const auto& row : read_csv(plant.inspections_csv).rows) {
        const auto& least = cell(row, InspectionField::least_thickness);
        const auto& segment = segments[row[0]];
        const double degc = number(segment, SegmentField::operating_temperature);
        if (least.empty() || degc < 50 || degc > 130) continue;
        auto& [sum, count] = lost[cell(segment, SegmentField::material)];
        sum += 1.0 - read_number(least).value / number(segment, SegmentField::nominal_wall);
        ++count;
    }
    const auto mean = [&](const std::string& material) {
        REQUIRE(lost[material].second > 50);
        return lost[material].first / lost[material].second;
    };
    CHECK(mean("carbon_steel") > mean("austenitic_stainless") + 0.02);
}

TEST_CASE("turnarounds follow each other and grow with the plant") {
    const auto table = read_csv(synthesise({600, 0, 1}).turnarounds_csv);
    Date before = make_date(2026, 6, 1);
    for (const auto& row : table.rows) {
        const Date start = parse_date(row[index_of(TurnaroundField::start)])->date;
        const Date end = parse_date(row[index_of(TurnaroundField::end)])->date;
        CHECK(before < start);
        CHECK(start < end);
        before = end;
    }
    CHECK(table.rows[0][index_of(TurnaroundField::budget)] == "900000");
    CHECK(table.rows[1][index_of(TurnaroundField::kind)] == "on_stream");
}

TEST_CASE("plant.yaml has what the commands read") {
    const auto file = YAML::Load(synthesise({600, 0, 7}).plant_yaml);
    CHECK(file["currency"].as<std::string>() == "EUR");
    CHECK(file["exchange"]["USD"].as<double>() == 0.92);
    for (const auto key : {"mean_temperature", "relative_humidity", "rainfall"}) {
        CHECK(file["climate"][key]["values"].size() == 12);
    }
    CHECK(file["management_score"].as<std::string>() == "62 %");
    CHECK(file["unit_costs"].size() > 0);
    CHECK(file["crew_rates"].size() > 0);
    CHECK(file["cooling_tower_drift"][0].as<std::string>() == "U6");
}

TEST_CASE("sample-plant is what the generator makes of 600 segments and seed 7") {
    const auto plant = synthesise({600, 0, 7});
    const std::string folder = source_dir + "/sample-plant/plant/";
    CHECK(file_bytes(folder + "plant.yaml") == plant.plant_yaml);
    CHECK(file_bytes(folder + "segments.csv") == plant.segments_csv);
    CHECK(file_bytes(folder + "inspections.csv") == plant.inspections_csv);
    CHECK(file_bytes(folder + "turnarounds.csv") == plant.turnarounds_csv);
}
