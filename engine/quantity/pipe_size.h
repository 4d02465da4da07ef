#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace lagline {

/// A nominal pipe size of ASME B36.10 / B36.19.
struct PipeSize {
    std::string_view nps;     ///< "1/2", "1 1/2", "6"
    double nps_inches = 0.0;  ///< 0.5, 1.5, 6
    int dn = 0;               ///< 15, 40, 150
    double outside_mm = 0.0;  ///< outside diameter [mm]
    bool recalled = false;    ///< true when the diameter is from memory, to be checked
};

/// All nominal sizes, ascending; a column holds the index into this table.
[[nodiscard]] std::span<const PipeSize> pipe_sizes();

enum class SizeSystem : std::uint8_t { nps, dn };

/// Index into pipe_sizes() of a size written as a person does: "6", "1 1/2", "1-1/2", "1.5", "0.5"
/// under a known system, or with the system in the text: "NPS 6", "6 in", "6\"", "DN 150", "DN150".
/// Nothing when there is no such size or the system is neither given nor in the text.
[[nodiscard]] std::optional<std::uint8_t> parse_pipe_size(std::string_view text,
                                                          std::optional<SizeSystem> system);

/// Wall thickness [mm] of a schedule ("STD", "XS", "XXS", "Sch 40", "SCH40", "40", "10S", "S-160")
/// at a size; nothing when the table has no such pair.
[[nodiscard]] std::optional<double> schedule_wall_mm(std::uint8_t size, std::string_view schedule);

/// Wall thickness [mm] of the heavier of Schedule 160 and XXS at a size; infinity where the table
/// has neither, since heavier pipe than its walls is then made to order.
[[nodiscard]] double heaviest_wall_mm(std::uint8_t size);

/// True when schedule_wall_mm has this pair from memory, without the page at hand: to be checked
/// against a copy of ASME B36.10M or B36.19M.  False when the pair was read in a public copy, or is
/// not in the table.
[[nodiscard]] bool schedule_wall_recalled(std::uint8_t size, std::string_view schedule);

/// True when `text` reads like a schedule rather than a number with a unit.
[[nodiscard]] bool looks_like_schedule(std::string_view text);

/// The nominal size whose outside diameter is nearest to `outside_mm`, within 1.5 %; else nothing.
[[nodiscard]] std::optional<std::uint8_t> pipe_size_of_diameter(double outside_mm);

/// "NPS 6".
[[nodiscard]] std::string to_string(const PipeSize& size);

}  // namespace lagline
