#pragma once

#include <string>

#include "intake/filled_sheet.h"
#include "ranking/ranking.h"
#include "report/layout.h"

namespace lagline {

/// A plant and its ranking, before the findings or with them.
struct RankedPlant {
    const Plant& plant;
    const Ranking& ranking;
};

/// What was recorded: by segment its findings, its rank and the probability and risk of a leak
/// before and after; then the rows that hold nothing yet.
/// @param written  false: what would be recorded, with the lines that would be added
[[nodiscard]] std::string recorded_text(const FilledSheet& filled, const RankedPlant& before,
                                        const RankedPlant& after, bool written,
                                        const TextStyle& style);

/// The rows of a sheet that hold no finding, with their lines; empty where there are none.
[[nodiscard]] std::string not_yet_recorded_text(const FilledSheet& filled, const TextStyle& style);

}  // namespace lagline
