#include "rationale/rule_tables.h"

#include <algorithm>
#include <array>

#include "ranking/ranking.h"

namespace lagline {
namespace {

template <class Tables>
void add_from(Tables& tables, std::string_view name, std::vector<OpenTable>& all) {
    const auto found = tables.find(name);
    if (found == tables.end()) return;
    OpenTable open{&found->second.info, {}, found->second.entries.size() == 1};
    for (RuleEntry& entry : found->second.entries) open.entries.push_back(&entry);
    all.push_back(std::move(open));
}

RuleEntry with_number(RuleEntry entry, double number) {
    entry.value = number;
    return entry;
}

}  // namespace

bool read_by_intake(const TableInfo& table) {
    return table.name == "ambient_temperature" ||
           find_field(segment_fields(), table.name).has_value();
}

std::vector<OpenTable> tables_read(RuleSet& rules) {
    std::vector<OpenTable> all;
    std::vector<std::string_view> names;
    for (const TableNeed& need : ranking_needs(rules)) names.push_back(need.name);
    std::ranges::sort(names);
    names.erase(std::unique(names.begin(), names.end()), names.end());
    for (const std::string_view name : names) {
        add_from(rules.values, name, all);
        add_from(rules.lookups, name, all);
        add_from(rules.curves, name, all);
        add_from(rules.bands, name, all);
        add_from(rules.grids, name, all);
    }
    for (auto& [name, table] : rules.site_factors) {
        add_from(rules.site_factors, name, all);
        all.back().entries.push_back(&table.otherwise);
    }
    return all;
}

std::vector<RuleEntry> small_changes(const RuleEntry& entry, const TableInfo& table,
                                     const RuleSet& rules) {
    if (table.gives.empty()) {
        if (entry.value != 0.0) return {with_number(entry, entry.value * 1.01)};
        return {with_number(entry, 0.01), with_number(entry, -0.01)};
    }
    std::vector<RuleEntry> changes;
    const auto& words = rules.vocabulary(table.gives).words;
    for (std::size_t code = 0; code < words.size(); ++code) {
        if (words[code].key == entry.word) continue;
        changes.push_back(entry);
        changes.back().word = words[code].key;
        changes.back().code = static_cast<std::uint8_t>(code);
    }
    return changes;
}

std::vector<RuleEntry> large_changes(const RuleEntry& entry, const TableInfo& table) {
    if (!table.gives.empty()) return {};
    std::vector<RuleEntry> changes;
    for (const double times : {0.001, 0.25, 5.0, 100.0}) {
        changes.push_back(with_number(entry, entry.value * times));
    }
    if (table.dimension == Dimension::temperature) {
        for (const double by : {-60.0, -10.0, 10.0, 60.0}) {
            changes.push_back(with_number(entry, entry.value + by));
        }
    }
    if (table.dimension == Dimension::number && table.unit == "-") {
        for (const double by : {-3.0, 1.0, 3.0}) {
            if (entry.value + by >= 0.0) changes.push_back(with_number(entry, entry.value + by));
        }
    }
    return changes;
}

}  // namespace lagline
