#include "rationale/rich_plant.h"

#include <algorithm>
#include <array>
#include <set>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "intake/source_file.h"
#include "quantity/pipe_size.h"
#include "rationale/told.h"

namespace lagline {
namespace {

constexpr std::size_t always_kept = 30;
constexpr std::array heat_degc{"-40", "-10", "-5",  "3",   "12",  "22",  "35",  "48",  "58",
                               "66",  "75",  "88",  "93",  "104", "118", "125", "140", "149",
                               "160", "168", "172", "190", "230", "300", "360", "460"};
const Date rank_day = make_date(2027, 4, 5);

/// SplitMix64: the same draws on every machine.
class Draw {
  public:
    explicit Draw(std::uint64_t seed) : state_(seed) {}
    std::size_t below(std::size_t end) {
        state_ += 0x9E3779B97F4A7C15U;
        std::uint64_t z = state_;
        z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
        z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
        return (z ^ (z >> 31U)) % end;
    }
    bool in(std::size_t times) { return below(times) == 0; }
    template <class List>
    const auto& of(const List& list) {
        return list[below(list.size())];
    }

  private:
    std::uint64_t state_;
};

std::string number_text(double number) {
    std::string text = std::to_string(number);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text;
}

std::vector<std::string> sizes() {
    std::vector<std::string> texts;
    for (const PipeSize& size : pipe_sizes()) texts.push_back("NPS " + std::string{size.nps});
    return texts;
}

// Of a column whose plausible values its own limits do not tell.
std::vector<std::string> own_samples(std::string_view key) {
    if (key == "unit") return {"U1", "U2", "U3", "U4"};
    if (key.ends_with("temperature") || key.starts_with("temperature_")) {
        return {heat_degc.begin(), heat_degc.end()};
    }
    if (key == "nominal_wall") return {"3.91", "5.54", "7.11", "9.53", "12.7"};
    if (key == "outside_diameter") return {"", "", "", "168.3", "219.1"};
    if (key == "dead_leg_length") return {"", "", "", "", "0.4", "1.8", "6"};
    if (key == "cycles_per_year") return {"", "2", "12", "52", "200", "365", "1000"};
    if (key == "hot_fraction") return {"", "0.2", "0.5", "0.9"};
    if (key == "insulation_thickness") return {"", "25", "50", "100"};
    if (key == "coating_thickness") return {"", "60", "120", "200", "250", "350", "600", "1200"};
    if (key == "yard_storage") return {"", "2", "7", "24"};
    if (key == "design_pressure") return {"", "0.4", "1.7", "5", "9"};
    if (key == "allowable_stress") return {"", "", "138", "120"};
    if (key == "yield_strength") return {"", "", "241", "205"};
    if (key == "tensile_strength") return {"", "", "414", "515"};
    if (key == "joint_efficiency") return {"", "0.85", "1"};
    if (key == "corrosion_allowance") return {"", "0", "1.5", "3"};
    if (key == "minimum_thickness") return {"", "", "", "2.8", "4"};
    if (key == "leak_cost")
        return {"", "", "", "", "8000", "60000", "400000", "3000000", "20000000"};
    if (key == "outage") return {"", "", "", "0", "3", "11"};
    if (key == "length") return {"", "3", "24.5", "90"};
    if (key == "fittings") return {"", "0", "4", "40"};
    if (key == "elevation") return {"", "1", "12"};
    if (key == "coverage") return {"1", "4", "8", "12", "25", "35", "55", "70", "95", "100"};
    if (key == "least_thickness") return {"", "3", "4.8", "5.5", "6.6", "7.0", "9.1", "11"};
    if (key == "pit_depth") return {"", "", "", "0.6", "1.9"};
    if (key == "rust_grade") return {"", "", "1", "3", "5", "7", "8", "9", "10"};
    if (key == "coating_renewed") return {"", "", "", "", "30", "100"};
    if (key == "in_service") return {"1985-03-01", "1996-07-01", "2004-11-15", "2012-05-20"};
    if (key == "coating_date") {
        return {"", "", "", "1996-07-01", "2008-01-20", "2014-06-10", "2019-11-02"};
    }
    if (key == "insulation_installed") return {"", "1999-02-01", "2010-06-01", "2018-09-30"};
    if (key == "date") {
        return {"2001-05-05", "2009-08-14", "2013-02-03", "2017-06-12", "2020-10-01", "2024-03-30"};
    }
    return {};
}

Cells draw_segment(Draw& draw, std::size_t number, const RuleSet& rules,
                   const std::string& currency) {
    Cells cells;
    for (const FieldInfo& field : segment_fields()) {
        const auto samples = samples_of(field, rules);
        if (!samples.empty()) cells[std::string{field.key}] = draw.of(samples);
    }
    if (!cells["leak_cost"].empty()) cells["leak_cost"] += " " + currency;
    cells["segment"] = "S-" + std::to_string(1000 + number);
    cells["line"] = "L-" + std::to_string(number / 3);
    cells["tower_zone"] = draw.of(std::array{"A", "B", ""});
    // In half of the segments the cycle does not hide what a single temperature does.
    if (draw.in(2)) cells["service"] = "continuous";
    if (!draw.in(3)) cells["dead_leg_length"] = "";
    return cells;
}

// Up to six inspections, in half of the cases all of one kind: counts of one category grow large
// only so.
std::vector<Cells> draw_inspections(Draw& draw, const std::string& segment, const RuleSet& rules) {
    std::vector<Cells> rows(draw.below(7));
    const bool alike = draw.in(2);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (alike && i > 0) rows[i] = rows.front();
        for (const FieldInfo& field : inspection_fields()) {
            if (alike && i > 0 && field.key != "date") continue;
            const auto samples = samples_of(field, rules);
            if (!samples.empty()) rows[i][std::string{field.key}] = draw.of(samples);
        }
        rows[i]["segment"] = segment;
        rows[i]["date"] = own_samples("date")[i];
        if (!draw.in(4)) rows[i]["cracks_found"] = "";
    }
    return rows;
}

std::optional<SourceText> source(const std::vector<Cells>& rows, const std::string& name,
                                 Report& report) {
    if (rows.empty()) return std::nullopt;
    return source_from_text(csv_of(rows), name, report);
}

LoadedPlant load(const SmallPlant& small, const RuleSet& rules) {
    Report report;
    PlantSources sources;
    sources.file = {small.description, small.defaults};
    sources.segments = source(small.segments, "segments.csv", report);
    sources.inspections = source(small.inspections, "inspections.csv", report);
    const LoadOptions options{small.at, small.at, {.block_rows = 64, .threads = 1}};
    return assemble_plant(std::move(sources), rules, options, std::move(report));
}

// Rows from 0 that an error stands in; the heading is line 1.
std::set<std::size_t> faulty_rows(const Report& report, std::string_view file) {
    std::set<std::size_t> rows;
    for (const Diagnostic& each : report.diagnostics()) {
        if (each.severity != Severity::error || each.where.line < 2) continue;
        if (each.where.file.ends_with(file)) {
            rows.insert(static_cast<std::size_t>(each.where.line) - 2);
        }
    }
    return rows;
}

void take_out(std::vector<Cells>& rows, const std::set<std::size_t>& faulty) {
    for (auto row = faulty.rbegin(); row != faulty.rend(); ++row) {
        rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(*row));
    }
}

