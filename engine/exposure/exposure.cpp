#include "exposure/exposure.h"

#include <algorithm>
#include <array>
#include <numbers>

#include "exposure/dead_leg.h"
#include "exposure/driver_level.h"
#include "exposure/findings.h"
#include "exposure/wetness.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr double mm_per_m = 1e3;

// Words of `insulation_need`, in the order of the vocabulary.
enum class Need : std::uint8_t {
    as_stated,
    heat_conservation,
    personnel_protection,
    condensation,
    none
};

double mean_rate(const CurveTable& table, double driver_level, const ServiceLevels& levels) {
    double rate = 0.0;
    for (const ServiceLevel& level : levels.all()) {
        rate += level.share * find_at_level(table, driver_level, level.metal_degc).value;
    }
    return rate;
}

// Time [y] in which the pipe cools from one end of its cycle to the other: time constants of the
// heat stored in the wall and in the inner half of the insulation over what the insulation lets
// out.  The contents are left out: they leave the line or follow it.
double cooling_years(const SegmentSheet& segments, std::uint32_t segment,
                     double transmittance_w_per_m_k) {
    constexpr double steel_j_per_m3_k = 3.8e6;       // 7850 kg/m3 x 480 J/(kg K)
    constexpr double insulation_j_per_m3_k = 1.0e5;  // 120 kg/m3 x 840 J/(kg K), mineral wool
    constexpr double seconds_per_year = 365.25 * 86400.0;
    const double outside_m = segments.numbers(S::outside_diameter)[segment] / mm_per_m;
    const double wall_m = segments.numbers(S::nominal_wall)[segment] / mm_per_m;
    const double insulation_m = segments.numbers(S::insulation_thickness)[segment] / mm_per_m;
    const double steel_m2 = std::numbers::pi * wall_m * (outside_m - wall_m);
    const double insulation_m2 = std::numbers::pi * insulation_m * (outside_m + insulation_m);
    const double stored_j_per_m_k =
        steel_m2 * steel_j_per_m3_k + insulation_m2 / 2.0 * insulation_j_per_m3_k;
    return cooling_time_constants * stored_j_per_m_k / transmittance_w_per_m_k / seconds_per_year;
}

constexpr double hours_per_year = 365.25 * 24.0;

void set_ramps(const SegmentSheet& segments, const ExposureRules& rules, std::uint32_t segment,
               double transmittance_w_per_m_k, ServiceCycle& cycle) {
    if (segments.has(S::ramp_time, segment)) {
        cycle.cooling_years = segments.numbers(S::ramp_time)[segment] / hours_per_year;
        cycle.heating_years = cycle.cooling_years;
        return;
    }
    cycle.cooling_years = cooling_years(segments, segment, transmittance_w_per_m_k);
    cycle.heating_years = rules.heating_ramp_share * cycle.cooling_years;
}

// A share that nobody recorded takes no more than half of what the hot share leaves, so that cold
// plateau and ramps stay.
double standby_of(const SegmentSheet& segments, std::uint32_t segment, double hot_fraction) {
    if (!segments.has(S::standby_fraction, segment)) return 0.0;
    const double share = segments.numbers(S::standby_fraction)[segment];
    const bool derived = segments.state(S::standby_fraction, segment) == CellState::derived;
    return derived ? std::min(share, (1.0 - hot_fraction) / 2.0) : share;
}

