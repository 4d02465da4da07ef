#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "plant/field.h"
#include "ruleset/distribution_reader.h"
#include "ruleset/ranges.h"
#include "ruleset/table_draft.h"
#include "ruleset/units.h"

namespace lagline {
namespace {

constexpr std::array<std::string_view, 10> change_keys{"table",  "default", "distribution", "entry",
                                                       "to",     "replace", "reason",       "who",
                                                       "source", "basis"};

/// One item of `changes` on its way into the rules.
struct Change {
    const YamlNode& node;
    RuleDraft& draft;
    std::map<std::string, Place>& made_here;
    Scope scope;
    std::string reason;
    std::string who;
    Provenance provenance;
};

/// Writes the change down; false and reported when this layer has made it before.
bool record(const Change& change, const YamlNode& at, std::string what, std::string from,
            std::string to) {
    const auto [first, fresh] = change.made_here.emplace(what, place_of(at));
    if (!fresh) {
        change.scope.error(Problem::duplicate_key, at, "a second change of " + what,
                           "one change of a value in each layer",
                           "drop this one or the one at " + to_string(first->second));
        return false;
    }
    change.draft.rules.changes.push_back(
        {std::move(what), std::move(from), std::move(to), change.reason, change.who, place_of(at)});
    return true;
}

std::string what_of(const TableDraft& table, const std::string& key) {
    return key.empty() ? table.info.name : table.info.name + ": " + key;
}

/// The word of `vocabulary` that the entry of a change names; true when the table has none.
bool read_entry_word(const Change& change, const YamlNode& entry, const std::string& vocabulary,
                     std::string& word) {
    if (vocabulary.empty()) return true;
    const auto* node = entry.is_scalar() ? &entry : need(entry, vocabulary, change.scope);
    if (node == nullptr) return false;
    const auto& words = change.draft.rules.vocabulary(vocabulary);
    const auto code = read_word(*node, words, change.scope);
    if (code) word = words.words[*code].key;
    return code.has_value();
}

std::optional<std::uint32_t> find_step(const TableDraft& table, const std::string& row, double at) {
    if (table.kind == TableKind::curves) {
        // "71.111 degC" is not bit for bit what 160 degF converts to.
        const auto near = [at](double point) {
            return std::abs(point - at) <= 1e-9 * std::max(1.0, std::abs(at));
        };
        const auto found = std::ranges::find_if(table.points, near);
        if (found == table.points.end()) return std::nullopt;
        return static_cast<std::uint32_t>(found - table.points.begin());
    }
    const auto list = table.lists.find(row);
    if (list == table.lists.end()) return std::nullopt;
    const auto holds = [at](const BandDraft& band) {
        return at < band.to || (band.inclusive && at == band.to);
    };
    const auto found = std::ranges::find_if(list->second, holds);
    if (found == list->second.end()) return std::nullopt;
    return static_cast<std::uint32_t>(found - list->second.begin());
}

/// The point or band that `at` of a change names.
bool read_entry_step(const Change& change, const YamlNode& entry, const TableDraft& table,
                     CellAddress& address) {
    if (table.info.axis.empty()) return true;
    const auto* at = need(entry, "at", change.scope);
    if (at == nullptr) return false;
    const auto number =
        read_with_unit(*at, table.info.axis_unit, table.info.axis_dimension, change.scope);
    if (!number) return false;
    const auto step = find_step(table, address.row, number->base);
    if (step) {
        address.step = *step;
        return true;
    }
    const bool points = table.kind == TableKind::curves;
    change.scope.error(
        Problem::missing_entry, *at,
        std::string(points ? "no point at " : "no band that holds ") + printable(at->text),
        points ? "one of " + listing(std::vector<std::string_view>(table.point_labels.begin(),
                                                                   table.point_labels.end()))
               : "a value inside the bands of the table",
        "name one that exists, or replace the whole table");
    return false;
}

/// Which value of the table a change is about; nothing and reported when there is no such value.
std::optional<CellAddress> read_address(const Change& change, const TableDraft& table) {
    CellAddress address;
    const auto* entry = change.node.find("entry");
    if (table.kind == TableKind::value) {
        if (entry == nullptr) return address;
        change.scope.error(Problem::contradiction, *change.node.find_key("entry"),
                           "an 'entry' of a table of one value", "no 'entry'", "drop it");
        return std::nullopt;
    }
    entry = need(change.node, "entry", change.scope);
    if (entry == nullptr) return std::nullopt;
    if (!(entry->is_scalar() && table.kind == TableKind::lookup)) {
        if (!expect_map(*entry, change.scope)) return std::nullopt;
        std::vector<std::string_view> keys;
        if (!table.info.by.empty()) keys.emplace_back(table.info.by);
        if (!table.info.columns.empty()) keys.emplace_back(table.info.columns);
        if (!table.info.axis.empty()) keys.emplace_back("at");
        expect_keys(*entry, keys, change.scope);
    }
    const bool found = read_entry_word(change, *entry, table.info.by, address.row) &&
                       read_entry_word(change, *entry, table.info.columns, address.column) &&
                       read_entry_step(change, *entry, table, address);
    return found ? std::optional(address) : std::nullopt;
}

/// The new value; its place, source and basis are those of the change.
std::optional<RuleEntry> read_new_entry(const Change& change, const YamlNode& to,
                                        const TableDraft& table) {
    RuleEntry entry;
    if (!table.info.gives.empty()) {
        auto word = read_entry(to, table.info, change.draft.rules, change.provenance, change.scope);
        if (!word) return std::nullopt;
        entry = std::move(*word);
    } else {
        const auto number = read_with_unit(to, table.info.unit, table.info.dimension, change.scope);
        if (!number) return std::nullopt;
        if (!check_range(to, number->base, table.info, change.scope)) return std::nullopt;
        entry.printed = number->printed;
        entry.value = number->base;
    }
    entry.place = place_of(to);
    entry.source = change.provenance.source;
    entry.basis = change.provenance.basis.value_or(Basis::site);
    entry.reason = change.reason;
    return entry;
}

void change_entry(const Change& change, const YamlNode& to, TableDraft& table) {
    const auto address = read_address(change, table);
    if (!address) return;
    auto entry = read_new_entry(change, to, table);
    if (!entry) return;
    entry->key = cell_key(table, *address);
    const auto old = table.cells.find(*address);
    if (old != table.cells.end()) entry->replaced = entry_text(table.info, old->second);
    if (!record(change, to, what_of(table, entry->key), entry->replaced,
                entry_text(table.info, *entry))) {
        return;
    }
    table.cells.insert_or_assign(*address, std::move(*entry));
}

std::string summary(const TableDraft& table) {
    if (table.kind == TableKind::value && !table.cells.empty()) {
        return entry_text(table.info, table.cells.begin()->second);
    }
    return "a table of " + std::to_string(table.cells.size()) + " values at " +
           to_string(table.info.place);
}

void replace_table(const Change& change, const YamlNode& name, const YamlNode& node,
                   TableDraft& table) {
    auto fresh = read_table(name, node, change.draft.rules, Basis::site, change.scope.at("replace"),
                            &table.info);
    std::map<std::string, const RuleEntry*, std::less<>> old;
    for (const auto& [address, entry] : table.cells) old.emplace(entry.key, &entry);
    for (auto& [address, entry] : fresh.cells) {
        entry.reason = change.reason;
        const auto before = old.find(entry.key);
        if (before != old.end()) entry.replaced = entry_text(table.info, *before->second);
    }
    if (record(change, name, table.info.name, summary(table), summary(fresh))) {
        table = std::move(fresh);
    }
}

TableDraft* find_changed_table(const Change& change, const YamlNode& name) {
    const auto text = read_text(name, change.scope);
    if (!text) return nullptr;
    const auto at = change.draft.tables.find(*text);
    if (at != change.draft.tables.end()) return &at->second;
    std::vector<std::string_view> names;
    for (const auto& [known, table] : change.draft.tables) names.emplace_back(known);
    const auto hint = did_you_mean(*text, names);
    change.scope.error(Problem::missing_table, name, "the table '" + printable(*text) + "'",
                       "a table of the layers below",
                       hint.empty() ? "put a new table under 'tables'" : hint);
    return nullptr;
}

void change_table(const Change& change, const YamlNode& name) {
    auto* table = find_changed_table(change, name);
    if (table == nullptr) return;
    const auto* to = change.node.find("to");
    const auto* replace = change.node.find("replace");
    if (to != nullptr && replace != nullptr) {
        change.scope.error(Problem::contradiction, *change.node.find_key("replace"),
                           "both 'to' and 'replace'", "one of the two", "drop one");
        return;
    }
    if (replace != nullptr) {
        replace_table(change, name, *replace, *table);
        return;
    }
    to = need(change.node, "to", change.scope);
    if (to != nullptr && !table->broken) change_entry(change, *to, *table);
}

void change_default(const Change& change, const YamlNode& name) {
    const auto field = read_text(name, change.scope);
    const auto* to = need(change.node, "to", change.scope);
    if (!field || to == nullptr) return;
    const auto text = read_text(*to, change.scope);
    if (!text) return;
    auto& defaults = change.draft.rules.defaults;
    const auto at = defaults.find(*field);
    if (at == defaults.end()) {
        std::vector<std::string_view> names;
        for (const auto& [known, rule] : defaults) names.emplace_back(known);
        const bool a_field = find_field(segment_fields(), *field).has_value();
        change.scope.error(a_field ? Problem::missing_entry : Problem::unknown_key, name,
                           "no default of '" + printable(*field) + "'",
                           "a default of the layers below: " + listing(names),
                           a_field ? "put a new default under 'defaults'" : suggest(*field, names));
        return;
    }
    DefaultRule& rule = at->second;
    if (!record(change, *to, "default: " + *field, rule.text, *text)) return;
    rule.replaced = std::exchange(rule.text, *text);
    rule.reason = change.reason;
    rule.source = change.provenance.source;
    rule.basis = change.provenance.basis.value_or(Basis::site);
    rule.place = place_of(*to);
}

std::string summary(const Distribution& made) {
    return std::string(to_string(made.kind)) + " at " + to_string(made.info.place);
}

// What may stand in a cell hangs together, so a distribution is replaced as a whole.
void change_distribution(const Change& change, const YamlNode& name) {
    const auto text = read_text(name, change.scope);
    const auto* replace = need(change.node, "replace", change.scope);
    if (!text || replace == nullptr) return;
    auto& all = change.draft.rules.distributions;
    const auto at = all.find(*text);
    if (at == all.end()) {
        std::vector<std::string_view> names;
        for (const auto& [known, made] : all) names.emplace_back(known);
        const auto hint = did_you_mean(*text, names);
        change.scope.error(Problem::missing_table, name,
                           "the distribution '" + printable(*text) + "'",
                           "a distribution of the layers below",
                           hint.empty() ? "put a new one under 'distributions'" : hint);
        return;
    }
    const auto errors = change.scope.report.errors();
    Distribution fresh = read_distribution(name, *replace, change.draft.rules, Basis::site,
                                           change.scope.at("replace"));
    if (change.scope.report.errors() != errors) return;
    const Distribution& old = at->second;
    if (fresh.file != old.file || fresh.field != old.field || fresh.cell != old.cell) {
        change.scope.error(Problem::contradiction, *replace, "a distribution of other cells",
                           "one for the cells that '" + *text + "' stands for",
                           "put a distribution of other cells under 'distributions'");
        return;
    }
    fresh.info.name = *text;
    for (RuleEntry& entry : fresh.entries) {
        entry.reason = change.reason;
        const auto before = std::ranges::find(old.entries, entry.key, &RuleEntry::key);
        if (before != old.entries.end()) entry.replaced = entry_text(old.info, *before);
    }
    if (record(change, name, "distribution: " + *text, summary(old), summary(fresh))) {
        at->second = std::move(fresh);
    }
}

constexpr std::array<std::string_view, 3> subjects{"table", "default", "distribution"};

/// The key that says what is changed: `table`, `default` or `distribution`.
const YamlNode* subject_of(const YamlNode& node, std::string_view& subject, const Scope& scope) {
    const YamlNode* found = nullptr;
    for (const std::string_view key : subjects) {
        const auto* name = node.find(key);
        if (name == nullptr) continue;
        if (found != nullptr) {
            scope.error(Problem::contradiction, node,
                        "both '" + std::string(subject) + "' and '" + std::string(key) + "'",
                        "what is changed: one of " + listing(subjects), "drop one");
            return nullptr;
        }
        found = name;
        subject = key;
    }
    if (found == nullptr) {
        scope.error(Problem::missing_key, node, "neither of " + listing(subjects),
                    "what is changed: one of " + listing(subjects), "add table: NAME");
    }
    return found;
}

void read_change(const YamlNode& node, RuleDraft& draft, std::map<std::string, Place>& made_here,
                 const Scope& list_scope) {
    if (!expect_map(node, list_scope)) return;
    expect_keys(node, change_keys, list_scope);
    std::string_view subject;
    const auto* name = subject_of(node, subject, list_scope);
    const auto scope = name == nullptr ? list_scope : list_scope.at(name->text);
    Change change{node, draft, made_here, scope, {}, {}, {}};
    change.reason = need_text(node, "reason", scope, Problem::missing_reason).value_or("");
    change.who = text_or_empty(node, "who", scope);
    change.provenance.basis = Basis::site;
    change.provenance = read_provenance(node, draft.rules, change.provenance, scope);
    if (name == nullptr) return;
    if (subject == "table") {
        change_table(change, *name);
    } else if (subject == "default") {
        change_default(change, *name);
    } else {
        change_distribution(change, *name);
    }
}

}  // namespace

void read_changes(const YamlNode& list, RuleDraft& draft, std::map<std::string, Place>& made_here,
                  const Scope& scope) {
    if (!expect_list(list, scope)) return;
    for (const auto& item : list.items) read_change(item, draft, made_here, scope);
}

}  // namespace lagline
