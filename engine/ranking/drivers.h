#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "plant/plant.h"
#include "ranking/ranking.h"

namespace lagline {

/// A quantity that puts a segment above the typical one: its value against the median of the plant.
struct Driver {
    const QuantityInfo* info = nullptr;
    std::string_view label;  ///< for a narrow column: "rate", "exposed"
    double value = 0.0;
    double median = 0.0;
    double effect = 0.0;  ///< natural logarithm of value / median (median / value for a wall), > 0
};

/// Medians of the quantities that can drive a rank, taken once for a plant.
class DriverFinder {
  public:
    explicit DriverFinder(const Ranking& ranking);

    /// What drives the row, the strongest first, at most `most`; ties in the order of the method.
    [[nodiscard]] std::vector<Driver> find(std::uint32_t row, std::size_t most = 3) const;

  private:
    struct Watched {
        ColumnView column;
        std::string_view label;
        double median = 0.0;
        double least = 0.0;    ///< value below which differences do not matter
        bool inverse = false;  ///< the smaller the worse
    };
    std::vector<Watched> watched_;
};

/// "exposed_time 24 y (median 12)"
[[nodiscard]] std::string to_string(const Driver& driver, std::string_view currency);

}  // namespace lagline
