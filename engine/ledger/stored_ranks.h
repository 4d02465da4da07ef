#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>

namespace lagline {

/// The result of a run that holds its order.
inline constexpr const char* ranking_path = "results/ranking.csv";

/// Rank of each segment, from 1.
using SegmentRanks = std::map<std::string, std::int64_t, std::less<>>;

/// The columns `segment` and `rank` of a ranking that was stored as CSV; nothing when it has none.
[[nodiscard]] std::optional<SegmentRanks> ranks_of(std::string csv);

}  // namespace lagline
