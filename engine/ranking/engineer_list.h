#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "plant/plant.h"
#include "quantity/date.h"
#include "ruleset/ruleset.h"

namespace lagline {

struct Ranking;

/// Facts that stand above any probability.
enum class EngineerReason : std::uint8_t { thin_wall, cracks };
[[nodiscard]] std::string_view to_string(EngineerReason reason);

/// A segment that needs an engineer now, and the finding that says so.
struct EngineerNeed {
    std::uint32_t segment_row = 0;
    EngineerReason reason{};
    std::uint32_t inspection = 0;  ///< row of inspections.csv
    Date found;
    double read_mm = 0.0;        ///< thin wall only
    double minimum_mm = 0.0;     ///< thin wall only
    double risk_per_year = 0.0;  ///< today, where the segment is ranked; else below 0
};

/// The segments of `today` that need an engineer now: with a reading at or below the minimum
/// thickness that no later accepted one cleared, or with known cracks.  The greatest risk first,
/// those without a rank last, ties by segment name.
/// @param today  a ranking whose state and risk are those of plant.today
[[nodiscard]] std::vector<EngineerNeed> engineer_needs(const Plant& plant, const RuleSet& rules,
                                                       const Ranking& today);

/// The same for the whole plant, without a ranking of it: only what was inspected is looked at.
[[nodiscard]] std::vector<EngineerNeed> engineer_list(const Plant& plant, const RuleSet& rules);

/// Why, in words: "read 2.5 mm, minimum 2.79 mm, by strip_and_measure on 2020-01-01".
[[nodiscard]] std::string describe(const EngineerNeed& need, const Plant& plant,
                                   const RuleSet& rules);

/// The reasons of one segment: "thin_wall", "cracks", "thin_wall cracks", or nothing.
/// @param needs  sorted by segment row: see by_segment()
[[nodiscard]] std::string reason_words(std::span<const EngineerNeed> needs,
                                       std::uint32_t segment_row);
[[nodiscard]] std::vector<EngineerNeed> by_segment(std::vector<EngineerNeed> needs);

/// The needs of one segment.
[[nodiscard]] std::vector<EngineerNeed> needs_of(std::span<const EngineerNeed> needs,
                                                 std::uint32_t segment_row);

}  // namespace lagline
