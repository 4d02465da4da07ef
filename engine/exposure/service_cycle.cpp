#include "exposure/service_cycle.h"

#include <algorithm>
#include <cmath>

namespace lagline {
namespace {

void add_ambient(ServiceLevels& levels, const ServiceCycle& cycle, double share) {
    const double part = share / static_cast<double>(cycle.ambient_degc.size());
    for (const double ambient : cycle.ambient_degc) levels.add(ambient, part);
}

// Cuts the way from the cold to the hot end at the bends.
template <class Piece>
void for_each_piece(const ServiceCycle& cycle, std::span<const double> breaks, Piece piece) {
    double from = cycle.low_degc;
    const auto up_to = [&](double to) {
        if (to <= from) return;
        piece(from, to);
        from = to;
    };
    for (const double at : breaks) up_to(std::min(at, cycle.high_degc));
    up_to(cycle.high_degc);
}

// Heating spends equal times in equal steps of temperature: the middle of each piece stands for it
// exactly.
void add_heating(ServiceLevels& levels, const ServiceCycle& cycle, double share,
                 std::span<const double> breaks) {
    const double range = cycle.high_degc - cycle.low_degc;
    for_each_piece(cycle, breaks, [&](double from, double to) {
        levels.add((from + to) / 2.0, share * (to - from) / range);
    });
}

// Cooling approaches a temperature below the cold end by the exponential law and reaches the cold
// end after `cooling_time_constants`: a piece takes the logarithm of its ends' distances, and its
// mean in time follows.
void add_cooling(ServiceLevels& levels, const ServiceCycle& cycle, double share,
                 std::span<const double> breaks) {
    const double range = cycle.high_degc - cycle.low_degc;
    const double aim = cycle.low_degc - range / std::expm1(cooling_time_constants);
    for_each_piece(cycle, breaks, [&](double from, double to) {
        const double constants = std::log((to - aim) / (from - aim));
        if (!(constants > 0.0)) return;
        const double mean = std::clamp(aim + (to - from) / constants, from, to);
        levels.add(mean, share * constants / cooling_time_constants);
    });
}

void add_cyclic(ServiceLevels& levels, const ServiceCycle& cycle, double hot,
                std::span<const double> breaks) {
    const double standby = std::clamp(cycle.standby_fraction, 0.0, 1.0 - hot);
    // The plateaus that are known stand; ramps can take no more than what they leave.
    const double left = 1.0 - hot - standby;
    const double ramp_years = cycle.cooling_years + cycle.heating_years;
    const bool moves = cycle.high_degc > cycle.low_degc && ramp_years > 0.0;
    const double ramps = moves ? std::min(left, cycle.cycles_per_year * ramp_years) : 0.0;
    levels.add(cycle.high_degc, hot);
    levels.add(cycle.low_degc, left - ramps);
    if (cycle.standby_degc) {
        levels.add(*cycle.standby_degc, standby);
    } else {
        add_ambient(levels, cycle, standby);
    }
    if (!moves) return;
    add_heating(levels, cycle, ramps * cycle.heating_years / ramp_years, breaks);
    add_cooling(levels, cycle, ramps * cycle.cooling_years / ramp_years, breaks);
}

}  // namespace

void ServiceLevels::add(double metal_degc, double share) {
    if (!(share > 0.0)) return;
    if (size_ < most) {
        levels_[size_++] = {metal_degc, share};
        return;
    }
    ServiceLevel& last = levels_.back();
    const double together = last.share + share;
    last = {(last.metal_degc * last.share + metal_degc * share) / together, together};
}

double ServiceLevels::highest_degc() const {
    return std::ranges::max_element(all(), {}, &ServiceLevel::metal_degc)->metal_degc;
}

double ServiceLevels::lowest_degc() const {
    return std::ranges::min_element(all(), {}, &ServiceLevel::metal_degc)->metal_degc;
}

ServiceLevels service_levels(const ServiceCycle& cycle, std::span<const double> breaks) {
    ServiceLevels levels;
    const double hot = std::clamp(cycle.hot_fraction, 0.0, 1.0);
    switch (cycle.kind) {
        case ServiceKind::continuous:
            levels.add(cycle.operating_degc, 1.0);
            break;
        case ServiceKind::cyclic:
            add_cyclic(levels, cycle, hot, breaks);
            break;
        case ServiceKind::intermittent:
            levels.add(cycle.operating_degc, hot);
            add_ambient(levels, cycle, 1.0 - hot);
            break;
        case ServiceKind::idle:
            add_ambient(levels, cycle, 1.0);
            break;
    }
    return levels;
}

}  // namespace lagline
