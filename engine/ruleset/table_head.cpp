#include "ruleset/table_head.h"

#include <array>
#include <utility>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "ruleset/ranges.h"
#include "ruleset/units.h"

namespace lagline {
namespace {

constexpr std::array<std::string_view, 5> kind_words{"value", "lookup", "curves", "bands", "grid"};
constexpr std::array<std::string_view, 3> outside_words{"refuse", "clamp", "zero"};
constexpr std::array<std::string_view, 2> axis_keys{"quantity", "unit"};
constexpr std::array<std::string_view, 2> side_keys{"below", "above"};

/// Keys that a table of this kind may have.
std::vector<std::string_view> keys_of(TableKind kind) {
    std::vector<std::string_view> keys{"kind",  "meaning", "unit", "source",
                                       "basis", "note",    "range"};
    const auto add = [&keys](std::initializer_list<std::string_view> more) {
        keys.insert(keys.end(), more);
    };
    switch (kind) {
        case TableKind::value:
            add({"gives", "value"});
            break;
        case TableKind::lookup:
            add({"gives", "by", "entries"});
            break;
        case TableKind::curves:
            add({"by", "axis", "points", "valid", "outside"});
            break;
        case TableKind::bands:
            add({"gives", "by", "columns", "axis", "bands", "valid", "outside"});
            break;
        case TableKind::grid:
            add({"gives", "by", "columns", "rows"});
            break;
    }
    return keys;
}

bool read_kind(TableReading& r) {
    const auto* kind = need(r.node, "kind", r.scope);
    if (kind == nullptr) return false;
    const auto choice = read_choice(*kind, kind_words, r.scope);
    if (choice) r.draft.kind = static_cast<TableKind>(*choice);
    return choice.has_value();
}

const Vocabulary* named_vocabulary(TableReading& r, std::string_view key, std::string& name) {
    const auto* node = r.node.find(key);
    if (node == nullptr) return nullptr;
    const auto text = read_text(*node, r.scope);
    if (!text) {
        r.draft.broken = true;
        return nullptr;
    }
    name = *text;
    const auto at = r.known.vocabularies.find(name);
    if (at != r.known.vocabularies.end()) return &at->second;
    r.draft.broken = true;
    std::vector<std::string_view> names;
    for (const auto& [known, words] : r.known.vocabularies) names.emplace_back(known);
    r.scope.error(Problem::unknown_word, *node, "the vocabulary '" + printable(name) + "'",
                  "one of those under 'words': " + listing(names), suggest(name, names));
    return nullptr;
}

void read_vocabularies(TableReading& r) {
    const auto kind = r.draft.kind;
    const bool needs_by = kind == TableKind::lookup || kind == TableKind::grid;
    if (needs_by && need(r.node, "by", r.scope) == nullptr) r.draft.broken = true;
    if (kind == TableKind::grid && need(r.node, "columns", r.scope) == nullptr) {
        r.draft.broken = true;
    }
    if (kind != TableKind::value) r.by = named_vocabulary(r, "by", r.draft.info.by);
    if (kind == TableKind::bands || kind == TableKind::grid) {
        r.columns = named_vocabulary(r, "columns", r.draft.info.columns);
    }
    if (r.by != nullptr) r.draft.rows_known = r.by->words.size();
    if (r.columns != nullptr) r.draft.columns_known = r.columns->words.size();
}

/// A table gives numbers of a unit, or words of a vocabulary.
void read_values_kind(TableReading& r) {
    auto& info = r.draft.info;
    const auto* unit = r.node.find("unit");
    const bool may_give = r.draft.kind != TableKind::curves;
    if (may_give && r.node.find("gives") != nullptr) {
        named_vocabulary(r, "gives", info.gives);
        if (unit == nullptr) return;
        r.scope.error(Problem::contradiction, *unit, "both 'unit' and 'gives'",
                      "a unit for numbers, or a vocabulary for words", "drop one of the two");
        return;
    }
    unit = need(r.node, "unit", r.scope, Problem::missing_unit);
    const auto read = unit == nullptr ? std::nullopt : read_unit(*unit, std::nullopt, r.scope);
    if (!read) {  // read on as pure numbers, to find what else is wrong
        info.unit = "-";
        return;
    }
    info.unit = read->symbol;
    info.dimension = read->dimension;
}

void read_axis(TableReading& r) {
    auto& info = r.draft.info;
    info.axis_unit = "-";
    const auto* axis = need(r.node, "axis", r.scope);
    if (axis == nullptr || !expect_map(*axis, r.scope)) return;
    const auto scope = r.scope.at("axis");
    expect_keys(*axis, axis_keys, scope);
    info.axis = need_text(*axis, "quantity", scope).value_or("");
    const auto* unit = need(*axis, "unit", scope, Problem::missing_unit);
    if (unit == nullptr) return;
    const auto read = read_unit(*unit, dimension_of_axis(info.axis), scope);
    if (!read) return;
    info.axis_unit = read->symbol;
    info.axis_dimension = read->dimension;
}

std::optional<Outside> read_side(TableReading& r, const YamlNode& node, const Scope& scope) {
    const auto choice = read_choice(node, outside_words, scope);
    if (!choice) return std::nullopt;
    const auto side = static_cast<Outside>(*choice);
    if (side == Outside::zero && !r.draft.info.gives.empty()) {
        scope.error(Problem::contradiction, node, "zero, of a table that gives words",
                    "refuse or clamp", "a word cannot be zero");
    }
    return side;
}

void read_outside(TableReading& r) {
    const auto* outside = r.node.find("outside");
    if (outside == nullptr) return;
    auto& info = r.draft.info;
    const auto scope = r.scope.at("outside");
    if (!outside->is_map()) {
        info.below = info.above = read_side(r, *outside, scope).value_or(Outside::refuse);
        return;
    }
    expect_keys(*outside, side_keys, scope);
    if (const auto* below = outside->find("below")) {
        info.below = read_side(r, *below, scope).value_or(Outside::refuse);
    }
    if (const auto* above = outside->find("above")) {
        info.above = read_side(r, *above, scope).value_or(Outside::refuse);
    }
}

void read_table_provenance(TableReading& r, const std::optional<Basis>& without_basis) {
    r.provenance.basis = without_basis;
    r.provenance = read_provenance(r.node, r.known, r.provenance, r.scope);
    if (!r.provenance.basis && r.node.find("basis") == nullptr) need(r.node, "basis", r.scope);
    r.draft.info.source = r.provenance.source;
    r.draft.info.basis = r.provenance.basis.value_or(Basis::site);
}

}  // namespace

void read_head(TableReading& reading, const std::optional<Basis>& without_basis) {
    auto& r = reading;
    if (!expect_map(r.node, r.scope) || !read_kind(r)) {
        r.draft.broken = true;
        return;
    }
    expect_keys(r.node, keys_of(r.draft.kind), r.scope);
    r.draft.info.meaning = need_text(r.node, "meaning", r.scope).value_or("");
    read_vocabularies(r);
    read_values_kind(r);
    read_range(r);
    if (r.draft.kind == TableKind::curves || r.draft.kind == TableKind::bands) {
        read_axis(r);
        read_outside(r);
    }
    read_table_provenance(r, without_basis);
}

}  // namespace lagline
