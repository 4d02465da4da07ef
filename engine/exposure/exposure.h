#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "blocks/column.h"
#include "blocks/parallel.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What the steel sees.  One row per ranked row.
struct ExposureColumns {
    Numbers metal_temperature_degc;
    Codes driver;  ///< vocabulary `driver`

    void resize(Eigen::Index rows);
    /// The columns with their descriptions, in the order of the method.
    [[nodiscard]] std::vector<ColumnView> views() const;
};

/// Fills rows [range) of `out`: metal temperature [degC] (eq. 1) and driver.
/// @param rows  segment row of each ranked row; one entry per row of `out`
void fill_exposure(const Plant& plant, std::span<const std::uint32_t> rows, RowRange range,
                   ExposureColumns& out);

}  // namespace lagline
