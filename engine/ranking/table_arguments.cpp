#include "ranking/table_arguments.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "degradation/coating_life.h"
#include "exposure/findings.h"
#include "exposure/wetness.h"
#include "likelihood/crack_factor.h"
#include "quantity/pipe_size.h"
#include "ranking/explain_findings.h"
#include "ranking/inspections_read.h"

namespace lagline {
namespace {

using S = SegmentField;
using Codes8 = std::vector<std::uint8_t>;

constexpr double mm_per_km = 1e6;
constexpr double um_per_mm = 1e3;

Codes8 all_up_to(std::size_t count) {
    Codes8 codes(count);
    std::iota(codes.begin(), codes.end(), std::uint8_t{0});
    return codes;
}

Codes8 one(std::optional<std::uint8_t> code) { return code ? Codes8{*code} : Codes8{}; }

std::vector<double> one(std::optional<double> number) {
    return number ? std::vector<double>{*number} : std::vector<double>{};
}

bool by_levels(std::string_view table) {
    return table == "base_rate" || table.starts_with("scc_susceptibility");
}

}  // namespace

TableArguments::TableArguments(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                               std::uint32_t row)
    : plant_(plant),
      rules_(rules),
      ranking_(ranking),
      row_(row),
      segment_(ranking.segment_rows[row]),
      columns_(ranking.views()) {
    const auto at = static_cast<Eigen::Index>(row);
    if (!ranking.models.service_cycle) {
        levels_ = {{ranking.exposure.metal_temperature_degc[at], 1.0}};
        header_ = levels_;
        return;
    }
    const ExposureRules exposure = exposure_rules(rules, plant);
    const double transmittance = ranking.exposure.transmittance_w_per_m_k[at];
    const SegmentLevels found =
        segment_levels(plant, exposure, segment_, driver_level(), transmittance);
    levels_.assign(found.levels.all().begin(), found.levels.all().end());
    header_ = levels_;
    if (!has_dead_leg()) return;
    const ServiceLevels header = header_levels(plant, exposure, segment_, transmittance);
    header_.assign(header.all().begin(), header.all().end());
}

const ColumnView* TableArguments::find_quantity(std::string_view key) const {
    const auto found = std::ranges::find_if(columns_, [&](const ColumnView& column) {
        return column.info->key == key && column.covers(row_);
    });
    return found == columns_.end() ? nullptr : &*found;
}

std::vector<std::uint8_t> TableArguments::codes(std::string_view vocabulary, std::string_view table,
                                                const QuantityInfo& of) const {
    if (vocabulary == "damage_state") {
        // One index is of one state; the others are shares of all, or sums over all.
        if (!of.key.starts_with("reliability_index_")) return all_up_to(damage_states);
        return {static_cast<std::uint8_t>(of.key.back() - '1')};
    }
    if (table == "base_rate" && vocabulary == "driver") {
        // Between two drivers both curves count.
        const double level = driver_level();
        const auto severer = static_cast<std::uint8_t>(level);
        if (level == std::floor(level)) return {severer};
        return {severer, static_cast<std::uint8_t>(severer + 1)};
    }
    if (table == "reading_accepted") return effectiveness_read(plant_, ranking_, row_, of);
    if (table == "reading_tolerance") return techniques_read(plant_, ranking_, row_, of);
    if (table == "conditional_probability" && vocabulary == "effectiveness") {
        Codes8 found;
        for (std::size_t c = 0; c < telling_categories; ++c) {
            const double count = ranking_.likelihood.inspections[c][row_];
            if (count > 0.0) found.push_back(static_cast<std::uint8_t>(c));
        }
        return found;
    }
    if (vocabulary == "scc_inspections" && of.key == "counted_inspections") {
        InspectionCounts counts{};
        for (std::size_t c = 0; c < telling_categories; ++c) {
            counts[c] = ranking_.likelihood.inspections[c][row_];
        }
        const ColumnsTried tried = columns_tried(counts);
        return {tried.all().begin(), tried.all().end()};
    }
    if (table == "scc_severity") {
        const auto own = static_cast<Eigen::Index>(row_ - ranking_.mechanism_rows.wall_loss);
        const CrackingColumns& cracking = ranking_.cracking;
        const std::size_t worst = rules_.vocabulary("susceptibility").words.size() - 1;
        return {adjusted_susceptibility(cracking.susceptibility[own], cracking.steps[own],
                                        cracking.cracks_found[own] != 0,
                                        static_cast<std::uint8_t>(worst))};
    }
    if (table == "wet_life_factor" || table == "wet_fraction") {
        const bool wet = found_wet(plant_, segment_, ranking_.at.date);
        return {static_cast<std::uint8_t>(wet ? 1 : 0)};
    }
    if (vocabulary == "coating_rigidity") {
        return {rules_.lookup("coating_rigidity_of").code(coating_system())};
    }
    if (vocabulary == "application_place") {
        const CoatingLifeRules life = coating_life_rules(rules_, plant_);
        const bool field = coating_case(plant_, life, segment_, ranking_.at.date).field;
        return {static_cast<std::uint8_t>(field ? 1 : 0)};
    }
    return one(code_of_inputs(vocabulary, of));
}

// Code that the inputs of a quantity hold of a vocabulary.
std::optional<std::uint8_t> TableArguments::code_of_inputs(std::string_view words,
                                                           const QuantityInfo& of) const {
    const auto found = finding_code(plant_, ranking_, row_, words, of.key);
    if (found) return found;
    for (const std::string_view key : of.inputs) {
        const ColumnView* column = key == of.key ? nullptr : find_quantity(key);
        if (column != nullptr && column->info->words == words) return column->code(row_);
        const auto field = find_field(segment_fields(), key);
        if (column != nullptr || !field || segment_fields()[*field].words != words) continue;
        if (plant_.segments.Sheet::state(*field, segment_) == CellState::absent) continue;
        return plant_.segments.Sheet::column(*field).codes[segment_];
    }
    return std::nullopt;
}

std::vector<double> TableArguments::numbers(std::string_view axis, std::string_view table,
                                            const QuantityInfo& of) const {
    if (by_levels(table)) return metal_temperatures(of);
    if (table == "insulation_conductivity") return insulation_temperatures(of);
    if (table == "cracking_factor") return one(quantity("highest_temperature"));
    if (axis == "temperature_excess") {
        const double most = rules_.lookup("coating_temperature_most").value(coating_system());
        const auto highest = quantity("highest_temperature");
        return highest ? std::vector{*highest - most} : std::vector<double>{};
    }
    return one(axis_value(axis));
}

// Of every level; where a dead leg was searched for its worst station, also what lies between.
std::vector<double> TableArguments::metal_temperatures(const QuantityInfo& of) const {
    // The greatest rate of the curve bounds what cycling adds.
    if (of.key == "cycling_factor") return rules_.curve("base_rate").points;
    std::vector<double> found;
    for (const ServiceLevel& level : levels_) found.push_back(level.metal_degc);
    const bool searched = of.key == "dead_leg_station" || of.key == "metal_temperature";
    if (!has_dead_leg() || !searched) return found;
    const double ambient = exposure_rules(rules_, plant_).air.annual_degc;
    double low = ambient;
    double high = ambient;
    for (const ServiceLevel& level : header_) {
        found.push_back(level.metal_degc);
        low = std::min(low, level.metal_degc);
        high = std::max(high, level.metal_degc);
    }
    for (const double bend : rules_.curve("base_rate").points) {
        if (bend >= low && bend <= high) found.push_back(bend);
    }
    found.push_back(ambient);
    return found;
}

// Mean of metal and jacket, at the yearly mean of the air and in the months that can sweat.
std::vector<double> TableArguments::insulation_temperatures(const QuantityInfo& of) const {
    const auto at = static_cast<Eigen::Index>(row_);
    const double metal = plant_.segments.numbers(S::operating_temperature)[segment_];
    if (of.key != "jacket_sweating_months") {
        return {(metal + ranking_.exposure.jacket_temperature_degc[at]) / 2.0};
    }
    const ExposureRules exposure = exposure_rules(rules_, plant_);
    const InsulatedPipe pipe = insulated_pipe(plant_, exposure, segment_, ranking_.at.date);
    const std::uint16_t months = steel_sweating(exposure, metal);
    std::vector<double> found;
    for (std::size_t month = 0; month < exposure.air.dew_point_degc.size(); ++month) {
        if ((unsigned{months} >> month & 1U) == 0) continue;
        const double air = exposure.air.mean_degc[month];
        found.push_back((metal + balance_heat(pipe, exposure, metal, air).jacket_degc) / 2.0);
    }
    return found;
}

std::optional<double> TableArguments::axis_value(std::string_view axis) const {
    if (axis == "nominal_size") {
        return pipe_sizes()[plant_.segments.codes(S::nominal_size)[segment_]].nps_inches;
    }
    if (axis == "leak_cost") {
        return ranking_.consequence.leak_cost[row_] /
               consequence_rules(rules_, plant_).plant_per_usd;
    }
    const auto& climate = plant_.description.climate;
    if (axis == "annual_rainfall" && climate) {
        return std::accumulate(climate->rainfall_mm.begin(), climate->rainfall_mm.end(), 0.0);
    }
    if (axis == "coast_distance" && climate && climate->coast_distance_km) {
        return *climate->coast_distance_km * mm_per_km;
    }
    if (axis == "sweating_months") return quantity("steel_sweating_months");
    if (axis == "film_ratio") {
        const auto film = quantity("film_in_service");
        const double least_um = um_per_mm * rules_.lookup("film_least").value(coating_system());
        if (!film || *film < 0.0 || !(least_um > 0.0)) return std::nullopt;
        return *film / least_um;
    }
    if (const auto field = find_field(segment_fields(), axis)) {
        const FieldInfo& info = segment_fields()[*field];
        if (plant_.segments.Sheet::state(*field, segment_) == CellState::absent) {
            return std::nullopt;
        }
        return convert(plant_.segments.Sheet::column(*field).numbers[segment_],
                       parse_unit(info.unit, info.dimension).value(), base_unit(info.dimension));
    }
    return quantity(axis);
}

std::optional<double> TableArguments::quantity(std::string_view key) const {
    const ColumnView* column = find_quantity(key);
    if (column == nullptr || column->is_words()) return std::nullopt;
    return column->number(row_);
}

double TableArguments::driver_level() const {
    const auto at = static_cast<Eigen::Index>(row_);
    if (ranking_.models.derived_driver) return ranking_.exposure.driver_level[at];
    return ranking_.exposure.driver[at];
}

std::uint8_t TableArguments::coating_system() const {
    return plant_.segments.codes(S::coating_system)[segment_];
}

bool TableArguments::is_vertical() const {
    return plant_.segments.has(S::orientation, segment_) &&
           rules_.vocabulary("orientation").code("vertical") ==
               plant_.segments.codes(S::orientation)[segment_];
}

bool TableArguments::has_dead_leg() const {
    return plant_.segments.has(S::dead_leg_length, segment_) &&
           plant_.segments.numbers(S::dead_leg_length)[segment_] > 0.0;
}

}  // namespace lagline
