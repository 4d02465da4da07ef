#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/date.h"
#include "synthesis/character.h"
#include "synthesis/csv_writer.h"
#include "synthesis/dice.h"

namespace lagline {

/// A pipe size the plant buys, with the walls it buys it in, thinnest first.
struct StockPipe {
    std::string_view nps;
    double nps_inches = 0.0;
    double outside_mm = 0.0;
    std::array<double, 3> ferritic_mm{};
    std::array<double, 3> stainless_mm{};
};

/// Sizes in stock, looked up once: finding a schedule takes longer than writing a row.
[[nodiscard]] std::vector<Weighted<StockPipe>> stock_pipes();

/// What the segments of a line have in common.
struct Line {
    std::uint64_t number = 0;
    std::size_t unit = 0;
    const FluidCharacter* fluid = nullptr;
    std::string drawing;
    Steel steel{};
    StockPipe pipe;
    double wall_mm = 0.0;
    double design_mpa = 0.0;
    double allowance_mm = 0.0;
    double joint_efficiency = 1.0;
    Date in_service;
    DatePrecision precision{};  ///< how well the old records know it
    int year = 0;               ///< of in_service
    int operating_degc = 0;
    Service service{};
    int low_degc = 0;
    int high_degc = 0;
    double hot_fraction = 0.0;
    int cycles_per_year = 0;
    std::string_view heat_tracing;
    bool strengths_known = false;
    bool diameter_known = false;
    bool minimum_known = false;
    double gap_share = 0.0;  ///< share of the optional cells that the records lack
    std::uint64_t gaps = 0;  ///< bit f: SegmentField f is lacking on the whole line
};

/// Line `number` of the plant, in a given unit.
[[nodiscard]] Line invent_line(std::uint64_t seed, std::uint64_t number, std::size_t unit,
                               const std::vector<Weighted<StockPipe>>& stock);

/// One bit for each column, set with probability `share`.
[[nodiscard]] std::uint64_t draw_gaps(Dice& dice, double share);

}  // namespace lagline
