#pragma once

#include <span>
#include <string>

#include "diagnostics/diagnostic.h"
#include "intake/load_plant.h"

namespace lagline {

/// One value to try: SELECTOR.COLUMN=VALUE.  The selector is the name of a segment, `line:NAME`,
/// `unit:NAME` or `all`.
struct TrialChange {
    std::string selector;
    std::string column;
    std::string value;
};
/// Nothing when `text` does not have that form.
[[nodiscard]] std::optional<TrialChange> read_trial_change(const std::string& text);

/// `sources` with overrides that make the changes, in place of those in force for the same cells.
/// Nothing is written; values are read and checked as those of overrides.csv are.
/// @param plant   the plant of `sources`, read
/// @param report  gets an error for a selector that chooses nothing
[[nodiscard]] PlantSources with_changes(PlantSources sources, const Plant& plant,
                                        std::span<const TrialChange> changes, Report& report);

}  // namespace lagline
