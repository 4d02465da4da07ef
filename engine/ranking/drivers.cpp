#include "ranking/drivers.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "blocks/number_text.h"
#include "ranking/explain.h"

namespace lagline {
namespace {

struct WatchedKey {
    std::string_view key;
    std::string_view label;
    double least;
    bool inverse = false;
};

// Everything a risk is a product or a steep function of, at the step where people can act on it.
// `least` keeps a median of zero from making every value infinitely worse than typical.
constexpr std::array watched_keys{WatchedKey{"base_rate", "base rate", 0.01},
                                  WatchedKey{"insulation_factor", "insulation", 0.1},
                                  WatchedKey{"complexity_factor", "complexity", 0.1},
                                  WatchedKey{"condition_factor", "condition", 0.1},
                                  WatchedKey{"pooling_factor", "pooling", 0.1},
                                  WatchedKey{"interface_factor", "interface", 0.1},
                                  WatchedKey{"site_factor", "site", 0.1},
                                  WatchedKey{"cycling_factor", "cycling", 0.1},
                                  WatchedKey{"weather_jacket_factor", "jacket", 0.1},
                                  WatchedKey{"insulation_age_factor", "old insulation", 0.1},
                                  WatchedKey{"orientation_factor", "orientation", 0.1},
                                  WatchedKey{"wall_thickness", "wall", 0.5, true},
                                  WatchedKey{"exposed_time", "exposed", 1.0},
                                  WatchedKey{"strength_ratio", "strength", 0.02},
                                  WatchedKey{"state_probability_3", "uninspected", 0.01},
                                  WatchedKey{"base_damage_factor", "cracking", 1.0},
                                  WatchedKey{"leak_cost", "cost", 1000.0}};

constexpr double least_effect = 0.01;

double median_of(std::span<const double> column) {
    std::vector<double> sorted{column.begin(), column.end()};
    const auto middle = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2);
    std::ranges::nth_element(sorted, middle);
    return *middle;
}

}  // namespace

DriverFinder::DriverFinder(const Ranking& ranking) {
    if (ranking.rows() == 0) return;
    for (const ColumnView& column : ranking.views()) {
        const auto watched = std::ranges::find(watched_keys, column.info->key, &WatchedKey::key);
        if (watched == watched_keys.end()) continue;
        if (column.numbers.empty()) continue;
        watched_.push_back(
            {column, watched->label, median_of(column.numbers), watched->least, watched->inverse});
    }
}

std::vector<Driver> DriverFinder::find(std::uint32_t row, std::size_t most) const {
    std::vector<Driver> drivers;
    for (const Watched& watched : watched_) {
        if (!watched.column.covers(row)) continue;
        const double value = watched.column.number(row);
        double effect =
            std::log(std::max(value, watched.least) / std::max(watched.median, watched.least));
        if (watched.inverse) effect = -effect;
        if (effect < least_effect) continue;
        drivers.push_back({watched.column.info, watched.label, value, watched.median, effect});
    }
    std::ranges::stable_sort(drivers, std::ranges::greater{}, &Driver::effect);
    if (drivers.size() > most) drivers.resize(most);
    return drivers;
}

std::string to_string(const Driver& driver, std::string_view currency) {
    std::string text{driver.info->key};
    text += " " + short_number(driver.value, 3);
    if (!driver.info->unit.empty()) text += " " + with_currency(driver.info->unit, currency);
    return text + " (median " + short_number(driver.median, 3) + ")";
}

}  // namespace lagline