ServiceCycle cycle_of(const Plant& plant, const ExposureRules& rules, std::uint32_t segment,
                      double transmittance_w_per_m_k) {
    const SegmentSheet& segments = plant.segments;
    ServiceCycle cycle;
    cycle.operating_degc = segments.numbers(S::operating_temperature)[segment];
    cycle.ambient_degc = rules.air.mean_degc;
    cycle.kind = rules.service_kinds[segments.codes(S::service)[segment]];
    const auto number = [&](S field, double otherwise) {
        return segments.has(field, segment) ? segments.numbers(field)[segment] : otherwise;
    };
    cycle.low_degc = number(S::temperature_low, cycle.operating_degc);
    cycle.high_degc = number(S::temperature_high, cycle.operating_degc);
    cycle.hot_fraction = number(S::hot_fraction, 1.0);
    cycle.cycles_per_year = number(S::cycles_per_year, 0.0);
    if (cycle.kind != ServiceKind::cyclic) return cycle;
    cycle.standby_fraction = standby_of(segments, segment, cycle.hot_fraction);
    if (segments.has(S::standby_temperature, segment)) {
        cycle.standby_degc = segments.numbers(S::standby_temperature)[segment];
    }
    set_ramps(segments, rules, segment, transmittance_w_per_m_k, cycle);
    return cycle;
}

ServiceLevels at_station(const ServiceLevels& header, const DeadLeg& leg, double station_m,
                         double ambient_degc) {
    ServiceLevels levels;
    const double decay = leg.decay(station_m);
    for (const ServiceLevel& level : header.all()) {
        levels.add(ambient_degc + (level.metal_degc - ambient_degc) * decay,
                   level.share);  // eq. 32
    }
    return levels;
}

// The mean rate is straight between stations where some level passes a bend of the rate curve, so
// its greatest value stands at one of these, or at an end.
SegmentLevels worst_station(const ServiceLevels& header, const DeadLeg& leg,
                            const ExposureRules& rules, double driver_level) {
    const double ambient = rules.air.annual_degc;
    SegmentLevels worst{.levels = header};
    double greatest = mean_rate(*rules.base_rate, driver_level, header);
    const auto try_station = [&](double station_m) {
        const ServiceLevels levels = at_station(header, leg, station_m, ambient);
        const double rate = mean_rate(*rules.base_rate, driver_level, levels);
        if (rate > greatest) {
            greatest = rate;
            worst.levels = levels;
            worst.station_m = station_m;
            worst.decay = leg.decay(station_m);
        }
    };
    for (const ServiceLevel& level : header.all()) {
        if (level.metal_degc == ambient) continue;
        for (const double bend : rules.base_rate->points) {
            try_station(leg.station_m(bend, level.metal_degc, ambient));
        }
    }
    try_station(leg.length_m());
    return worst;
}

DeadLeg dead_leg_of(const Plant& plant, const ExposureRules& rules, std::uint32_t segment,
                    double transmittance_w_per_m_k) {
    const SegmentSheet& segments = plant.segments;
    const double outside_m = segments.numbers(S::outside_diameter)[segment] / mm_per_m;
    const double wall_m = segments.numbers(S::nominal_wall)[segment] / mm_per_m;
    const double area_m2 = std::numbers::pi * wall_m * (outside_m - wall_m);
    return {segments.numbers(S::dead_leg_length)[segment], transmittance_w_per_m_k,
            rules.steel_conductivity->value(segments.codes(S::material)[segment]), area_m2};
}

double susceptible(const ServiceLevels& levels, const ExposureRules& rules) {
    double share = 0.0;
    for (const ServiceLevel& level : levels.all()) {
        const bool inside = level.metal_degc >= rules.susceptible_from_degc &&
                            level.metal_degc <= rules.susceptible_to_degc;
        share += inside ? level.share : 0.0;
    }
    return share;
}

// The level that the mean rate owes most to; where none corrodes, the longest.
double telling_temperature(const ServiceLevels& levels, const CurveTable& rate,
                           double driver_level) {
    const auto weight = [&](const ServiceLevel& level) {
        return std::pair{level.share * find_at_level(rate, driver_level, level.metal_degc).value,
                         level.share};
    };
    const auto all = levels.all();
    return std::ranges::max_element(all, {}, weight)->metal_degc;
}

