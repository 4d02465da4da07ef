#pragma once

#include <functional>
#include <string_view>
#include <vector>

#include "ruleset/ruleset.h"

namespace lagline {

/// A table of a rule set whose entries can be changed.
struct OpenTable {
    const TableInfo* info = nullptr;
    std::vector<RuleEntry*> entries;
    bool one_value = false;  ///< of one entry, such as a limit or a model
};

/// The tables that ranking by `rules` reads, and its site factors, to be changed in place.
[[nodiscard]] std::vector<OpenTable> tables_read(RuleSet& rules);

/// True where intake fills cells from the table, so that the plant has to be read again.
[[nodiscard]] bool read_by_intake(const TableInfo& table);

/// What may stand in the place of an entry: every other word, or numbers a little and far away.  A
/// small change shows where a number enters; a large one carries a limit over what is compared with
/// it.
[[nodiscard]] std::vector<RuleEntry> small_changes(const RuleEntry& entry, const TableInfo& table,
                                                   const RuleSet& rules);
[[nodiscard]] std::vector<RuleEntry> large_changes(const RuleEntry& entry, const TableInfo& table);

}  // namespace lagline
