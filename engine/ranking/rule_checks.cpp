#include "ranking/rule_checks.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "blocks/number_text.h"
#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "intake/load_plant.h"
#include "intake/source_file.h"
#include "ranking/check_plant.h"
#include "ranking/explain.h"
#include "ranking/ranking.h"

namespace lagline {
namespace {

// Where a check states no tolerance, the double itself is meant, save for the last rounding.
constexpr double exact_relative = 1e-12;

std::string quoted_field(std::string_view text) {
    std::string field = "\"";
    for (const char c : text) {
        if (c == '"') field += '"';
        field += c;
    }
    return field + "\"";
}

void append_record(std::string& csv, const std::vector<std::string_view>& fields) {
    for (std::size_t i = 0; i < fields.size(); ++i) {
        if (i > 0) csv += ',';
        csv += quoted_field(fields[i]);
    }
    csv += '\n';
}

std::string segments_csv(const RuleCheck& check) {
    std::vector<std::string_view> headings;
    std::vector<std::string_view> cells;
    for (const RuleCheck::Cell& cell : check.segment) {
        headings.push_back(cell.key);
        cells.push_back(cell.text);
    }
    std::string csv;
    append_record(csv, headings);
    append_record(csv, cells);
    return csv;
}

std::string_view cell_of(const RuleCheck& check, std::string_view key) {
    const auto cell = std::ranges::find(check.segment, key, &RuleCheck::Cell::key);
    return cell == check.segment.end() ? std::string_view{} : std::string_view{cell->text};
}

// Inspections may differ in their keys: every key any of them has becomes a column.
std::string inspections_csv(const RuleCheck& check) {
    std::vector<std::string_view> headings{"segment"};
    for (const auto& inspection : check.inspections) {
        for (const RuleCheck::Cell& cell : inspection) {
            if (std::ranges::find(headings, cell.key) == headings.end()) {
                headings.push_back(cell.key);
            }
        }
    }
    std::string csv;
    append_record(csv, headings);
    for (const auto& inspection : check.inspections) {
        std::vector<std::string_view> cells;
        for (const std::string_view heading : headings) {
            const auto cell = std::ranges::find(inspection, heading, &RuleCheck::Cell::key);
            if (cell != inspection.end()) {
                cells.push_back(cell->text);
            } else {
                cells.push_back(heading == "segment" ? cell_of(check, "segment")
                                                     : std::string_view{});
            }
        }
        append_record(csv, cells);
    }
    return csv;
}

LoadedPlant load_check(const RuleCheck& check, const RuleSet& rules) {
    Report report;
    const auto date = parse_date(check.date);
    if (!date) {
        report.add({.problem = Problem::not_a_date,
                    .where = check.place,
                    .subject = check.name,
                    .found = "'" + printable(check.date) + "'",
                    .expected = "date: YYYY-MM-DD",
                    .mend = "give the date of the calculation",
                    .excerpt = {}});
        return {std::nullopt, std::move(report)};
    }
    const std::string shown = to_string(check.place) + " (" + check.name + ")";
    PlantSources sources;
    sources.file.description = plant_of_check(check, report);
    sources.segments = source_from_text(segments_csv(check), shown + " segment", report);
    if (!check.inspections.empty()) {
        sources.inspections =
            source_from_text(inspections_csv(check), shown + " inspections", report);
    }
    const LoadOptions options{date->date, date->date, {.block_rows = 1, .threads = 1}};
    return assemble_plant(std::move(sources), rules, options, std::move(report));
}

// `value` of the unit `from`, in the unit `to`; both symbols must share a dimension.
std::optional<double> in_unit(double value, std::string_view from, std::string_view to) {
    if (from == to) return value;
    for (const Dimension dimension : dimensions_of(from)) {
        const auto source = parse_unit(from, dimension);
        const auto target = parse_unit(to, dimension);
        if (source && target) return convert(value, *source, *target);
    }
    return std::nullopt;
}

CheckedQuantity compare(const RuleCheck::Expectation& expected, const ColumnView& column,
                        std::string_view unit, const RuleSet& rules) {
    CheckedQuantity compared{expected.quantity, expected.text, "", false, expected.place};
    if (column.is_words()) {
        compared.got = rules.vocabulary(column.info->words).words[column.code(0)].key;
        compared.ok = compared.got == expected.text;
        return compared;
    }
    const NumberReading wanted = read_quantity(expected.text);
    const auto got = in_unit(column.number(0), unit, wanted.unit);
    if (wanted.fault != NumberFault::none || !got) {
        compared.got = exact_number(column.number(0)) + " " + std::string{unit};
        return compared;
    }
    compared.got = short_number(*got, 10);
    if (!wanted.unit.empty()) compared.got += " " + std::string{wanted.unit};
    const double within =
        expected.tolerance.value_or(exact_relative * std::max(1.0, std::abs(wanted.value)));
    compared.ok = std::abs(*got - wanted.value) <= within;
    return compared;
}

void report_unknown_quantity(const RuleCheck& check, const RuleCheck::Expectation& expected,
                             const std::vector<ColumnView>& columns, Report& report) {
    std::vector<std::string_view> keys;
    for (const ColumnView& column : columns) keys.push_back(column.info->key);
    const std::string meant = did_you_mean(expected.quantity, keys);
    report.add({.problem = Problem::unknown_key,
                .where = expected.place,
                .subject = check.name,
                .found = "a quantity '" + printable(expected.quantity) + "'",
                .expected = "a column of the ranking",
                .mend = meant.empty() ? "see docs/data-dictionary.md for the columns" : meant,
                .excerpt = {}});
}

CheckOutcome run(const RuleCheck& check, const RuleSet& rules) {
    CheckOutcome outcome;
    outcome.check = &check;
    LoadedPlant loaded = load_check(check, rules);
    outcome.report = std::move(loaded.report);
    if (!loaded.plant) return outcome;
    const Ranking ranking = rank(*loaded.plant, rules, {.block_rows = 1, .threads = 1});
    if (ranking.rows() != 1) {
        outcome.report.add({.problem = Problem::check_failed,
                            .where = check.place,
                            .subject = check.name,
                            .found = "a segment that is not ranked",
                            .expected = "a segment of a material that has a mechanism",
                            .mend = "correct the material of the check",
                            .excerpt = {}});
        return outcome;
    }
    const auto columns = ranking.views();
    for (const RuleCheck::Expectation& expected : check.expect) {
        const auto column = std::ranges::find_if(columns, [&](const ColumnView& each) {
            return each.info->key == expected.quantity && each.covers(0);
        });
        if (column == columns.end()) {
            report_unknown_quantity(check, expected, columns, outcome.report);
            continue;
        }
        const std::string unit =
            with_currency(column->info->unit, loaded.plant->description.currency);
        outcome.quantities.push_back(compare(expected, *column, unit, rules));
    }
    return outcome;
}

}  // namespace

bool CheckOutcome::ok() const {
    return report.ok() && std::ranges::all_of(quantities, &CheckedQuantity::ok);
}

std::vector<CheckOutcome> run_rule_checks(const RuleSet& rules,
                                          std::span<const std::string> layers) {
    std::vector<CheckOutcome> outcomes;
    for (const RuleCheck& check : rules.checks) {
        if (std::ranges::find(layers, check.layer) == layers.end()) continue;
        outcomes.push_back(run(check, rules));
    }
    return outcomes;
}

std::vector<CheckOutcome> run_rule_checks(const RuleSet& rules) {
    return run_rule_checks(rules, std::span{rules.layers}.last(rules.layers.empty() ? 0 : 1));
}

}  // namespace lagline
