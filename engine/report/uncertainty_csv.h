#pragma once

#include <string>

#include "ranking/uncertainty.h"

namespace lagline {

/// One row a gap of a segment, segments in the order of rank; a segment without gaps has one row
/// with the columns of the gap empty.  Numbers are the shortest that read back exactly.
/// @param rows  segments to write; 0 for all
[[nodiscard]] std::string uncertainty_csv(const Plant& plant, const Uncertainty& sure,
                                          std::size_t rows);

}  // namespace lagline
