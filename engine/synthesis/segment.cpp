#include "synthesis/segment.h"

#include <algorithm>
#include <array>

namespace lagline {
namespace {

using Word = std::string_view;

// Units in the order in which racks are added: every unit is there from six racks on, and the
// shares stay the same however large the plant grows.
constexpr auto rack_units = std::to_array<std::size_t>({1, 0, 3, 4, 2, 5, 1, 0, 3, 4, 1, 2, 4, 0});

void draw_geometry(Dice& dice, const Line& line, Segment& segment) {
    const bool small = line.pipe.nps_inches < 2;
    segment.length_m = small ? dice.middling(1.5, 14.0) : dice.middling(3.0, 42.0);
    segment.fittings = dice.whole(0, 2 + static_cast<int>(segment.length_m / 4.0));
    if (dice.chance(line.service == Service::idle ? 0.15 : 0.06)) {
        segment.dead_leg_m = std::min(dice.between(0.3, 5.0), segment.length_m);
    }
    const double per_metre = segment.fittings / segment.length_m;
    segment.complexity = per_metre > 0.3    ? "above_average"
                         : per_metre > 0.07 ? "average"
                                            : "below_average";
}

void draw_protection(Dice& dice, const Line& line, Segment& segment) {
    segment.present = segment.original;
    const Date earliest = add_years(line.in_service, 8);
    const Date latest = make_date(2025, 10, 1);
    if (earliest >= latest || !dice.chance(line.year < 1990 ? 0.28 : 0.10)) return;
    // Recent renewals are more frequent: the larger of two draws.
    const int span = latest.days - earliest.days;
    const int one = dice.whole(0, span);
    const int other = dice.whole(0, span);
    segment.present = renewed_protection(dice, line, Date{earliest.days + std::max(one, other)});
}

void draw_exposure(Dice& dice, const Rack& rack, Segment& segment) {
    const auto& unit = unit_characters()[rack.unit];
    segment.condition = dice.pick_from(unit.conditions);
    const bool new_insulation = year_of(segment.present.date) >= 2012;
    if (new_insulation && segment.condition == "below_average") segment.condition = "average";
    segment.elevation_m = std::max(0.3, rack.elevation_m + dice.between(-0.8, 0.8));
    segment.pooling = dice.chance(0.07);
    segment.interface = segment.elevation_m < 1.5 && dice.chance(0.25);
    segment.data_confidence = dice.pick<Word>({{"low", 5}, {"medium", 4}, {"high", 1}});
}

/// Two digits times a power of ten within the money that the category stands for.
std::uint64_t draw_cost(Dice& dice, int category) {
    auto cost = static_cast<std::uint64_t>(dice.whole(12, 88));
    for (int i = 0; i < category + 2; ++i) cost *= 10;
    return cost;
}

void draw_consequence(Dice& dice, const Line& line, Segment& segment) {
    const int shift = dice.pick<int>({{-1, 2}, {0, 6}, {1, 2}});
    segment.consequence = std::clamp(line.fluid->consequence + shift, 0, 4);
    segment.priced = dice.chance(0.35);
    segment.leak_cost_eur = draw_cost(dice, segment.consequence);
    const int most = unit_characters()[line.unit].most_outage_days;
    segment.outage_days = 0.5 * dice.whole(0, 2 * most * (segment.consequence + 1) / 5);
}

}  // namespace

Rack invent_rack(std::uint64_t seed, std::uint64_t number) {
    Dice dice{seed, Subject::rack, number};
    Rack rack;
    rack.number = number;
    rack.unit = rack_units[number % rack_units.size()];
    const auto& unit = unit_characters()[rack.unit];
    rack.first_group = static_cast<std::size_t>(dice.whole(6, 10));
    rack.area = unit.areas[static_cast<std::size_t>(dice.whole(0, 3))];
    rack.driver = dice.pick_from(unit.drivers);
    rack.elevation_m = dice.chance(0.2) ? dice.between(0.4, 1.4) : dice.between(3.0, 14.0);
    rack.wet_percent = dice.whole(10, 60);
    rack.x_m = unit.x_m + dice.between(0.0, 30.0);
    const std::uint64_t tier = number / 3;
    rack.y_m = unit.y_m + 6.0 * static_cast<double>(tier);
    return rack;
}

Segment invent_segment(std::uint64_t seed, std::uint64_t number, const Rack& rack, const Line& line,
                       const Protection& original, const Station& at) {
    Dice dice{seed, Subject::segment, number};
    Segment segment;
    segment.number = number;
    segment.at = at;
    segment.at.along_m += rack.x_m;
    segment.original = original;
    segment.operating_degc = line.operating_degc;
    // Heat is lost on the way: neighbouring segments differ by a few degrees at most.
    if (line.service == Service::continuous) segment.operating_degc -= dice.whole(0, 3);
    draw_geometry(dice, line, segment);
    draw_protection(dice, line, segment);
    draw_exposure(dice, rack, segment);
    draw_consequence(dice, line, segment);
    Dice gaps{seed, Subject::segment_gaps, number};
    segment.gaps = draw_gaps(gaps, line.gap_share);
    return segment;
}

}  // namespace lagline
