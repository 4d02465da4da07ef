#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "plant/sheet.h"
#include "quantity/date.h"

namespace lagline {

/// Monthly means, January first.
struct Climate {
    std::array<double, 12> mean_temperature_degc{};
    std::array<double, 12> relative_humidity_percent{};
    std::array<double, 12> rainfall_mm{};
    std::optional<double> coast_distance_km;
    std::optional<double> wind_speed_m_per_s;
    Place place;
};

/// A money amount per something: {value, per} with per in m, m2, fitting, each, hour, day.
struct UnitCost {
    double amount = 0.0;
    std::string per;
    Place place;
};

/// What one leak in a process unit stops.
struct UnitOutage {
    std::optional<double> days;                 ///< the unit is down
    std::optional<double> lost_margin_per_day;  ///< plant currency
    Place place;                                ///< of the unit's name
    Place days_place;
    Place lost_margin_place;
};

/// The word of `criteria: {wall: ...}`.
inline constexpr std::string_view wall_criterion = "minimum_thickness";

/// What a segment must not go beyond, as the site states it; nothing where it states none.  A
/// segment is due at the date at which the first of them is reached.
struct RiskCriteria {
    std::optional<double> risk_per_year;         ///< plant currency a year, > 0
    std::optional<double> probability_per_year;  ///< 1/y, > 0 and <= 1
    bool wall = false;  ///< the expected wall must not fall below the minimum thickness
    Place place;        ///< of the block; line 0 when there is none

    [[nodiscard]] bool any() const { return risk_per_year || probability_per_year || wall; }
};

/// plant.yaml.
struct PlantDescription {
    std::string name;
    std::string currency = "USD";
    /// Price of one unit of a foreign currency in the plant's currency, by ISO 4217 code.
    std::map<std::string, double> exchange;
    std::optional<Climate> climate;
    /// Score of the management-system evaluation, per cent of the points; none when not given.
    std::optional<double> management_score_percent;
    Place management_score_place;
    std::vector<std::string> cooling_tower_drift;  ///< process units downwind of a cooling tower
    std::vector<std::string> deluge_tests;         ///< process units whose deluge is tested often
    std::map<std::string, UnitCost> unit_costs;
    std::map<std::string, UnitCost> crew_rates;
    std::map<std::string, UnitOutage, std::less<>> outages;  ///< by process unit
    RiskCriteria criteria;
    std::optional<Date> rank_date;
    Place place;

    /// What a leak stops in this process unit; null where plant.yaml does not say.
    [[nodiscard]] const UnitOutage* outage_of(std::string_view unit) const {
        const auto found = outages.find(unit);
        return found == outages.end() ? nullptr : &found->second;
    }
};

/// True where enough is known of a segment to add up the cost of a leak in money: its fluid class,
/// and no cost that the site gives.
[[nodiscard]] inline bool can_be_priced(const SegmentSheet& segments, std::size_t row) {
    return segments.has(SegmentField::fluid_class, row) &&
           !segments.has(SegmentField::leak_cost, row);
}

/// A value of segments.csv that overrides.csv replaced.
struct AppliedOverride {
    std::uint32_t segment_row = 0;
    std::uint32_t override_row = 0;
    std::size_t field = 0;  ///< index into segment_fields()
    std::string replaced;   ///< what stood there, as text; empty when the cell was empty
};

/// The date a plant is ranked at, and how it came about.
struct RankDate {
    Date date;
    std::string reason;  ///< "start of OS-2028, the window after the next one (TA-2027)"
};

/// A plant, read and linked.  Every column that the method needs is filled: given, derived or from
/// a stated default, as its state says.
struct Plant {
    std::string folder;
    PlantDescription description;
    SegmentSheet segments{segment_fields()};
    InspectionSheet inspections{inspection_fields()};
    TurnaroundSheet turnarounds{turnaround_fields()};
    OverrideSheet overrides{override_fields()};
    std::vector<AppliedOverride> applied_overrides;  ///< by segment row, then field
    RankDate ranked_at;
    Date today;  ///< the day of the look: "next" windows, today's rank and due dates count from it

    /// Inspections of segment row s, by date: rows inspection_order[inspection_begin[s]] up to
    /// inspection_begin[s + 1].  inspection_begin has segments + 1 entries.
    std::vector<std::uint32_t> inspection_begin;
    std::vector<std::uint32_t> inspection_order;
};

}  // namespace lagline
