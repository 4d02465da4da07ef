#pragma once

#include <cstdint>
#include <span>

#include "plant/sheet.h"
#include "ranking/input_draws.h"

namespace lagline {

/// Where the samples of one cell stand, and the numbers that they are drawn by.
struct CellSamples {
    Sheet& sheet;                     ///< that holds the cell and what it goes by
    std::size_t first = 0;            ///< row of the first sample
    std::size_t step = 1;             ///< rows from one sample to the next
    std::span<const double> uniform;  ///< a number above 0 and below 1 for each sample
    std::span<std::uint8_t> classes;  ///< comes back: class of each sample
    std::uint32_t intervals = 1;      ///< classes that numbers and dates are cut into
    std::int32_t period_days = 1;     ///< length of the year or month that was given
};

/// Class of a sample in which the cell was not asked for.
inline constexpr std::uint8_t not_asked = 255;

/// Draws the cell in every sample and marks it as given.  A sample whose row does not ask for the
/// cell keeps what stood there.
void draw_cell(const InputDraw& draw, CellSamples& samples);

/// Value below which a standard normal variable stays with this probability, 0 < p < 1.
[[nodiscard]] double normal_quantile(double probability);

}  // namespace lagline