// Cold insulation holds condensation off, hot insulation heat in or hands off; a purpose that no
// temperature shows has to be stated.
Need need_of(const Plant& plant, const ExposureRules& rules, std::uint32_t segment,
             double highest_degc, double lowest_degc) {
    const double dew = rules.air.dew_point_degc.empty()
                           ? rules.air.annual_degc
                           : *std::ranges::max_element(rules.air.dew_point_degc);
    const bool stated = plant.segments.has(S::insulation_purpose, segment);
    // Vocabulary insulation_purpose: heat_conservation, personnel_protection, condensation,
    // process, fire, none.
    const std::uint8_t purpose =
        stated ? plant.segments.codes(S::insulation_purpose)[segment] : std::uint8_t{5};
    if (purpose == 3 || purpose == 4) return Need::as_stated;
    if (lowest_degc < dew) return Need::condensation;
    if (highest_degc <= rules.touch_limit_degc) return Need::none;
    return purpose == 0 ? Need::heat_conservation : Need::personnel_protection;
}

bool has_dead_leg(const Plant& plant, std::uint32_t segment) {
    return plant.segments.has(S::dead_leg_length, segment) &&
           plant.segments.numbers(S::dead_leg_length)[segment] > 0.0;
}

bool in_units(const std::vector<std::string>& units, std::string_view unit) {
    return std::ranges::find(units, unit) != units.end();
}

bool cycles(const ExposureRules& rules, const Plant& plant, std::uint32_t segment) {
    const std::uint8_t service = plant.segments.codes(S::service)[segment];
    return rules.service_kinds[service] == ServiceKind::cyclic;
}

// What condenses at the cold end of a cycle stays for the rest of it.  An end that nobody gave is
// the operating temperature, which is asked anyway, or the air, which is never below its dew point.
double coldest_given(const SegmentSheet& segments, std::uint32_t segment,
                     const ServiceCycle& cycle) {
    const bool given = cycle.kind == ServiceKind::cyclic &&
                       segments.state(S::temperature_low, segment) != CellState::derived;
    return given ? std::min(cycle.operating_degc, cycle.low_degc) : cycle.operating_degc;
}

// How fully a year's swing passes the dew point: the cold end as far below it as condenses freely,
// the hot end as far above it, and above freezing, as lets the water through to warm steel.
double dew_point_crossing(const ExposureRules& rules, const ServiceCycle& cycle) {
    const double dew = rules.air.mean_dew_point_degc;
    double low = cycle.operating_degc;
    double high = cycle.operating_degc;
    if (cycle.kind == ServiceKind::cyclic) {
        low = cycle.low_degc;
        high = cycle.high_degc;
    } else if (cycle.kind != ServiceKind::continuous) {
        low = std::min(low, rules.air.annual_degc);
        high = std::max(high, rules.air.annual_degc);
    }
    constexpr double freezing_degc = 0.0;
    const double wets = 1.0 - place_in_band(low, dew - rules.crossing_band_k, dew);
    const double from = std::max(dew, freezing_degc);
    return wets * place_in_band(high, from, from + rules.crossing_band_k);
}

// Levels and ends of a cycle bound what the metal sees; at a station of a dead leg the ends have
// decayed as the levels have.
void set_bounds(SegmentLevels& found, const ServiceCycle& cycle, double decay,
                double ambient_degc) {
    found.highest_degc = found.levels.highest_degc();
    found.lowest_degc = found.levels.lowest_degc();
    if (cycle.kind != ServiceKind::cyclic) return;
    const auto there = [&](double degc) { return ambient_degc + (degc - ambient_degc) * decay; };
    found.highest_degc =
        std::max(found.highest_degc, decay < 1.0 ? there(cycle.high_degc) : cycle.high_degc);
    found.lowest_degc =
        std::min(found.lowest_degc, decay < 1.0 ? there(cycle.low_degc) : cycle.low_degc);
}

class RowFiller {
  public:
    RowFiller(const Plant& plant, const ExposureRules& rules, Date at, ExposureColumns& out)
        : plant_(plant), rules_(rules), at_(at), out_(out) {}

