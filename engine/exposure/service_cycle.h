#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>

namespace lagline {

/// A metal temperature and the share of the year it lasts.
struct ServiceLevel {
    double metal_degc;
    double share;

    friend bool operator==(const ServiceLevel&, const ServiceLevel&) = default;
};

/// The levels of a segment over a year; shares sum to 1.  Only levels that there are take time to
/// make and to copy: most segments have one of the 40 that there is room for.
class ServiceLevels {
  public:
    static constexpr std::size_t most = 40;

    ServiceLevels() {}  // NOLINT(modernize-use-equals-default): leaves the room as it is
    ServiceLevels(const ServiceLevels& other) { *this = other; }
    ServiceLevels& operator=(const ServiceLevels& other) {
        size_ = other.size_;
        std::copy_n(other.levels_.begin(), size_, levels_.begin());
        return *this;
    }
    ~ServiceLevels() = default;

    /// Beyond `most` levels, which no shipped table comes near, the last one takes the share in and
    /// moves to the mean.
    void add(double metal_degc, double share);
    [[nodiscard]] std::span<const ServiceLevel> all() const { return {levels_.data(), size_}; }
    [[nodiscard]] std::span<ServiceLevel> all() { return {levels_.data(), size_}; }
    friend bool operator==(const ServiceLevels& a, const ServiceLevels& b) {
        return a.size_ == b.size_ && std::equal(a.all().begin(), a.all().end(), b.all().begin());
    }
    [[nodiscard]] double highest_degc() const;
    [[nodiscard]] double lowest_degc() const;

  private:
    std::size_t size_ = 0;
    std::array<ServiceLevel, most> levels_;
};

enum class ServiceKind : std::uint8_t { continuous, cyclic, intermittent, idle };

/// What the service cycle of a segment is made of.
struct ServiceCycle {
    ServiceKind kind = ServiceKind::continuous;
    double operating_degc = 0.0;
    double low_degc = 0.0;      ///< cold plateau of a cyclic service
    double high_degc = 0.0;     ///< hot plateau of a cyclic service
    double hot_fraction = 1.0;  ///< share of the year on the hot plateau, or in operation
    double cycles_per_year = 0.0;
    double cooling_years = 0.0;            ///< time of one ramp from hot to cold
    double heating_years = 0.0;            ///< time of one ramp from cold to hot
    std::span<const double> ambient_degc;  ///< means of equal parts of the year
    double standby_fraction = 0.0;         ///< share of the year a cyclic line is on standby
    /// Metal temperature on standby; nothing: the ambient.
    std::optional<double> standby_degc{};
};

/// Time constants that a pipe takes to cool from one end of its cycle to the other.
inline constexpr double cooling_time_constants = 3.0;

/// The levels of a service cycle (eq. 1):
///   - continuous: the operating temperature all year
///   - cyclic: hot plateau, standby, cold plateau, and the ramps between the plateaus: one down and
///     one up a cycle, cut at `breaks` so that a rate that runs straight between the breaks is
///     averaged exactly.  A pipe heats evenly and cools as a body that loses heat does.
///   - intermittent: the operating temperature for `hot_fraction`, else the ambient
///   - idle: the ambient
/// @param breaks  ascending temperatures [degC] at which the rate curve bends
[[nodiscard]] ServiceLevels service_levels(const ServiceCycle& cycle,
                                           std::span<const double> breaks);

}  // namespace lagline
