#pragma once

#include <cstdint>
#include <vector>

#include "blocks/column.h"

namespace lagline {

/// What the readings of a segment say of its rate.  One row per row of wall loss.
struct ReadingColumns {
    Codes rates_known;  ///< 1 where two walls make a rate; elsewhere the rates have no value
    Numbers long_term_rate_mm_per_year;
    Numbers short_term_rate_mm_per_year;
    Codes conflicting;  ///< 1 where readings contradict each other
    Codes read;         ///< 1 where the thinnest reading has a value
    Numbers thinnest_mm;
    Codes at_small_coverage;  ///< 1 where a reading that is not accepted gave the wall known
    Numbers accepted_wall_mm;
    Numbers accepted_exposed_years;  ///< without protection, from that wall to the wall known
    // With the measured rate:
    Numbers measured_rate_mm_per_year;
    Numbers greatest_rate_mm_per_year;
    Numbers surface_factor;
    Numbers table_rate_mm_per_year;
    Codes accepted;  ///< 1 where the measured rate may stand below the table's
    // Rows of inspections.csv, or History::nothing.
    std::vector<std::int32_t> initial;   ///< reading at which the long-term rate starts
    std::vector<std::int32_t> previous;  ///< reading at which the short-term rate starts
    std::vector<std::int32_t> conflict;  ///< last reading that contradicts the one before it
    std::vector<std::int32_t> thinnest;  ///< thinnest reading that nothing cleared

    void resize(Eigen::Index rows, bool measured_rate);
    [[nodiscard]] std::vector<ColumnView> views(bool measured_rate) const;
};

}  // namespace lagline
