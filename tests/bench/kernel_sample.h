#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "ranking/ranking.h"

namespace lagline::bench {

/// An invented plant without inspections in memory, and its ranking by the rules `published`: what
/// kernels get in a real run, and what they must give back.
struct Sample {
    Plant plant;
    Ranking ranking;
    std::size_t wall_rows = 0;  ///< ranked rows of wall loss; they come first
};

/// @throws std::runtime_error  when the plant does not read
[[nodiscard]] Plant invented_plant(std::size_t segments);

/// Made when it is first asked for.
[[nodiscard]] const Sample& sample();

/// The rows of wall loss of a column of the sample, over and over until there are `rows`.
[[nodiscard]] Numbers tiled(const Numbers& column, std::size_t rows);

/// The same of a column of segments.csv.
[[nodiscard]] Numbers tiled(SegmentField field, std::size_t rows);

/// Segment row of each of `rows` rows of wall loss.
[[nodiscard]] std::vector<std::uint32_t> tiled_segments(std::size_t rows);

}  // namespace lagline::bench
