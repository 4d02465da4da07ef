#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "intake/load_plant.h"
#include "learning/gain.h"
#include "learning/score.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The orders in which segments could have been opened.
enum class OpeningOrder : std::uint8_t { chance, leak, risk, age, temperature };
inline constexpr std::array opening_orders{OpeningOrder::chance, OpeningOrder::leak,
                                           OpeningOrder::risk, OpeningOrder::age,
                                           OpeningOrder::temperature};
[[nodiscard]] std::string_view key_of(OpeningOrder order);
[[nodiscard]] std::string_view describe(OpeningOrder order);
/// True for the orders that use no ranking.
[[nodiscard]] constexpr bool is_naive(OpeningOrder order) { return order >= OpeningOrder::age; }

/// How soon an order met the findings.
struct OrderGain {
    std::vector<GainPoint> curve;  ///< empty when nothing was found
    double area = 0.0;             ///< 0.5 for a random order
    double area_error = 0.0;       ///< standard error of the area
};
using OrderGains = std::array<OrderGain, opening_orders.size()>;

/// A ranked segment that was looked at in the window.
struct LookedSegment {
    std::uint32_t segment = 0;     ///< row of segments.csv
    std::uint32_t inspection = 0;  ///< row of inspections.csv that told
    bool found = false;
    double chance = 0.0;  ///< of a finding on the day it was looked at; wall loss only
    std::array<double, opening_orders.size()> score{};  ///< by order; the greater, the sooner
};

/// One past date, held against what came after.
struct PastDate {
    Date at;
    Date until;
    std::size_t ranked = 0;            ///< segments ranked at the date
    std::size_t not_in_service = 0;    ///< segments of today that came later
    std::size_t coatings_later = 0;    ///< segments whose coating is of a later day
    std::size_t insulation_later = 0;  ///< segments whose insulation is of a later day
    std::string refusal;               ///< why it could not be ranked; empty when it was
    bool window_open = false;          ///< records end before the window does
    std::vector<LookedSegment> looked;
    std::size_t found = 0;
    OrderGains gains;
    double best_area = 0.0;
};

struct BacktestOptions {
    bool cracking = false;  ///< of stainless steel; else loss of wall of ferritic steel
    std::vector<Date> at;   ///< empty: chosen by chosen_dates()
    int within_years = 5;
    WorkPlan plan;
};

/// Rankings of the past against later findings.
struct Backtest {
    bool cracking = false;
    int within_years = 0;
    bool dates_given = false;
    Date records_end;             ///< day of the last inspection
    std::vector<PastDate> dates;  ///< latest first where they were chosen
    bool overlap = false;         ///< a finding may count at more than one date
    std::size_t looked = 0;
    std::size_t found = 0;
    OrderGains gains;  ///< of all dates: opening the same share at each
    double best_area = 0.0;
    std::vector<CalibrationBand> bands;  ///< none for cracking: the method forecasts no cracks
    BrierScore brier;
    std::size_t undated_changes = 0;  ///< of the rules by the site, used as they stand today
};

/// Fewest segments looked at in a window for a date to be chosen.
inline constexpr std::size_t fewest_looked = 20;
/// Most dates chosen.
inline constexpr std::size_t most_dates = 4;

/// Ranks the plant of `sources` at past dates, each time as known on that day (plant_as_known()),
/// and compares the order with what the inspections of the following years found.  Without dates in
/// `options` it takes starts of years, windows that do not overlap, from the last that is over
/// backwards, as long as enough segments were looked at; windows are not chosen by what was found.
/// @param today  the same plant with all that is known now
[[nodiscard]] Backtest backtest(const PlantSources& sources, const Plant& today,
                                const RuleSet& rules, const BacktestOptions& options);

}  // namespace lagline
