#include "degradation/wall_loss.h"

#include "exposure/driver_level.h"

namespace lagline {

namespace {

// `driver` gives what the curve of a row goes by, `find` the value of the table there.
template <class Driver, class Find>
void mean_over_levels(std::span<const ServiceLevels> levels, Driver driver, Find find,
                      Column rate_mm_per_year, std::span<std::uint8_t> outside) {
    for (std::size_t i = 0; i < levels.size(); ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        // Samples of one segment follow one another, mostly at the same levels.
        if (i > 0 && driver(i) == driver(i - 1) && levels[i] == levels[i - 1]) {
            rate_mm_per_year[row] = rate_mm_per_year[row - 1];
            outside[i] = outside[i - 1];
            continue;
        }
        double rate = 0.0;
        for (const ServiceLevel& level : levels[i].all()) {
            const RuleHit hit = find(driver(i), level.metal_degc);
            rate += level.share * hit.value;  // eq. 2
            if (hit.outside()) outside[i] = 1;
        }
        rate_mm_per_year[row] = rate;
    }
}

}  // namespace

void base_rate(const CurveTable& table, std::span<const ServiceLevels> levels,
               std::span<const std::uint8_t> driver, Column rate_mm_per_year,
               std::span<std::uint8_t> outside) {
    mean_over_levels(
        levels, [&](std::size_t i) { return driver[i]; },
        [&](std::uint8_t code, double degc) { return table.find(code, degc); }, rate_mm_per_year,
        outside);
}

void base_rate_at_level(const CurveTable& table, std::span<const ServiceLevels> levels,
                        ConstColumn driver_level, Column rate_mm_per_year,
                        std::span<std::uint8_t> outside) {
    mean_over_levels(
        levels, [&](std::size_t i) { return driver_level[static_cast<Eigen::Index>(i)]; },
        [&](double level, double degc) { return find_at_level(table, level, degc); },
        rate_mm_per_year, outside);
}

void factor(const LookupTable& table, std::span<const std::uint8_t> by,
            std::span<const std::uint32_t> rows, Column factors) {
    for (std::size_t i = 0; i < rows.size(); ++i) {
        factors[static_cast<Eigen::Index>(i)] = table.value(by[rows[i]]);
    }
}

void corrosion_rate(ConstColumn base_mm_per_year, ConstColumn insulation, ConstColumn complexity,
                    ConstColumn condition, ConstColumn pooling, ConstColumn interface_factor,
                    ConstColumn site, Column rate_mm_per_year) {
    rate_mm_per_year = base_mm_per_year * insulation * complexity * condition *
                       pooling.max(interface_factor) * site;  // eq. 3
}

}  // namespace lagline
