#include "exposure/service_cycle.h"

#include <algorithm>

namespace lagline {
namespace {

void add_ambient(ServiceLevels& levels, const ServiceCycle& cycle, double share) {
    const double part = share / static_cast<double>(cycle.ambient_degc.size());
    for (const double ambient : cycle.ambient_degc) levels.add(ambient, part);
}

// A ramp spends equal times in equal steps of temperature: cut at the bends, the middle of each
// piece stands for it exactly.
void add_ramp(ServiceLevels& levels, double low_degc, double high_degc, double share,
              std::span<const double> breaks) {
    double from = low_degc;
    const auto add_to = [&](double to) {
        if (to <= from) return;
        levels.add((from + to) / 2.0, share * (to - from) / (high_degc - low_degc));
        from = to;
    };
    for (const double at : breaks) add_to(std::min(at, high_degc));
    add_to(high_degc);
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
        case ServiceKind::cyclic: {
            levels.add(cycle.high_degc, hot);
            const bool moves = cycle.high_degc > cycle.low_degc;
            // The hot share is what is known; ramps can take no more than what it leaves.
            const double ramps =
                moves ? std::min(1.0 - hot, 2.0 * cycle.cycles_per_year * cycle.ramp_years) : 0.0;
            levels.add(cycle.low_degc, 1.0 - hot - ramps);
            if (moves) add_ramp(levels, cycle.low_degc, cycle.high_degc, ramps, breaks);
            break;
        }
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