    ServiceLevels fill(std::uint32_t segment, Eigen::Index row) {
        const double operating = plant_.segments.numbers(S::operating_temperature)[segment];
        Sweating months{.steel = steel_sweating(rules_, operating)};
        // Of the heat balance only dead legs and ramps enter a rate.
        if (!rules_.for_rates_only || has_dead_leg(plant_, segment) ||
            cycles(rules_, plant_, segment)) {
            const InsulatedPipe pipe = insulated_pipe(plant_, rules_, segment, at_);
            fill_heat(pipe, operating, row);
            if (!rules_.for_rates_only) months = sweating(pipe, rules_, operating);
        }
        out_.jacket_sweating_months[row] = months.jacket_months();
        out_.steel_sweating_months[row] = months.steel_months();
        const ServiceCycle cycle =
            cycle_of(plant_, rules_, segment, out_.transmittance_w_per_m_k[row]);
        out_.dew_point_crossing[row] = dew_point_crossing(rules_, cycle);
        out_.ramp_h[row] = cycle.cooling_years * hours_per_year;
        const double level = driver_level(segment, cycle, row);
        out_.driver[row] = nearest_driver(level);
        const SegmentLevels found =
            segment_levels(plant_, rules_, segment, level, out_.transmittance_w_per_m_k[row]);
        out_.dead_leg_station_m[row] = found.station_m;
        out_.dead_leg_decay[row] = found.decay;
        out_.highest_degc[row] = found.highest_degc;
        out_.lowest_degc[row] = found.lowest_degc;
        if (rules_.for_rates_only) return found.levels;
        out_.susceptible_share[row] = susceptible(found.levels, rules_);
        out_.metal_temperature_degc[row] =
            telling_temperature(found.levels, *rules_.base_rate, level);
        out_.insulation_need[row] = static_cast<std::uint8_t>(
            need_of(plant_, rules_, segment, out_.highest_degc[row], out_.lowest_degc[row]));
        return found.levels;
    }

    /// What fill() gives when only rates are wanted, from a row of the same exposure.
    void copy(Eigen::Index from, Eigen::Index to) {
        const auto take = [&](auto& column) {
            if (column.size() > 0) column[to] = column[from];
        };
        take(out_.driver);
        take(out_.rainfall_driver);
        take(out_.coast_driver);
        take(out_.site_driver);
        take(out_.weather_driver);
        take(out_.condensing_months);
        take(out_.sweating_driver);
        take(out_.cycling_driver);
        take(out_.tracing_driver);
        take(out_.driver_level);
        take(out_.dew_point_crossing);
        take(out_.ramp_h);
        take(out_.jacket_sweating_months);
        take(out_.steel_sweating_months);
        take(out_.transmittance_w_per_m_k);
        take(out_.dead_leg_station_m);
        take(out_.dead_leg_decay);
        take(out_.highest_degc);
        take(out_.lowest_degc);
    }

  private:
    void fill_heat(const InsulatedPipe& pipe, double metal_degc, Eigen::Index row) {
        const double ambient = rules_.air.annual_degc;
        const HeatBalance balance = balance_heat(pipe, rules_, metal_degc, ambient);
        out_.heat_loss_w_per_m[row] = balance.heat_loss_w_per_m;
        out_.jacket_temperature_degc[row] = balance.jacket_degc;
        out_.transmittance_w_per_m_k[row] = balance.transmittance_w_per_m_k;
        constexpr double bare_emissivity = 0.9;  // oxidised or painted steel
        out_.bare_heat_loss_w_per_m[row] = bare_heat_loss_w_per_m(
            metal_degc, ambient,
            {2.0 * pipe.pipe_radius_m, bare_emissivity, rules_.air.wind_m_per_s});
    }

