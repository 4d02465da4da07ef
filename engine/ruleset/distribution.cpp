#include "ruleset/distribution.h"

#include <algorithm>
#include <array>
#include <utility>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "plant/field.h"
#include "ruleset/distribution_reader.h"
#include "ruleset/layer.h"
#include "ruleset/units.h"

namespace lagline {
namespace {

constexpr std::array<std::string_view, 3> cell_words{"missing", "imprecise", "measured"};
constexpr std::array<std::string_view, 6> kind_words{"point",   "shares", "points",
                                                     "between", "period", "normal"};
constexpr std::array<std::string_view, 2> file_words{"segments.csv", "inspections.csv"};

std::span<const FieldInfo> fields_of(DistributionFile file) {
    return file == DistributionFile::segments ? segment_fields() : inspection_fields();
}

std::vector<std::string_view> keys_of(DistributionKind kind) {
    std::vector<std::string_view> keys{"kind",   "file",   "column", "cell",    "meaning",
                                       "reason", "source", "basis",  "asked_by"};
    const auto add = [&keys](std::initializer_list<std::string_view> more) {
        keys.insert(keys.end(), more);
    };
    switch (kind) {
        case DistributionKind::point:
            add({"by", "shares"});
            break;
        case DistributionKind::period:
            break;
        case DistributionKind::shares:
            add({"by", "shares", "by_year_of", "bands"});
            break;
        case DistributionKind::points:
            add({"unit", "by", "points"});
            break;
        case DistributionKind::between:
            add({"from", "to"});
            break;
        case DistributionKind::normal:
            add({"unit", "by", "entries"});
            break;
    }
    return keys;
}

template <std::size_t Size>
std::optional<std::size_t> need_choice(const DistributionReading& r, std::string_view key,
                                       const std::array<std::string_view, Size>& words) {
    const auto* node = need(r.node, key, r.scope);
    return node == nullptr ? std::nullopt : read_choice(*node, words, r.scope);
}

bool read_column(DistributionReading& r) {
    if (const auto* file = r.node.find("file")) {
        const auto choice = read_choice(*file, file_words, r.scope);
        if (!choice) return false;
        r.made.file = static_cast<DistributionFile>(*choice);
    }
    const auto* column = need(r.node, "column", r.scope);
    const auto text = column == nullptr ? std::nullopt : read_text(*column, r.scope);
    if (!text) return false;
    const auto fields = fields_of(r.made.file);
    if (const auto field = find_field(fields, *text)) {
        r.made.field = *field;
        return true;
    }
    std::vector<std::string_view> names;
    for (const FieldInfo& field : fields) names.push_back(field.key);
    r.scope.error(Problem::unknown_key, *column, "'" + printable(*text) + "'",
                  "a column of " + std::string(file_words[static_cast<std::size_t>(r.made.file)]),
                  suggest(*text, names));
    return false;
}

/// Cells that cells of this kind can be, of a column that holds this.
bool fits(DistributionKind kind, DoubtfulCell cell, FieldKind field) {
    const bool word = field == FieldKind::word || field == FieldKind::flag;
    switch (kind) {
        case DistributionKind::point:
            return cell != DoubtfulCell::imprecise || field == FieldKind::date;
        case DistributionKind::shares:
            return cell == DoubtfulCell::missing && word;
        case DistributionKind::points:
            return cell == DoubtfulCell::missing && field == FieldKind::quantity;
        case DistributionKind::between:
            return cell == DoubtfulCell::missing && field == FieldKind::date;
        case DistributionKind::period:
            return cell == DoubtfulCell::imprecise && field == FieldKind::date;
        case DistributionKind::normal:
            return cell == DoubtfulCell::measured && field == FieldKind::quantity;
    }
    return false;
}

std::string_view needed_column(DistributionKind kind) {
    switch (kind) {
        case DistributionKind::point:
            return "any cell; imprecise is for a column of dates";
        case DistributionKind::shares:
            return "the missing cells of a column of words, or of yes and no";
        case DistributionKind::points:
            return "the missing cells of a column of numbers";
        case DistributionKind::between:
            return "the missing cells of a column of dates";
        case DistributionKind::period:
            return "the imprecise cells of a column of dates";
        case DistributionKind::normal:
            return "the measured cells of a column of numbers";
    }
    return "";
}

bool check_fit(const DistributionReading& r) {
    const FieldInfo& field = fields_of(r.made.file)[r.made.field];
    if (fits(r.made.kind, r.made.cell, field.kind)) return true;
    r.scope.error(Problem::contradiction, *r.node.find("kind"),
                  std::string(to_string(r.made.kind)) + " for " +
                      std::string(to_string(r.made.cell)) + " cells of " + std::string(field.key),
                  std::string(needed_column(r.made.kind)), "choose a kind that fits the column");
    return false;
}

void read_asked_by(DistributionReading& r) {
    const auto* asked = r.node.find("asked_by");
    if (asked == nullptr) return;
    const auto scope = r.scope.at("asked_by");
    if (!expect_map(*asked, scope)) return;
    if (asked->keys.size() != 1) {
        scope.error(Problem::yaml_shape, *asked, "not one column", "{COLUMN: [WORD, ...]}",
                    "name one column with the words that ask for this one");
        return;
    }
    const YamlNode& column = asked->keys.front();
    const auto field = find_field(segment_fields(), column.text);
    if (!field || segment_fields()[*field].words.empty()) {
        scope.error(Problem::unknown_key, column, "'" + printable(column.text) + "'",
                    "a column of words of segments.csv", "check the name of the column");
        return;
    }
    const auto words = r.known.vocabularies.find(segment_fields()[*field].words);
    const YamlNode& list = asked->items.front();
    if (words == r.known.vocabularies.end() || !expect_list(list, scope)) return;
    r.made.asked_by = *field;
    for (const YamlNode& item : list.items) {
        if (const auto code = read_word(item, words->second, scope)) {
            r.made.asked_words.push_back(*code);
        }
    }
}

void read_why(DistributionReading& r, const std::optional<Basis>& without_basis) {
    r.made.info.meaning = need_text(r.node, "meaning", r.scope).value_or("");
    r.made.reason = need_text(r.node, "reason", r.scope, Problem::missing_reason).value_or("");
    r.provenance.basis = without_basis;
    r.provenance = read_provenance(r.node, r.known, r.provenance, r.scope);
    if (!r.provenance.basis && r.node.find("basis") == nullptr) need(r.node, "basis", r.scope);
    r.made.info.source = r.provenance.source;
    r.made.info.basis = r.provenance.basis.value_or(Basis::site);
}

}  // namespace

std::string_view to_string(DoubtfulCell cell) { return cell_words[static_cast<std::size_t>(cell)]; }

std::string_view to_string(DistributionKind kind) {
    return kind_words[static_cast<std::size_t>(kind)];
}

std::optional<std::size_t> segment_field_of_words(std::string_view vocabulary) {
    for (std::size_t i = 0; i < segment_fields().size(); ++i) {
        if (segment_fields()[i].words == vocabulary) return i;
    }
    return std::nullopt;
}

Distribution read_distribution(const YamlNode& name, const YamlNode& node, const RuleSet& known,
                               const std::optional<Basis>& without_basis, const Scope& scope) {
    DistributionReading r{node, known, scope, {}, {}};
    r.made.info.name = name.text;
    r.made.info.unit = "-";
    r.made.info.place = place_of(name);
    if (!expect_map(node, scope)) return std::move(r.made);
    const auto kind = need_choice(r, "kind", kind_words);
    if (!kind) return std::move(r.made);
    r.made.kind = static_cast<DistributionKind>(*kind);
    expect_keys(node, keys_of(r.made.kind), scope);
    read_why(r, without_basis);
    const bool column = read_column(r);
    const auto cell = need_choice(r, "cell", cell_words);
    if (cell) r.made.cell = static_cast<DoubtfulCell>(*cell);
    read_asked_by(r);
    if (column && cell && check_fit(r)) read_distribution_values(r);
    return std::move(r.made);
}

const Distribution* same_cells(const RuleSet& rules, const Distribution& made) {
    const auto same = [&made](const Distribution& other) {
        return other.info.name != made.info.name && other.file == made.file &&
               other.field == made.field && other.cell == made.cell;
    };
    for (const auto& [name, other] : rules.distributions) {
        if (same(other)) return &other;
    }
    return nullptr;
}

void read_distributions(const YamlNode& map, RuleSet& rules, const Scope& scope) {
    if (!expect_map(map, scope)) return;
    for (std::size_t i = 0; i < map.keys.size(); ++i) {
        const YamlNode& key = map.keys[i];
        if (!key.is_scalar()) continue;
        const auto inner = scope.at(key.text);
        const auto at = rules.distributions.find(key.text);
        if (at != rules.distributions.end()) {
            // Two of one file are reported as doubled keys.
            if (at->second.info.place.file == key.file->name) continue;
            report_twice(key, "the distribution '" + printable(key.text) + "'",
                         at->second.info.place,
                         "change it under 'changes': {distribution: " + printable(key.text) +
                             ", replace: {...}, reason: ...}",
                         inner);
            continue;
        }
        const auto errors = scope.report.errors();
        Distribution made = read_distribution(key, map.items[i], rules, std::nullopt, inner);
        const Distribution* other =
            scope.report.errors() == errors ? same_cells(rules, made) : nullptr;
        if (other != nullptr) {
            inner.error(Problem::duplicate_key, key,
                        "a second distribution of these cells, after '" + other->info.name + "'",
                        "one for the " + std::string(to_string(made.cell)) + " cells of a column",
                        "drop one, or change the other under 'changes'");
        }
        rules.distributions.emplace(key.text, std::move(made));
    }
}

}  // namespace lagline
