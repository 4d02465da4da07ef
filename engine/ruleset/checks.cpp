#include <algorithm>
#include <array>
#include <utility>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "plant/field.h"
#include "quantity/date.h"
#include "ruleset/layer.h"

namespace lagline {
namespace {

constexpr std::array<std::string_view, 7> check_keys{"name",    "source",      "date",  "plant",
                                                     "segment", "inspections", "expect"};
constexpr std::array<std::string_view, 2> expect_item_keys{"value", "within"};

/// Keys and texts of a map of single values.
std::vector<RuleCheck::Cell> read_cells(const YamlNode& map, const Scope& scope) {
    std::vector<RuleCheck::Cell> cells;
    if (!expect_map(map, scope)) return cells;
    for (std::size_t i = 0; i < map.keys.size(); ++i) {
        const auto& key = map.keys[i];
        if (!key.is_scalar()) continue;
        auto text = read_text(map.items[i], scope.at(key.text));
        if (text) cells.push_back({key.text, std::move(*text), place_of(map.items[i])});
    }
    return cells;
}

void check_columns(const YamlNode& map, const std::vector<std::string_view>& known,
                   const Scope& scope) {
    for (const auto& key : map.keys) {
        if (!key.is_scalar() || std::ranges::find(known, key.text) != known.end()) continue;
        scope.error(Problem::unknown_key, key, "the column '" + printable(key.text) + "'",
                    "a column of the plant folder", suggest(key.text, known));
    }
}

std::vector<std::string_view> keys_of(std::span<const FieldInfo> fields) {
    std::vector<std::string_view> keys;
    for (const auto& field : fields) keys.push_back(field.key);
    return keys;
}

/// Columns that the segment of a check may have: ours, and those that site factors read.
std::vector<std::string_view> segment_columns(const RuleSet& rules) {
    auto columns = keys_of(segment_fields());
    for (const auto& [name, table] : rules.site_factors) columns.emplace_back(table.info.by);
    return columns;
}

void read_expectations(const YamlNode& map, RuleCheck& check, const Scope& scope) {
    if (!expect_map(map, scope)) return;
    for (std::size_t i = 0; i < map.keys.size(); ++i) {
        const auto& key = map.keys[i];
        const auto& item = map.items[i];
        if (!key.is_scalar()) continue;
        const auto inner = scope.at(key.text);
        if (!expect_map(item, inner)) continue;
        expect_keys(item, expect_item_keys, inner);
        RuleCheck::Expectation expectation;
        expectation.quantity = key.text;
        expectation.place = place_of(key);
        expectation.text = need_text(item, "value", inner).value_or("");
        const auto* within = item.find("within");
        if (within != nullptr) expectation.tolerance = read_bare_number(*within, inner);
        if (expectation.tolerance && *expectation.tolerance < 0.0) {
            inner.error(Problem::out_of_range, *within, number_text(*expectation.tolerance),
                        "0 or more", "write the largest difference that still passes");
        }
        check.expect.push_back(std::move(expectation));
    }
}

void read_date(const YamlNode& node, RuleCheck& check, const Scope& scope) {
    check.date = need_text(node, "date", scope).value_or("");
    if (check.date.empty() || parse_date(check.date)) return;
    scope.error(Problem::not_a_date, *node.find("date"), "'" + printable(check.date) + "'",
                "a date", "write it as 2025-01-31");
}

void read_inspections(const YamlNode& list, RuleCheck& check, const Scope& scope) {
    if (!expect_list(list, scope)) return;
    const auto columns = keys_of(inspection_fields());
    for (const auto& item : list.items) {
        check.inspections.push_back(read_cells(item, scope));
        check_columns(item, columns, scope);
    }
}

void read_check(const YamlNode& node, RuleSet& rules, const Scope& section) {
    if (!expect_map(node, section)) return;
    expect_keys(node, check_keys, section);
    RuleCheck check;
    check.place = place_of(node);
    check.layer = rules.layers.empty() ? "" : rules.layers.back();
    check.name = need_text(node, "name", section).value_or("");
    const auto scope = check.name.empty() ? section : section.at(check.name);
    check.source = read_provenance(node, rules, {}, scope).source;
    read_date(node, check, scope);
    if (const auto* plant = node.find("plant")) check.plant = read_cells(*plant, scope.at("plant"));
    if (const auto* segment = need(node, "segment", scope)) {
        check.segment = read_cells(*segment, scope.at("segment"));
        check_columns(*segment, segment_columns(rules), scope.at("segment"));
    }
    if (const auto* inspections = node.find("inspections")) {
        read_inspections(*inspections, check, scope.at("inspections"));
    }
    if (const auto* expect = need(node, "expect", scope)) {
        read_expectations(*expect, check, scope.at("expect"));
    }
    const auto same = std::ranges::find(rules.checks, check.name, &RuleCheck::name);
    if (!check.name.empty() && same != rules.checks.end()) {
        report_twice(*node.find("name"), "the check '" + printable(check.name) + "'", same->place,
                     "give one of the two another name", scope);
    }
    rules.checks.push_back(std::move(check));
}

}  // namespace

void read_checks(const YamlNode& list, RuleSet& rules, const Scope& scope) {
    if (!expect_list(list, scope)) return;
    for (const auto& item : list.items) read_check(item, rules, scope);
}

}  // namespace lagline
