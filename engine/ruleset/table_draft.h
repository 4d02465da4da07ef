#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "ruleset/ruleset.h"
#include "ruleset/scope.h"

namespace lagline {

/// Which value of a table: by words, because a later layer may add words and so shift codes.
struct CellAddress {
    std::string row;         ///< word of `by`; "" for none
    std::uint32_t step = 0;  ///< point or band
    std::string column;      ///< word of `columns`; "" for none

    friend auto operator<=>(const CellAddress&, const CellAddress&) = default;
};

struct BandDraft {
    double to = 0.0;
    bool inclusive = true;
    bool open = false;
    std::string label;  ///< "up to NPS 2", "below 100 %", "above NPS 18"
    std::string end;    ///< "NPS 2"; "" when open
};

/// A table as the layers read so far leave it.  It becomes one of the tables of a RuleSet when
/// all layers are in.
struct TableDraft {
    TableKind kind{};
    TableInfo info;
    bool broken = false;            ///< reported already; not to be changed or finished
    const YamlNode* key = nullptr;  ///< its name in the file
    std::size_t rows_known = 0;     ///< words of `by` when it was read; all of these were checked
    std::size_t columns_known = 0;  ///< the same of `columns`
    std::vector<double> points;     ///< base unit
    std::vector<std::string> point_labels;                             ///< "160 degF"
    std::map<std::string, std::vector<BandDraft>, std::less<>> lists;  ///< by word, or at ""
    std::map<CellAddress, RuleEntry> cells;
};

/// Reads one table.  Every problem is reported; the draft is then marked broken where changing or
/// finishing it could only repeat them.
/// @param name  the key under `tables`, or under a change that replaces a table
/// @param without_basis  basis of a table that states none; nothing when it has to
/// @param replaced  the table whose place it takes, and to whose range it keeps; null for none
TableDraft read_table(const YamlNode& name, const YamlNode& node, const RuleSet& known,
                      const std::optional<Basis>& without_basis, const Scope& scope,
                      const TableInfo* replaced = nullptr);

/// Key of a cell, as people read it: "severe at 160 degF", "low, state_1".
[[nodiscard]] std::string cell_key(const TableDraft& draft, const CellAddress& address);

/// A value and, for a map {value, source, basis, note}, where it came from.
std::optional<RuleEntry> read_entry(const YamlNode& node, const TableInfo& info,
                                    const RuleSet& known, const Provenance& inherited,
                                    const Scope& scope);

/// Puts the finished table into `rules`.  Words that a later layer added and that have no value
/// yet are reported at the word.
void finish_table(const TableDraft& draft, RuleSet& rules, Report& report);

/// All that is read so far.  The tables in `rules` are still empty.
struct RuleDraft {
    RuleSet rules;
    std::map<std::string, TableDraft, std::less<>> tables;
};

/// Applies the list under `changes`.
/// @param made_here  places of the changes made by this layer so far, by what they change
void read_changes(const YamlNode& list, RuleDraft& draft, std::map<std::string, Place>& made_here,
                  const Scope& scope);

}  // namespace lagline
