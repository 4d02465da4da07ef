#include "report/rules_text.h"

#include <algorithm>
#include <map>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "plant/field.h"

namespace lagline {
namespace {

std::string value_of(const RuleLine& line) {
    if (!line.entry->word.empty()) return line.entry->word;
    return exact_number(line.entry->printed) +
           (line.table->unit == "-" ? "" : " " + line.table->unit);
}

std::string short_place(const Place& place) {
    const auto slash = place.file.rfind('/');
    return (slash == std::string::npos ? place.file : place.file.substr(slash + 1)) + ":" +
           std::to_string(place.line);
}

struct TableSummary {
    const TableInfo* info = nullptr;
    std::size_t entries = 0;
    std::size_t recalled = 0;
};

std::vector<TableSummary> summarise(const std::vector<RuleLine>& lines) {
    std::vector<TableSummary> all;
    for (const RuleLine& line : lines) {
        if (all.empty() || all.back().info != line.table) all.push_back({line.table, 0, 0});
        ++all.back().entries;
        if (line.entry->basis == Basis::recalled) ++all.back().recalled;
    }
    return all;
}

std::string title(std::string_view text, const TextStyle& style) {
    return coloured(text, Tone::strong, style) + "\n";
}

std::string layers_of(const RuleSet& rules) {
    std::string text;
    for (const std::string& layer : rules.layers) text += (text.empty() ? "" : " + ") + layer;
    return text;
}

std::string defaults_table(const RuleSet& rules, const TextStyle& style) {
    std::vector<std::vector<std::string>> rows;
    for (const auto& [field, rule] : rules.defaults) {
        rows.push_back(
            {field, rule.text, std::string{to_string(rule.basis)}, short_place(rule.place)});
    }
    return text_table(
        {{"empty column", false, 0}, {"takes", false, 0}, {"basis", false, 0}, {"place", false, 0}},
        rows, style);
}

std::string entry_table(const std::vector<RuleLine>& lines, bool with_table,
                        const TextStyle& style) {
    std::vector<TableColumn> columns;
    if (with_table) columns.push_back({"table", false, 0});
    columns.push_back({"entry", false, 0});
    columns.push_back({"value", false, 0});
    if (!with_table) columns.push_back({"basis", false, 0});
    columns.push_back({"source", false, 0});
    columns.push_back({"place", false, 0});
    std::vector<std::vector<std::string>> rows;
    for (const RuleLine& line : lines) {
        std::vector<std::string> row;
        if (with_table) row.push_back(line.table->name);
        row.push_back(line.entry->key.empty() ? "-" : line.entry->key);
        row.push_back(value_of(line));
        if (!with_table) row.emplace_back(to_string(line.entry->basis));
        row.push_back(line.entry->source.id + ", " + line.entry->source.where);
        row.push_back(short_place(line.entry->place));
        rows.push_back(std::move(row));
    }
    return text_table(columns, rows, style);
}

std::string about(const Distribution& made) {
    const bool of_segments = made.file == DistributionFile::segments;
    const auto fields = of_segments ? segment_fields() : inspection_fields();
    return "distribution (" + std::string{to_string(made.kind)} + ") of " +
           std::string{to_string(made.cell)} + " cells of " + std::string{fields[made.field].key} +
           " in " + (of_segments ? "segments.csv" : "inspections.csv") + ": " + made.reason;
}

}  // namespace

std::string rules_list(const RuleSet& rules, const TextStyle& style) {
    std::string text = title("Rule set " + layers_of(rules), style) +
                       wrapped(rules.meaning, style.width, 0) + "\n\n";
    std::vector<std::vector<std::string>> rows;
    for (const TableSummary& table : summarise(all_entries(rules))) {
        rows.push_back({table.info->name, table.info->gives.empty() ? table.info->unit : "words",
                        std::to_string(table.entries), std::to_string(table.recalled),
                        short_place(table.info->place), table.info->meaning});
    }
    text += text_table({{"table", false, 0},
                        {"unit", false, 0},
                        {"entries", true, 0},
                        {"recalled", true, 0},
                        {"place", false, 0},
                        {"meaning", false, 0}},
                       rows, style);
    text += "\n" + defaults_table(rules, style);
    for (const RuleChange& change : rules.changes) {
        text +=
            "\n" + wrapped("changed: " + change.what + " from " + change.from + " to " + change.to +
                               " (" + change.reason + ")  " + to_string(change.place),
                           style.width, 4);
    }
    if (!rules.changes.empty()) text += "\n";
    return text + "\nOne table in full: lagline rules show TABLE.\n";
}

std::string rules_table(const RuleSet& rules, std::string_view table, const TextStyle& style) {
    std::vector<RuleLine> lines;
    for (const RuleLine& line : all_entries(rules)) {
        if (line.table->name == table) lines.push_back(line);
    }
    if (lines.empty()) return "";
    const TableInfo& info = *lines.front().table;
    std::string text = title(info.name, style) + wrapped(info.meaning, style.width, 0) + "\n";
    if (!info.axis.empty()) {
        text += wrapped("along " + info.axis + " [" + info.axis_unit +
                            "]; below its range: " + std::string{to_string(info.below)} +
                            ", above: " + std::string{to_string(info.above)},
                        style.width, 2) +
                "\n";
    }
    if (info.range) text += wrapped("values from " + info.range->text, style.width, 2) + "\n";
    const auto distribution = rules.distributions.find(table);
    if (distribution != rules.distributions.end()) {
        text += wrapped(about(distribution->second), style.width, 2) + "\n";
    }
    text += "\n" + entry_table(lines, false, style);
    for (const RuleLine& line : lines) {
        if (line.entry->note.empty()) continue;
        text += wrapped(line.entry->key + ": " + line.entry->note, style.width, 4) + "\n";
    }
    return text;
}

std::string rules_sources(const RuleSet& rules, const TextStyle& style) {
    std::map<std::string, std::size_t> uses;
    for (const RuleLine& line : all_entries(rules)) ++uses[line.entry->source.id];
    std::vector<std::vector<std::string>> rows;
    for (const auto& [id, source] : rules.sources) {
        rows.push_back({id, std::to_string(uses[id]), source.edition, source.title});
    }
    return title("Sources of rule set " + layers_of(rules), style) +
           text_table({{"id", false, 0},
                       {"entries", true, 0},
                       {"edition", false, 34},
                       {"title", false, 0}},
                      rows, style);
}

std::string rules_recalled(const RuleSet& rules, const TextStyle& style) {
    std::vector<RuleLine> lines;
    const auto all = all_entries(rules);
    std::ranges::copy_if(all, std::back_inserter(lines),
                         [](const RuleLine& line) { return line.entry->basis == Basis::recalled; });
    const double percent =
        all.empty() ? 0.0
                    : 100.0 * static_cast<double>(lines.size()) / static_cast<double>(all.size());
    return title(counted(lines.size(), "value") + " of " + std::to_string(all.size()) +
                     " recalled from memory (" + short_number(percent, 2) + " %)",
                 style) +
           wrapped(
               "Compare them with a licensed copy of the source before you rely on them; put "
               "what differs into an overlay (docs/rule-format.md).",
               style.width, 0) +
           "\n\n" + entry_table(lines, true, style);
}

std::string rules_checked(const std::vector<CheckOutcome>& outcomes, const TextStyle& style) {
    std::string text;
    std::size_t failed = 0;
    for (const CheckOutcome& outcome : outcomes) {
        if (!outcome.ok()) ++failed;
        text += coloured(outcome.ok() ? "ok      " : "FAILED  ",
                         outcome.ok() ? Tone::good : Tone::bad, style) +
                wrapped(outcome.check->name + " (" +
                            counted(outcome.quantities.size(), "quantity") + ")",
                        style.width - 8, 10) +
                "\n";
        for (const CheckedQuantity& each : outcome.quantities) {
            if (each.ok) continue;
            text += "          " + each.quantity + ": expected " + each.expected + ", got " +
                    each.got + "  " + to_string(each.place) + "\n";
        }
        if (!outcome.report.ok()) text += to_text(outcome.report, {.width = style.width});
    }
    return text + counted(outcomes.size(), "check") + ", " + std::to_string(failed) + " failed\n";
}

}  // namespace lagline
