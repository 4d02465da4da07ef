#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "synthesis/line.h"
#include "synthesis/protection.h"

namespace lagline {

/// Sixteen neighbouring segments on one stretch of a rack or bridge: the unit of scaffolding and
/// of inspection campaigns.
struct Rack {
    static constexpr std::size_t segments = 16;

    std::uint64_t number = 0;
    std::size_t unit = 0;
    std::size_t first_group = 0;  ///< segments reached from the first of its two scaffolds
    std::string_view area;
    std::string_view driver;
    double elevation_m = 0.0;
    double x_m = 0.0;
    double y_m = 0.0;
    int wet_percent = 0;  ///< hidden: share of its segments that stay wet once water is in
};

[[nodiscard]] Rack invent_rack(std::uint64_t seed, std::uint64_t number);

/// A place on a rack.
struct Station {
    std::size_t in_rack = 0;  ///< from 0
    std::size_t lane = 0;     ///< which of the parallel lines
    double along_m = 0.0;     ///< from the west end of the rack
};

struct Segment {
    std::uint64_t number = 0;  ///< from 1
    Station at;
    double length_m = 0.0;
    int fittings = 0;
    int operating_degc = 0;
    double dead_leg_m = 0.0;  ///< 0 where it has none
    Protection original;
    Protection present;
    std::string_view condition;
    std::string_view complexity;
    bool pooling = false;
    bool interface = false;
    std::string_view data_confidence;
    int consequence = 0;  ///< 0 (A) to 4 (E)
    bool priced = false;  ///< leak_cost stands in place of the category
    std::uint64_t leak_cost_eur = 0;
    double outage_days = 0.0;
    double elevation_m = 0.0;
    std::uint64_t gaps = 0;  ///< bit f: SegmentField f is lacking here
};

[[nodiscard]] Segment invent_segment(std::uint64_t seed, std::uint64_t number, const Rack& rack,
                                     const Line& line, const Protection& original,
                                     const Station& at);

}  // namespace lagline
