#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

namespace lagline {

/// The first `samples` points of the Sobol sequence, beginning at the origin, as fractions of 2^32.
/// @source  Sobol (1967), in Gray code order (Antonov and Saleev 1979), with the direction numbers
///          of Joe and Kuo (2008)
class SobolPoints {
  public:
    SobolPoints(std::size_t dimensions, std::size_t samples);

    [[nodiscard]] std::size_t samples() const { return samples_; }
    [[nodiscard]] std::size_t dimensions() const { return dimensions_; }
    /// One coordinate of every point.
    [[nodiscard]] std::span<const std::uint32_t> coordinate(std::size_t dimension) const {
        return {points_.data() + dimension * samples_, samples_};
    }

  private:
    std::size_t dimensions_;
    std::size_t samples_;
    std::vector<std::uint32_t> points_;
};

/// A key for what is drawn, the same on every machine: FNV-1a of the bytes, mixed.
[[nodiscard]] std::uint64_t draw_key(std::string_view text);
/// The same, of two keys; their order counts.
[[nodiscard]] std::uint64_t draw_key(std::uint64_t first, std::uint64_t second);

/// Nested uniform scrambling in base 2: every digit is turned or not by a hash of the digits before
/// it, so that points keep their stratification and each is uniform by itself.
/// @source  Owen (1995); as a hash Laine and Karras (2011), with the constants of Burley (2020)
[[nodiscard]] std::uint32_t owen_scrambled(std::uint32_t x, std::uint32_t seed);

/// Middle of the cell of a fraction of 2^32: above 0 and below 1.
[[nodiscard]] constexpr double unit_interval(std::uint32_t x) {
    return (static_cast<double>(x) + 0.5) * 0x1p-32;
}

/// Fills `order` with a permutation of 0, 1, 2, ... that follows from the key alone.
/// @source  Fisher and Yates shuffle, fed by SplitMix64 (Steele, Lea and Flood 2014)
void keyed_permutation(std::uint64_t key, std::span<std::uint32_t> order);

}  // namespace lagline
