#pragma once

#include <span>
#include <string>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// One expected column of a check of the rule set, compared.
struct CheckedQuantity {
    std::string quantity;
    std::string expected;  ///< as written
    std::string got;       ///< in the unit of the expectation
    bool ok = false;
    Place place;
};

/// One check of the rule set, run.
struct CheckOutcome {
    const RuleCheck* check = nullptr;
    std::vector<CheckedQuantity> quantities;
    Report report;  ///< problems that kept the check from running
    [[nodiscard]] bool ok() const;
};

/// Runs the checks that were written for one of `layers` through the same intake and method as a
/// plant folder: the segment goes in as a row of a CSV, the columns that come out are compared with
/// what is expected.  A layer that changes the method does not have to meet the checks of the layer
/// below: those are run on that layer alone.  The result points into `rules`.
[[nodiscard]] std::vector<CheckOutcome> run_rule_checks(const RuleSet& rules,
                                                        std::span<const std::string> layers);

/// The checks of the topmost layer.
[[nodiscard]] std::vector<CheckOutcome> run_rule_checks(const RuleSet& rules);

}  // namespace lagline
