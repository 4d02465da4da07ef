#include <limits>
#include <utility>

#include "ruleset/table_draft.h"

namespace lagline {
namespace {

/// Words of a vocabulary, or one nameless word where a table has none.
std::vector<std::string> words_of(const RuleSet& rules, const std::string& vocabulary) {
    if (vocabulary.empty()) return {std::string()};
    std::vector<std::string> words;
    for (const auto& word : rules.vocabulary(vocabulary).words) words.push_back(word.key);
    return words;
}

/// Moves cells into the order of a finished table and reports those that are not there.
class Finisher {
  public:
    Finisher(const TableDraft& draft, const RuleSet& rules, Report& report)
        : draft_(draft), rules_(rules), report_(report) {}

    void take(const std::string& row, std::size_t step, const std::string& column,
              std::vector<RuleEntry>& entries) {
        const CellAddress address{row, static_cast<std::uint32_t>(step), column};
        const auto cell = draft_.cells.find(address);
        if (cell != draft_.cells.end()) {
            entries.push_back(cell->second);
            return;
        }
        entries.emplace_back();
        report_missing(address);
    }

    /// A word of `by` that has no list of bands at all.
    void report_missing_list(const std::string& row) { report_missing({row, 0, {}}); }

  private:
    void report_missing(const CellAddress& address) {
        const auto& info = draft_.info;
        const Word* word = late_word(info.by, address.row, draft_.rows_known);
        if (word == nullptr) word = late_word(info.columns, address.column, draft_.columns_known);
        Diagnostic diagnostic;
        diagnostic.problem = Problem::missing_entry;
        diagnostic.where = word == nullptr ? info.place : word->place;
        diagnostic.subject = rules_.name + " -> " + info.name;
        diagnostic.found = "no value for " + cell_key(draft_, address);
        diagnostic.expected = "a value for every word, also for words that an overlay adds";
        diagnostic.mend = draft_.kind == TableKind::bands && !info.by.empty()
                              ? "replace the table under 'changes', with bands for this word"
                              : "give it one under 'changes'";
        report_.add(std::move(diagnostic));
    }

    /// The word, when it was added after the table was read.
    const Word* late_word(const std::string& vocabulary, const std::string& key,
                          std::size_t known) {
        if (vocabulary.empty()) return nullptr;
        const auto& words = rules_.vocabulary(vocabulary);
        const auto code = words.code(key);
        return code && *code >= known ? &words.words[*code] : nullptr;
    }

    const TableDraft& draft_;
    const RuleSet& rules_;
    Report& report_;
};

template <class Table>
void finish_cells(const TableDraft& draft, const RuleSet& rules, Report& report, Table& table) {
    Finisher finisher(draft, rules, report);
    const auto columns = words_of(rules, draft.info.columns);
    const std::size_t steps = draft.kind == TableKind::curves ? draft.points.size() : 1;
    for (const auto& row : words_of(rules, draft.info.by)) {
        for (std::size_t step = 0; step < steps; ++step) {
            for (const auto& column : columns) finisher.take(row, step, column, table.entries);
        }
    }
}

void finish_bands(const TableDraft& draft, const RuleSet& rules, Report& report, BandTable& table) {
    Finisher finisher(draft, rules, report);
    const auto columns = words_of(rules, draft.info.columns);
    for (const auto& row : words_of(rules, draft.info.by)) {
        auto& list = table.lists.emplace_back();
        const auto bands = draft.lists.find(row);
        if (bands == draft.lists.end()) {
            finisher.report_missing_list(row);
            continue;
        }
        for (std::size_t step = 0; step < bands->second.size(); ++step) {
            const auto& band = bands->second[step];
            list.push_back(
                {band.to, band.inclusive, static_cast<std::uint32_t>(table.entries.size())});
            for (const auto& column : columns) finisher.take(row, step, column, table.entries);
        }
    }
}

std::string joined(const std::string& left, const char* between, const std::string& right) {
    if (left.empty() || right.empty()) return left + right;
    return left + between + right;
}

}  // namespace

std::string cell_key(const TableDraft& draft, const CellAddress& address) {
    if (draft.kind == TableKind::curves) {
        const auto& label = draft.point_labels[address.step];
        return address.row.empty() ? "at " + label : address.row + " at " + label;
    }
    auto key = address.row;
    if (draft.kind == TableKind::bands) {
        const auto list = draft.lists.find(address.row);
        if (list != draft.lists.end()) key = joined(key, ", ", list->second[address.step].label);
    }
    return joined(key, ", ", address.column);
}

void finish_table(const TableDraft& draft, RuleSet& rules, Report& report) {
    const auto& name = draft.info.name;
    switch (draft.kind) {
        case TableKind::value: {
            auto& table = rules.values[name];
            table.info = draft.info;
            finish_cells(draft, rules, report, table);
            return;
        }
        case TableKind::lookup: {
            auto& table = rules.lookups[name];
            table.info = draft.info;
            finish_cells(draft, rules, report, table);
            return;
        }
        case TableKind::curves: {
            auto& table = rules.curves[name];
            table.info = draft.info;
            table.points = draft.points;
            finish_cells(draft, rules, report, table);
            return;
        }
        case TableKind::bands: {
            auto& table = rules.bands[name];
            table.info = draft.info;
            finish_bands(draft, rules, report, table);
            return;
        }
        case TableKind::grid: {
            auto& table = rules.grids[name];
            table.info = draft.info;
            table.column_count = rules.vocabulary(draft.info.columns).words.size();
            finish_cells(draft, rules, report, table);
            return;
        }
    }
}

}  // namespace lagline
