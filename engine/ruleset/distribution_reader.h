#pragma once

#include <optional>
#include <string>

#include "ruleset/ruleset.h"
#include "ruleset/scope.h"

namespace lagline {

/// What the readers of a distribution share.
struct DistributionReading {
    const YamlNode& node;
    const RuleSet& known;
    Scope scope;
    Distribution made;
    Provenance provenance;
};

/// Reads one distribution.  Every problem is reported; what comes back is then of no use.
/// @param name           its key in the file
/// @param without_basis  basis of one that states none; nothing when it has to
Distribution read_distribution(const YamlNode& name, const YamlNode& node, const RuleSet& known,
                               const std::optional<Basis>& without_basis, const Scope& scope);

/// The values of a distribution whose head (kind, column, cell) is read.
void read_distribution_values(DistributionReading& reading);

/// `distributions` of one file.
void read_distributions(const YamlNode& map, RuleSet& rules, const Scope& scope);

/// Another distribution for the same cells, where there is one.
[[nodiscard]] const Distribution* same_cells(const RuleSet& rules, const Distribution& made);

/// Reports words that a later layer added and a distribution says nothing of, and names that a
/// table has too.
void check_distributions(const RuleSet& rules, Report& report);

}  // namespace lagline