    // What is entered is of the weather, and so are rain, coast and site, which count where
    // nothing is entered; the default of the rules stands where there is nothing to derive from.
    std::uint8_t weather_driver(std::uint32_t segment, Eigen::Index row) {
        const std::uint8_t given = plant_.segments.codes(S::driver)[segment];
        const SiteDrivers& site = rules_.drivers;
        const std::string_view unit = plant_.segments.texts(S::unit)[segment];
        std::uint8_t by_site = site.none;
        if (in_units(plant_.description.cooling_tower_drift, unit)) by_site = site.drift;
        if (in_units(plant_.description.deluge_tests, unit)) {
            by_site = worse_driver(by_site, site.deluge);
        }
        out_.rainfall_driver[row] = site.rainfall.value_or(site.none);
        out_.coast_driver[row] = site.coast.value_or(site.none);
        out_.site_driver[row] = by_site;
        const bool asked = plant_.segments.state(S::driver, segment) == CellState::rule_default;
        if (!asked) return given;
        if (!site.rainfall) return worse_driver(given, by_site);
        return worse_driver(worse_driver(out_.rainfall_driver[row], out_.coast_driver[row]),
                            by_site);
    }

    // The worst of the weather, of sweating, of cycling through the dew point and of tracing.
    double driver_level(std::uint32_t segment, const ServiceCycle& cycle, Eigen::Index row) {
        if (!rules_.derived_driver) return plant_.segments.codes(S::driver)[segment];
        out_.weather_driver[row] = weather_driver(segment, row);
        out_.tracing_driver[row] =
            rules_.driver_of_tracing->code(plant_.segments.codes(S::heat_tracing)[segment]);
        out_.condensing_months[row] =
            condensing_months(rules_, coldest_given(plant_.segments, segment, cycle));
        const double none = rules_.drivers.none;
        const double sweating = std::clamp(
            rules_.driver_by_condensing->find(0, out_.condensing_months[row]).value, 0.0, none);
        const double often = place_in_band(cycle.cycles_per_year, 0.0, rules_.severe_from_per_year);
        const double cycling = none * (1.0 - out_.dew_point_crossing[row] * often);
        out_.sweating_driver[row] = nearest_driver(sweating);
        out_.cycling_driver[row] = nearest_driver(cycling);
        const double level = std::min(
            {static_cast<double>(worse_driver(out_.weather_driver[row], out_.tracing_driver[row])),
             sweating, cycling});
        out_.driver_level[row] = level;
        return level;
    }

    const Plant& plant_;
    const ExposureRules& rules_;
    Date at_;
    ExposureColumns& out_;
};

/// Tells samples of one segment in which nothing of the exposure was drawn: they follow one
/// another, and what was worked out for the first holds for all.
class SameExposure {
  public:
    SameExposure(const Plant& plant, const ExposureRules& rules) : plant_(plant), rules_(rules) {}

    bool operator()(std::uint32_t before, std::uint32_t now) const {
        const auto names = plant_.segments.texts(S::segment);
        if (names[before] != names[now]) return false;
        const auto same = [&](S field) { return same_cell(index_of(field), before, now); };
        return std::ranges::all_of(of_cycle, same) &&
               (!loses_heat(now) || std::ranges::all_of(of_leg, same));
    }

  private:
    static constexpr std::array of_cycle{S::operating_temperature,
                                         S::temperature_low,
                                         S::temperature_high,
                                         S::service,
                                         S::hot_fraction,
                                         S::cycles_per_year,
                                         S::driver,
                                         S::unit,
                                         S::dead_leg_length,
                                         S::heat_tracing,
                                         S::standby_temperature,
                                         S::standby_fraction,
                                         S::ramp_time};
    static constexpr std::array of_leg{
        S::material,    S::outside_diameter, S::nominal_wall,         S::length,
        S::orientation, S::insulation_type,  S::insulation_thickness, S::jacket};

    bool loses_heat(std::uint32_t row) const {
        return has_dead_leg(plant_, row) || cycles(rules_, plant_, row);
    }

