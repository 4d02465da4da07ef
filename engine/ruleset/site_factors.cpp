#include <array>
#include <utility>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "plant/field.h"
#include "ruleset/layer.h"

namespace lagline {
namespace {

constexpr std::array<std::string_view, 9> factor_keys{
    "column", "meaning", "entries", "otherwise", "learned", "source", "basis", "note", "reason"};

// A rate times nothing, or times thousands, is a slip of the pen: no group of pipe corrodes so.
const ValueRange factor_range{0.01, 100.0, "0.01 to 100"};

std::optional<RuleEntry> read_factor(const YamlNode& node, const SiteFactorTable& table,
                                     const RuleSet& rules, const Provenance& provenance,
                                     const std::string& key, const std::string& reason,
                                     const Scope& scope) {
    auto entry = read_entry(node, table.info, rules, provenance, scope);
    if (!entry) return std::nullopt;
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

/// A column of segments.csv has texts or words; a number or a day is no group.
void check_column(const YamlNode& node, const SiteFactorTable& table, const RuleSet& rules,
                  const Scope& scope) {
    const auto index = find_field(segment_fields(), table.info.by);
    if (!index) return;  // a column of the site's own
    const FieldInfo& field = segment_fields()[*index];
    if (field.kind == FieldKind::text) return;
    if (field.words.empty()) {
        scope.error(Problem::contradiction, *node.find("column"), std::string(field.key),
                    "a column of texts or words",
                    "group by a column of texts or words, or by one of the site's own");
        return;
    }
    const auto words = rules.vocabularies.find(field.words);
    const auto* entries = node.find("entries");
    if (words == rules.vocabularies.end() || entries == nullptr) return;
    for (const auto& key : entries->keys) {
        if (!key.is_scalar() || words->second.code(trimmed(key.text))) continue;
        scope.at("entries").error(Problem::unknown_word, key, "'" + printable(key.text) + "'",
                                  "a word of the column " + std::string(field.key),
                                  suggest(key.text, words->second.keys()));
    }
}

std::optional<Date> read_learned(const YamlNode& node, const Scope& scope) {
    if (node.find("learned") == nullptr) return std::nullopt;
    const auto text = need_text(node, "learned", scope);
    if (!text) return std::nullopt;
    const auto day = parse_date(*text);
    if (day && day->precise) return day->date;
    scope.error(Problem::not_a_date, *node.find("learned"), "'" + printable(*text) + "'", "a day",
                "write it as 2025-01-31");
    return std::nullopt;
}

SiteFactorTable read_site_factor(const YamlNode& key, const YamlNode& node, const RuleSet& rules,
                                 bool overlay, const Scope& scope) {
    SiteFactorTable table;
    table.info.name = key.text;
    table.info.unit = "-";
    table.info.dimension = Dimension::number;
    table.info.range = factor_range;
    table.info.range_stated = true;
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
    table.learned = read_learned(node, scope);
    check_column(node, table, rules, scope);
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
