#include <array>
#include <utility>

#include "ruleset/ranges.h"
#include "ruleset/table_head.h"
#include "ruleset/units.h"

namespace lagline {
namespace {

constexpr std::array<std::string_view, 4> entry_keys{"value", "source", "basis", "note"};

std::optional<RuleEntry> read_entry_value(const YamlNode& node, const TableInfo& info,
                                          const RuleSet& known, const Scope& scope) {
    RuleEntry entry;
    entry.place = place_of(node);
    if (info.gives.empty()) {
        const auto number = read_in_unit(node, info.unit, info.dimension, scope);
        if (!number) return std::nullopt;
        if (!check_range(node, number->base, info, scope)) return std::nullopt;
        entry.printed = number->printed;
        entry.value = number->base;
        return entry;
    }
    const auto words = known.vocabularies.find(info.gives);
    if (words == known.vocabularies.end()) return std::nullopt;  // reported with the head
    const auto code = read_word(node, words->second, scope);
    if (!code) return std::nullopt;
    entry.code = *code;
    entry.word = words->second.words[*code].key;
    return entry;
}

}  // namespace

std::optional<RuleEntry> read_entry(const YamlNode& node, const TableInfo& info,
                                    const RuleSet& known, const Provenance& inherited,
                                    const Scope& scope) {
    auto provenance = inherited;
    const YamlNode* value = &node;
    if (node.is_map()) {
        expect_keys(node, entry_keys, scope);
        provenance = read_provenance(node, known, inherited, scope);
        value = need(node, "value", scope);
        if (value == nullptr) return std::nullopt;
    }
    auto entry = read_entry_value(*value, info, known, scope);
    if (!entry) return std::nullopt;
    entry->source = std::move(provenance.source);
    entry->basis = provenance.basis.value_or(Basis::site);
    entry->note = std::move(provenance.note);
    return entry;
}

TableDraft read_table(const YamlNode& name, const YamlNode& node, const RuleSet& known,
                      const std::optional<Basis>& without_basis, const Scope& scope,
                      const TableInfo* replaced) {
    TableReading reading{node, known, scope, {}, {}, nullptr, nullptr, replaced};
    reading.draft.key = &name;
    reading.draft.info.name = name.text;
    reading.draft.info.place = place_of(name);
    const auto errors = scope.report.errors();
    read_head(reading, without_basis);
    if (!reading.draft.broken) read_body(reading);
    if (scope.report.errors() != errors) reading.draft.broken = true;
    for (auto& [address, entry] : reading.draft.cells) entry.key = cell_key(reading.draft, address);
    return std::move(reading.draft);
}

}  // namespace lagline