    bool same_cell(std::size_t field, std::uint32_t before, std::uint32_t now) const {
        const SheetColumn& column = plant_.segments.Sheet::column(field);
        if (column.states.empty()) return true;
        if (column.states[before] != column.states[now]) return false;
        if (!column.numbers.empty()) return column.numbers[before] == column.numbers[now];
        if (!column.codes.empty()) return column.codes[before] == column.codes[now];
        return column.texts.empty() || column.texts[before] == column.texts[now];
    }

    const Plant& plant_;
    const ExposureRules& rules_;
};

void fill_single(const Plant& plant, std::span<const std::uint32_t> rows, Eigen::Index begin,
                 ExposureColumns& out, std::vector<ServiceLevels>& levels) {
    const auto temperature = plant.segments.numbers(S::operating_temperature);
    const auto driver = plant.segments.codes(S::driver);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const auto row = begin + static_cast<Eigen::Index>(i);
        out.metal_temperature_degc[row] = temperature[rows[i]];
        out.driver[row] = driver[rows[i]];
        levels[i] = {};
        levels[i].add(temperature[rows[i]], 1.0);
    }
}

void fill_condition(const Plant& plant, const LookupTable& of_damage, Date at,
                    std::span<const std::uint32_t> rows, Eigen::Index begin, ExposureColumns& out) {
    for (std::size_t i = 0; i < rows.size(); ++i) {
        out.insulation_condition[begin + static_cast<Eigen::Index>(i)] =
            condition_with_findings(plant, of_damage, rows[i], at);
    }
}

}  // namespace

std::uint8_t insulation_condition(const Plant& plant, const ExposureColumns& exposure,
                                  std::size_t row, std::uint32_t segment) {
    if (exposure.insulation_condition.size() == 0) {
        return plant.segments.codes(S::insulation_condition)[segment];
    }
    return exposure.insulation_condition[static_cast<Eigen::Index>(row)];
}

ServiceLevels header_levels(const Plant& plant, const ExposureRules& rules, std::uint32_t segment,
                            double transmittance_w_per_m_k) {
    return service_levels(cycle_of(plant, rules, segment, transmittance_w_per_m_k),
                          rules.base_rate->points);
}

SegmentLevels segment_levels(const Plant& plant, const ExposureRules& rules, std::uint32_t segment,
                             double driver_level, double transmittance_w_per_m_k) {
    const ServiceCycle cycle = cycle_of(plant, rules, segment, transmittance_w_per_m_k);
    SegmentLevels found{.levels = service_levels(cycle, rules.base_rate->points)};
    if (has_dead_leg(plant, segment)) {
        const DeadLeg leg = dead_leg_of(plant, rules, segment, transmittance_w_per_m_k);
        found = worst_station(found.levels, leg, rules, driver_level);
    }
    set_bounds(found, cycle, found.decay, rules.air.annual_degc);
    return found;
}

void fill_exposure(const Plant& plant, const ExposureRules& rules, Date at,
                   std::span<const std::uint32_t> rows, RowRange range, ExposureColumns& out,
                   std::vector<ServiceLevels>& levels) {
    const auto begin = static_cast<Eigen::Index>(range.begin);
    const auto mine = rows.subspan(range.begin, range.size());
    levels.resize(mine.size());
    if (rules.condition_of_damage != nullptr) {
        fill_condition(plant, *rules.condition_of_damage, at, mine, begin, out);
    }
    if (!rules.service_cycle) {
        fill_single(plant, mine, begin, out, levels);
        return;
    }
    RowFiller filler{plant, rules, at, out};
    const SameExposure same{plant, rules};
    for (std::size_t i = 0; i < mine.size(); ++i) {
        const auto row = begin + static_cast<Eigen::Index>(i);
        if (rules.for_rates_only && i > 0 && same(mine[i - 1], mine[i])) {
            levels[i] = levels[i - 1];
            filler.copy(row - 1, row);
        } else {
            levels[i] = filler.fill(mine[i], row);
        }
    }
}

}  // namespace lagline