void keep_inspections_of_segments(SmallPlant& small) {
    std::set<std::string> names;
    for (const Cells& row : small.segments) names.insert(row.at("segment"));
    std::erase_if(small.inspections,
                  [&](const Cells& row) { return !names.contains(row.at("segment")); });
}

SmallPlant without_faulty_rows(SmallPlant small, const RuleSet& rules) {
    for (int round = 0; round < 5; ++round) {
        const LoadedPlant loaded = load(small, rules);
        if (loaded.plant) return small;
        take_out(small.segments, faulty_rows(loaded.report, "segments.csv"));
        take_out(small.inspections, faulty_rows(loaded.report, "inspections.csv"));
        keep_inspections_of_segments(small);
    }
    throw std::runtime_error("no plant that intake takes: " + to_text(load(small, rules).report));
}

// Segments that cite an entry for a quantity which none before them cites.
std::set<std::string> telling_segments(const SmallPlant& pool, const RuleSet& rules) {
    const Plant plant = assemble(pool, rules);
    const Ranking ranking = rank(plant, rules, {.block_rows = 64, .threads = 1});
    std::set<std::tuple<std::string_view, const RuleEntry*, bool>> cited;
    std::set<std::string> kept;
    for (std::uint32_t at = 0; at < ranking.rows(); ++at) {
        const ToldRow row = tell_row(plant, rules, ranking, at);
        bool tells_more = ranking.segment_rows[at] < always_kept;
        for (const auto& [key, told] : row.by_key) {
            // Where it comes to nothing, the value itself may not show.
            const bool nothing = told.quantity->number == 0.0;
            for (const RuleEntry* entry : told.rules) {
                tells_more = cited.emplace(key, entry, nothing).second || tells_more;
            }
        }
        if (tells_more) kept.insert(row.explanation.segment);
    }
    return kept;
}

}  // namespace

