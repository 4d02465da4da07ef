#include <array>
#include <utility>

#include "diagnostics/text.h"
#include "ruleset/layer.h"

namespace lagline {
namespace {

constexpr std::array<std::string_view, 8> factor_keys{"column", "meaning", "entries", "otherwise",
                                                      "source", "basis",   "note",    "reason"};

/// A factor is a share of the rate, so it is never negative.
std::optional<RuleEntry> read_factor(const YamlNode& node, const SiteFactorTable& table,
                                     const RuleSet& rules, const Provenance& provenance,
                                     const std::string& key, const std::string& reason,
                                     const Scope& scope) {
    auto entry = read_entry(node, table.info, rules, provenance, scope);
    if (!entry) return std::nullopt;
    if (entry->value < 0.0) {
        scope.error(Problem::out_of_range, node, number_text(entry->printed), "0 or more",
                    "write a factor on the corrosion rate");
    }
    entry->key = key;
    entry->reason = reason;
    return entry;
}

void read_factor_entries(const YamlNode& map, SiteFactorTable& table, const RuleSet& rules,
                         const Provenance& provenance, const std::string& reason,
                         const Scope& scope) {
    if (!expect_map(map, scope)) return;
    for (std::size_t i = 0; i < map.keys.size(); ++i) {
        const auto& key = map.keys[i];
        if (!key.is_scalar()) continue;
        auto entry = read_factor(map.items[i], table, rules, provenance,
                                 std::string(trimmed(key.text)), reason, scope.at(key.text));
        if (entry) table.entries.push_back(std::move(*entry));
    }
    if (map.keys.empty()) {
        scope.error(Problem::missing_entry, map, "no entries", "one entry or more",
                    "add the texts that the column holds");
    }
}

SiteFactorTable read_site_factor(const YamlNode& key, const YamlNode& node, const RuleSet& rules,
                                 bool overlay, const Scope& scope) {
    SiteFactorTable table;
    table.info.name = key.text;
    table.info.unit = "-";
    table.info.dimension = Dimension::number;
    table.info.place = place_of(key);
    if (!expect_map(node, scope)) return table;
    expect_keys(node, factor_keys, scope);
    table.info.by = need_text(node, "column", scope).value_or("");
    table.info.meaning = need_text(node, "meaning", scope).value_or("");
    const auto provenance = read_provenance(node, rules, {}, scope);
    if (node.find("basis") == nullptr) need(node, "basis", scope);
    table.info.source = provenance.source;
    table.info.basis = provenance.basis.value_or(Basis::site);
    const auto reason = overlay
                            ? need_text(node, "reason", scope, Problem::missing_reason).value_or("")
                            : text_or_empty(node, "reason", scope);
    if (const auto* entries = need(node, "entries", scope)) {
        read_factor_entries(*entries, table, rules, provenance, reason, scope);
    }
    if (const auto* otherwise = need(node, "otherwise", scope)) {
        auto entry = read_factor(*otherwise, table, rules, provenance, "otherwise", reason,
                                 scope.at("otherwise"));
        if (entry) table.otherwise = std::move(*entry);
    }
    return table;
}

}  // namespace

void read_site_factors(const YamlNode& map, RuleSet& rules, bool overlay, const Scope& scope) {
    if (!expect_map(map, scope)) return;
    for (std::size_t i = 0; i < map.keys.size(); ++i) {
        const auto& key = map.keys[i];
        if (!key.is_scalar()) continue;
        const auto inner = scope.at(key.text);
        const auto at = rules.site_factors.find(key.text);
        if (at == rules.site_factors.end()) {
            rules.site_factors.emplace(key.text,
                                       read_site_factor(key, map.items[i], rules, overlay, inner));
        } else if (at->second.info.place.file != key.file->name) {
            report_twice(key, "the site factor '" + printable(key.text) + "'",
                         at->second.info.place, "give one of the two another name", inner);
        }
    }
}

}  // namespace lagline
