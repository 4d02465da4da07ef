#include <algorithm>
#include <set>
#include <utility>

#include "diagnostics/nearest.h"
#include "ruleset/ruleset.h"

namespace lagline {
namespace {

struct Known {
    TableKind kind{};
    const TableInfo* info = nullptr;
};
using KnownTables = std::map<std::string_view, Known>;

template <class Tables>
void add_known(const Tables& tables, TableKind kind, KnownTables& known) {
    for (const auto& [name, table] : tables) known.emplace(name, Known{kind, &table.info});
}

KnownTables known_tables(const RuleSet& rules) {
    KnownTables known;
    add_known(rules.values, TableKind::value, known);
    add_known(rules.lookups, TableKind::lookup, known);
    add_known(rules.curves, TableKind::curves, known);
    add_known(rules.bands, TableKind::bands, known);
    add_known(rules.grids, TableKind::grid, known);
    return known;
}

std::string_view name_of(TableKind kind) {
    switch (kind) {
        case TableKind::value:
            return "value";
        case TableKind::lookup:
            return "lookup";
        case TableKind::curves:
            return "curves";
        case TableKind::bands:
            return "bands";
        case TableKind::grid:
            return "grid";
    }
    return {};
}

void report(Report& out, Severity severity, Problem problem, Place where, std::string subject,
            std::string found, std::string expected, std::string mend) {
    Diagnostic diagnostic;
    diagnostic.severity = severity;
    diagnostic.problem = problem;
    diagnostic.where = std::move(where);
    diagnostic.subject = std::move(subject);
    diagnostic.found = std::move(found);
    diagnostic.expected = std::move(expected);
    diagnostic.mend = std::move(mend);
    out.add(std::move(diagnostic));
}

std::string chain(const RuleSet& rules, std::string_view table) {
    return rules.name + " -> " + std::string(table);
}

void report_missing(const RuleSet& rules, const TableNeed& need, const KnownTables& known,
                    Report& out) {
    std::vector<std::string_view> names;
    for (const auto& [name, table] : known) names.push_back(name);
    const auto hint = did_you_mean(need.name, names);
    Place where;
    if (!rules.folders.empty()) where.file = rules.folders.front().generic_string();
    report(out, Severity::error, Problem::missing_table, std::move(where), chain(rules, need.name),
           "no table '" + std::string(need.name) + "'",
           "a table of kind " + std::string(name_of(need.kind)),
           hint.empty() ? "add it under 'tables'" : hint);
}

/// One trait that table and need must share, in words.
void compare(const RuleSet& rules, const TableInfo& info, std::string_view what,
             std::string_view found, std::string_view wanted, Report& out) {
    if (found == wanted) return;
    const auto text = [&](std::string_view value) {
        return value.empty() ? "no '" + std::string(what) + "'"
                             : std::string(what) + ": " + std::string(value);
    };
    report(out, Severity::error, Problem::contradiction, info.place, chain(rules, info.name),
           text(found), text(wanted),
           "the method reads this table so; a site's own table needs another name");
}

/// True when the table's numbers come out the same read as `wanted`: psi is a stress or a
/// pressure, and the table does not say which.
bool fits(const TableInfo& info, Dimension wanted) {
    if (info.dimension == wanted) return true;
    const auto own = parse_unit(info.unit, info.dimension);
    const auto other = parse_unit(info.unit, wanted);
    return own && other && own->scale == other->scale && own->offset == other->offset;
}

void check_dimension(const RuleSet& rules, const TableInfo& info, const TableNeed& need,
                     Report& out) {
    if (!need.gives.empty() || !info.gives.empty() || fits(info, need.dimension)) return;
    report(
        out, Severity::error, Problem::unit_mismatch, info.place, chain(rules, info.name),
        std::string(describe(info.dimension)) + " (" + info.unit + ")",
        std::string(describe(need.dimension)) + " (" + listing(unit_symbols(need.dimension)) + ")",
        "give the table a unit of " + std::string(describe(need.dimension)));
}

void check_need(const RuleSet& rules, const TableNeed& need, const KnownTables& known,
                Report& out) {
    const auto at = known.find(need.name);
    if (at == known.end()) {
        report_missing(rules, need, known, out);
        return;
    }
    const auto& [kind, info] = at->second;
    compare(rules, *info, "kind", name_of(kind), name_of(need.kind), out);
    compare(rules, *info, "by", info->by, need.by, out);
    compare(rules, *info, "columns", info->columns, need.columns, out);
    compare(rules, *info, "axis", info->axis, need.axis, out);
    compare(rules, *info, "gives", info->gives, need.gives, out);
    check_dimension(rules, *info, need, out);
}

}  // namespace

Report check_needs(const RuleSet& rules, std::span<const TableNeed> needs,
                   std::span<const TableNeed> also_known) {
    Report out;
    const auto known = known_tables(rules);
    std::set<std::string_view> wanted;
    std::vector<std::string_view> names;
    for (const auto& need : needs) {
        if (!wanted.insert(need.name).second) continue;
        names.push_back(need.name);
        check_need(rules, need, known, out);
    }
    for (const auto& need : also_known) {
        if (wanted.insert(need.name).second) names.push_back(need.name);
    }
    for (const auto& [name, table] : known) {
        if (wanted.contains(name)) continue;
        const auto hint = did_you_mean(name, names);
        report(out, Severity::warning, Problem::unknown_key, table.info->place, chain(rules, name),
               "a table that nothing reads", "a table that the method reads",
               hint.empty() ? "delete it, or check its name" : hint);
    }
    out.sort();
    return out;
}

}  // namespace lagline