std::vector<std::string> samples_of(const FieldInfo& field, const RuleSet& rules) {
    std::vector<std::string> samples = own_samples(field.key);
    if (!samples.empty()) {
        for (std::string& text : samples) {
            if (field.kind == FieldKind::quantity && !text.empty() && !field.unit.empty()) {
                text += " " + std::string{field.unit};
            }
        }
        return samples;
    }
    if (!field.needed) samples.assign(2, "");
    if (field.kind == FieldKind::word) {
        for (const Word& word : rules.vocabulary(field.words).words) samples.push_back(word.key);
        return samples;
    }
    if (field.kind == FieldKind::flag) {
        samples.insert(samples.end(), {"yes", "no"});
        return samples;
    }
    if (field.kind == FieldKind::pipe_size) return sizes();
    if (field.kind == FieldKind::date) return {"", "2003-04-05", "2016-02-10"};
    if (field.kind != FieldKind::quantity) return {};
    // A column that this file has no own values for.
    const std::string unit = field.unit.empty() ? "" : " " + std::string{field.unit};
    samples.push_back(std::string{field.example} + unit);
    const double most = std::min(field.most, field.least + 1000.0);
    for (const double share : {0.02, 0.3}) {
        samples.push_back(number_text(field.least + share * (most - field.least)) + unit);
    }
    return samples;
}

PlantDescription full_description() {
    PlantDescription site;
    site.name = "invented";
    site.currency = "EUR";
    site.exchange = {{"USD", 0.92}};
    Climate climate;
    climate.mean_temperature_degc = {-3.1, 1.4,  6.3,  8.9,  12.6, 15.4,
                                     17.5, 17.6, 15.2, 11.6, 7.6,  2.0};
    climate.relative_humidity_percent = {97, 85, 82, 79, 77, 58, 79, 80, 82, 85, 88, 88};
    climate.rainfall_mm = {74, 56, 59, 47, 56, 64, 71, 83, 79, 92, 88, 83};
    climate.coast_distance_km = 4.0;
    climate.wind_speed_m_per_s = 5.2;
    site.climate = climate;
    site.management_score_percent = 62.0;
    site.cooling_tower_drift = {"U2"};
    site.deluge_tests = {"U3"};
    site.unit_costs["replace_run"] = {1450.0, "m", {}};
    site.outages["U1"] = {2.0, 60000.0, {}, {}, {}};
    site.outages["U2"] = {5.0, std::nullopt, {}, {}, {}};
    return site;
}

PlantDescription bare_description() {
    PlantDescription site;
    site.name = "invented";
    return site;
}

PlantDescription full_description(double rain_mm_a_year, double coast_km) {
    PlantDescription site = full_description();
    site.climate->rainfall_mm.fill(rain_mm_a_year / 12.0);
    site.climate->coast_distance_km = coast_km;
    return site;
}

SmallPlant rich_plant(const RuleSet& rules, PlantDescription description, std::size_t drawn) {
    Draw draw{20270405};
    SmallPlant pool;
    pool.description = std::move(description);
    pool.at = rank_day;
    for (std::size_t i = 0; i < drawn; ++i) {
        pool.segments.push_back(draw_segment(draw, i, rules, pool.description.currency));
        const auto found = draw_inspections(draw, pool.segments.back().at("segment"), rules);
        pool.inspections.insert(pool.inspections.end(), found.begin(), found.end());
    }
    if (rules.site_factors.empty()) {
        for (Cells& row : pool.segments) row.erase("tower_zone");
    }
    pool = without_faulty_rows(std::move(pool), rules);
    const auto kept = telling_segments(pool, rules);
    std::erase_if(pool.segments,
                  [&](const Cells& row) { return !kept.contains(row.at("segment")); });
    keep_inspections_of_segments(pool);
    return pool;
}

Plant assemble_or_keep(SmallPlant changed, const SmallPlant& otherwise, const RuleSet& rules) {
    for (int round = 0; round < 5; ++round) {
        LoadedPlant loaded = load(changed, rules);
        if (loaded.plant) return std::move(*loaded.plant);
        for (const std::size_t row : faulty_rows(loaded.report, "segments.csv")) {
            changed.segments[row] = otherwise.segments[row];
        }
        for (const std::size_t row : faulty_rows(loaded.report, "inspections.csv")) {
            changed.inspections[row] = otherwise.inspections[row];
        }
    }
    throw std::runtime_error("a change that intake refuses: " +
                             to_text(load(changed, rules).report));
}

}  // namespace lagline
