#pragma once

#include "ruleset/table_draft.h"

namespace lagline {

/// What the readers of a table share.
struct TableReading {
    const YamlNode& node;
    const RuleSet& known;
    Scope scope;
    TableDraft draft;
    Provenance provenance;
    const Vocabulary* by = nullptr;       ///< null for none
    const Vocabulary* columns = nullptr;  ///< null for none
    const TableInfo* replaced = nullptr;  ///< the table whose place it takes; null for none
};

/// Everything of a table but its values: kind, meaning, units, vocabularies, axis, source.
void read_head(TableReading& reading, const std::optional<Basis>& without_basis);

/// The values, and the range where they hold.  Needs a head that is not broken.
void read_body(TableReading& reading);

}  // namespace lagline
