#include "report/rule_value_rows.h"

#include <algorithm>

namespace lagline {
namespace {

// An end of the range, in the unit that the table is written in.
void write_end(const TableInfo& table, const std::optional<double>& end, TableCells& cells) {
    if (!end) return cells.empty();
    const auto unit = parse_unit(table.axis_unit, table.axis_dimension);
    cells.number(unit ? convert(*end, base_unit(table.axis_dimension), *unit) : *end);
}

void write_range(const TableInfo& table, TableCells& cells) {
    if (table.axis.empty()) {
        for (int i = 0; i < 6; ++i) cells.empty();
        return;
    }
    cells.text(table.axis);
    cells.text(table.axis_unit == "-" ? "" : table.axis_unit);
    write_end(table, table.valid_from, cells);
    write_end(table, table.valid_to, cells);
    cells.text(to_string(table.below));
    cells.text(to_string(table.above));
}

}  // namespace

RuleValueRows::RuleValueRows(const RuleSet& rules, const std::set<std::string_view>& tables)
    : rules_(rules), lines_(all_entries(rules)) {
    std::erase_if(lines_, [&](const RuleLine& line) {
        return !tables.contains(line.table->name) && !rules.site_factors.contains(line.table->name);
    });
}

std::vector<OutputColumn> RuleValueRows::columns() const {
    std::vector<OutputColumn> all;
    for (const auto* heading : {"table", "meaning", "entry"}) all.push_back({heading});
    all.push_back({"value", CellKind::number});
    for (const auto* heading :
         {"unit", "basis", "source", "title", "where", "along", "along_unit"}) {
        all.push_back({heading});
    }
    all.push_back({"valid_from", CellKind::number});
    all.push_back({"valid_to", CellKind::number});
    for (const auto* heading : {"below", "above", "note", "replaced", "reason"}) {
        all.push_back({heading});
    }
    return all;
}

void RuleValueRows::write_row(std::size_t row, TableCells& cells) const {
    const TableInfo& table = *lines_[row].table;
    const RuleEntry& entry = *lines_[row].entry;
    cells.text(table.name);
    cells.text(table.meaning);
    cells.text(entry.key);
    if (entry.word.empty()) {
        cells.number(entry.printed);
    } else {
        cells.text(entry.word);
    }
    cells.text(table.unit == "-" ? "" : table.unit);
    cells.text(to_string(entry.basis));
    const auto source = rules_.sources.find(entry.source.id);
    cells.text(entry.source.id);
    cells.text(source == rules_.sources.end() ? "" : source->second.title);
    cells.text(entry.source.where);
    write_range(table, cells);
    cells.text(entry.note);
    cells.text(entry.replaced);
    cells.text(entry.reason);
}

std::set<std::string_view> names_of(const std::vector<TableNeed>& needs) {
    std::set<std::string_view> names;
    for (const TableNeed& need : needs) names.insert(need.name);
    return names;
}

}  // namespace lagline
