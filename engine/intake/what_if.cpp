#include "intake/what_if.h"

#include <map>

#include "diagnostics/text.h"

namespace lagline {
namespace {

using S = SegmentField;
using O = OverrideField;

// Segment rows that a selector chooses.
std::vector<std::uint32_t> chosen(const Plant& plant, const std::string& selector) {
    S field = S::segment;
    std::string_view name = selector;
    for (const auto& [prefix, of] : {std::pair{std::string_view{"line:"}, S::line},
                                     std::pair{std::string_view{"unit:"}, S::unit}}) {
        if (!name.starts_with(prefix)) continue;
        name.remove_prefix(prefix.size());
        field = of;
        break;
    }
    std::vector<std::uint32_t> rows;
    const auto texts = plant.segments.texts(field);
    for (std::uint32_t row = 0; row < plant.segments.rows(); ++row) {
        if (selector == "all" || texts[row] == name) rows.push_back(row);
    }
    return rows;
}

void append_field(std::string& csv, std::string_view text) {
    csv += '"';
    for (const char c : text) {
        if (c == '"') csv += '"';
        csv += c;
    }
    csv += '"';
}

using Cell = std::pair<std::string, std::string>;  // segment, column

// The overrides of the file that no change replaces, as they were read.
void append_kept(const Plant& plant, const std::map<Cell, std::string>& changed, std::string& csv) {
    const OverrideSheet& sheet = plant.overrides;
    for (std::size_t row = 0; row < sheet.rows(); ++row) {
        const Cell cell{sheet.texts(O::segment)[row], sheet.texts(O::quantity)[row]};
        if (changed.contains(cell)) continue;
        for (const O field : {O::segment, O::quantity, O::value, O::reason, O::who}) {
            append_field(csv, sheet.texts(field)[row]);
            csv += ',';
        }
        csv += to_string(Date{sheet.days(O::when)[row]}) + ",";
        if (sheet.has(O::until, row)) csv += to_string(Date{sheet.days(O::until)[row]});
        csv += '\n';
    }
}

}  // namespace

std::optional<TrialChange> read_trial_change(const std::string& text) {
    const auto equals = text.find('=');
    if (equals == std::string::npos || equals + 1 == text.size()) return std::nullopt;
    const auto dot = text.rfind('.', equals);
    if (dot == std::string::npos || dot == 0 || dot + 1 == equals) return std::nullopt;
    return TrialChange{text.substr(0, dot), text.substr(dot + 1, equals - dot - 1),
                       text.substr(equals + 1)};
}

PlantSources with_changes(PlantSources sources, const Plant& plant,
                          std::span<const TrialChange> changes, Report& report) {
    std::map<Cell, std::string> changed;
    for (const TrialChange& change : changes) {
        const auto rows = chosen(plant, change.selector);
        if (rows.empty()) {
            report.add({.problem = Problem::unknown_segment,
                        .where = {"--set", 0, 0},
                        .subject = change.selector,
                        .found = "nothing called '" + printable(change.selector) + "'",
                        .expected = "a segment, line:NAME, unit:NAME or all",
                        .mend = "correct the name",
                        .excerpt = {}});
        }
        for (const std::uint32_t row : rows) {
            changed[{std::string{plant.segments.texts(S::segment)[row]}, change.column}] =
                change.value;
        }
    }
    auto csv = std::make_shared<std::string>("segment,quantity,value,reason,who,when,until\n");
    append_kept(plant, changed, *csv);
    for (const auto& [cell, value] : changed) {
        append_field(*csv, cell.first);
        *csv += ',';
        append_field(*csv, cell.second);
        *csv += ',';
        append_field(*csv, value);
        *csv += ",on trial,on trial," + to_string(plant.today) + ",\n";
    }
    sources.overrides = SourceText{"values on trial", *csv, csv};
    return sources;
}

}  // namespace lagline
