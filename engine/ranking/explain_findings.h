#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "plant/plant.h"
#include "ranking/ranking.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// Row of inspections.csv that gave the wall of a ranked row, or History::nothing; cracking uses
/// none.
[[nodiscard]] std::int32_t reading_row(const Ranking& ranking, std::uint32_t row);
/// Row of inspections.csv that found its coating failed, or History::nothing.
[[nodiscard]] std::int32_t failed_row(const Ranking& ranking, std::uint32_t row);

/// Row of inspections.csv whose cell `key` entered the quantity `of` of a ranked row; nothing when
/// no inspection did.
[[nodiscard]] std::optional<std::uint32_t> finding_row(const Plant& plant, const Ranking& ranking,
                                                       std::uint32_t row, std::string_view key,
                                                       std::string_view of);

/// Code of the vocabulary `words` by which a finding selects an entry of a table that the quantity
/// `of` reads; nothing when no finding does.
[[nodiscard]] std::optional<std::uint8_t> finding_code(const Plant& plant, const Ranking& ranking,
                                                       std::uint32_t row, std::string_view words,
                                                       std::string_view of);

}  // namespace lagline
