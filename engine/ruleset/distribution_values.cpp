#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "plant/field.h"
#include "ruleset/distribution_reader.h"
#include "ruleset/table_draft.h"
#include "ruleset/units.h"

namespace lagline {
namespace {

constexpr std::array<std::string_view, 3> end_keys{"upto", "below", "above"};
constexpr std::array<std::string_view, 2> point_keys{"at", "is"};
constexpr double share_tolerance = 1e-9;
constexpr double infinity = std::numeric_limits<double>::infinity();

std::optional<RuleEntry> read_number_entry(const YamlNode& node, const DistributionReading& r,
                                           const Scope& scope) {
    return read_entry(node, r.made.info, r.known, r.provenance, scope);
}

bool is_end_key(const std::string& key) {
    return std::ranges::find(end_keys, key) != end_keys.end();
}

// Shares of one map; words that are not there have none.
EntryRange read_share_map(const YamlNode& map, const std::string& label, DistributionReading& r,
                          const Scope& scope) {
    EntryRange range{r.made.entries.size(), 0};
    const auto words = r.known.vocabularies.find(r.made.column().words);
    if (words == r.known.vocabularies.end()) return range;
    double sum = 0.0;
    bool readable = true;
    for (std::size_t i = 0; i < map.keys.size(); ++i) {
        const YamlNode& key = map.keys[i];
        if (!key.is_scalar() || is_end_key(key.text)) continue;
        const auto code = read_word(key, words->second, scope);
        auto entry = read_number_entry(map.items[i], r, scope.at(key.text));
        readable = readable && code && entry;
        if (!code || !entry) continue;
        if (entry->value < 0.0) {
            scope.error(Problem::out_of_range, map.items[i], number_text(entry->printed),
                        "0 or more", "write a share between 0 and 1");
            readable = false;
        }
        sum += entry->value;
        entry->code = *code;
        entry->key = label.empty() ? key.text : label + ", " + key.text;
        r.made.entries.push_back(std::move(*entry));
    }
    range.count = r.made.entries.size() - range.first;
    if (readable && std::abs(sum - 1.0) > share_tolerance) {
        scope.error(Problem::out_of_range, map, "shares that sum to " + number_text(sum),
                    "shares that sum to 1", "correct one of them, or add the words left out");
    }
    return range;
}

/// The year in which a band ends (exclusive), and what people call the band.
struct YearEnd {
    double before_year = 0.0;
    std::string label;
};

std::optional<YearEnd> read_year_end(const YamlNode& node, const std::string& from,
                                     const Scope& scope) {
    const YamlNode* end = nullptr;
    std::string_view which;
    for (const auto key : end_keys) {
        if (node.find(key) == nullptr) continue;
        if (end != nullptr) {
            scope.error(Problem::contradiction, *node.find_key(key), "two ends of a band",
                        "one end a band", "drop one of the two");
            return std::nullopt;
        }
        end = node.find(key);
        which = key;
    }
    if (end == nullptr) {
        scope.error(Problem::missing_key, node, "a band without an end",
                    "upto: YEAR, below: YEAR, or above: true for the last band", "add below: ...");
        return std::nullopt;
    }
    if (which == "above") return YearEnd{infinity, from.empty() ? "any year" : "from " + from};
    const auto year = read_bare_number(*end, scope);
    if (!year) return std::nullopt;
    const double before = which == "upto" ? *year + 1.0 : *year;
    return YearEnd{before, "before " + number_text(before)};
}

void read_year_bands(const YamlNode& list, DistributionReading& r) {
    const auto scope = r.scope.at("bands");
    if (!expect_list(list, scope)) return;
    std::string from;
    for (const YamlNode& node : list.items) {
        if (!expect_map(node, scope)) continue;
        const auto end = read_year_end(node, from, scope);
        if (!end) continue;
        if (!r.made.bands.empty() && end->before_year <= r.made.bands.back().before_year) {
            scope.error(Problem::band_overlap, node, "the band '" + end->label + "'",
                        "bands in ascending order of the year", "sort the bands");
        }
        const EntryRange range = read_share_map(node, end->label, r, scope.at(end->label));
        r.made.bands.push_back({end->before_year, range});
        from = number_text(end->before_year);
    }
    if (!list.items.empty() &&
        (r.made.bands.empty() || r.made.bands.back().before_year < infinity)) {
        scope.error(Problem::band_gap, list, "no band for the latest years",
                    "a last band with above: true", "add {above: true, WORD: SHARE, ...}");
    }
    if (list.items.empty()) {
        scope.error(Problem::missing_entry, list, "no bands", "one band or more",
                    "add {above: true, WORD: SHARE, ...}");
    }
}

// A date column of segments.csv.
std::optional<std::size_t> read_date_column(const YamlNode& node, const Scope& scope) {
    const auto text = read_text(node, scope);
    if (!text) return std::nullopt;
    const auto field = find_field(segment_fields(), *text);
    if (field && segment_fields()[*field].kind == FieldKind::date) return field;
    std::vector<std::string_view> names;
    for (const FieldInfo& each : segment_fields()) {
        if (each.kind == FieldKind::date) names.push_back(each.key);
    }
    scope.error(Problem::unknown_key, node, "'" + printable(*text) + "'",
                "a date column of segments.csv", suggest(*text, names));
    return std::nullopt;
}

const Vocabulary* read_by(DistributionReading& r) {
    const auto* by = r.node.find("by");
    const auto text = by == nullptr ? std::nullopt : read_text(*by, r.scope);
    if (!text) return nullptr;
    const auto words = r.known.vocabularies.find(*text);
    const auto fields =
        r.made.file == DistributionFile::segments ? segment_fields() : inspection_fields();
    const bool a_column =
        std::ranges::any_of(fields, [&](const FieldInfo& field) { return field.words == *text; });
    if (words != r.known.vocabularies.end() && a_column) {
        r.made.info.by = *text;
        return &words->second;
    }
    r.scope.error(Problem::unknown_word, *by, "'" + printable(*text) + "'",
                  "a vocabulary that a column of the same file holds", "name one such vocabulary");
    return nullptr;
}

// Every word of the vocabulary, in its order.
template <class Read>
void for_each_word(const YamlNode& map, const Vocabulary& words, const Scope& scope, Read read) {
    if (!expect_map(map, scope)) return;
    for (const YamlNode& key : map.keys) {
        if (key.is_scalar()) read_word(key, words, scope);
    }
    for (std::size_t code = 0; code < words.words.size(); ++code) {
        const std::string& word = words.words[code].key;
        const auto* node = map.find(word);
        if (node == nullptr) {
            scope.error(Problem::missing_entry, map, "nothing for " + word,
                        "every word of " + words.name, "add " + word + ": ...");
            continue;
        }
        read(*node, word, static_cast<std::uint8_t>(code));
    }
}

// One map of shares, or one for each word of `by`.
void read_plain_shares(const YamlNode& shares, DistributionReading& r) {
    const auto scope = r.scope.at("shares");
    const Vocabulary* words = read_by(r);
    if (!expect_map(shares, scope)) return;
    if (r.node.find("by") == nullptr) {
        r.made.bands.push_back({infinity, read_share_map(shares, "", r, scope)});
    } else if (words != nullptr) {
        for_each_word(shares, *words, scope,
                      [&](const YamlNode& map, const std::string& word, std::uint8_t) {
                          const auto inner = scope.at(word);
                          if (!expect_map(map, inner)) return;
                          r.made.lists.push_back(read_share_map(map, word, r, inner));
                      });
    }
}

void read_shares(DistributionReading& r) {
    const auto* shares = r.node.find("shares");
    const auto* bands = r.node.find("bands");
    if ((shares == nullptr) == (bands == nullptr)) {
        const bool both = shares != nullptr;
        r.scope.error(both ? Problem::contradiction : Problem::missing_key, r.node,
                      both ? "both 'shares' and 'bands'" : "neither 'shares' nor 'bands'",
                      "shares: {WORD: SHARE, ...}, or by_year_of and bands",
                      both ? "drop one of the two" : "add shares: ...");
        return;
    }
    if (shares != nullptr) {
        read_plain_shares(*shares, r);
        return;
    }
    const auto* years = need(r.node, "by_year_of", r.scope);
    if (years != nullptr && expect_list(*years, r.scope)) {
        for (const YamlNode& item : years->items) {
            if (const auto field = read_date_column(item, r.scope.at("by_year_of"))) {
                r.made.year_of.push_back(*field);
            }
        }
    }
    read_year_bands(*bands, r);
}

// The unit has to measure what the column does.
bool read_unit_of_column(DistributionReading& r) {
    const auto* unit = need(r.node, "unit", r.scope, Problem::missing_unit);
    if (unit == nullptr) return false;
    const auto read = read_unit(*unit, r.made.column().dimension, r.scope);
    if (!read) return false;
    r.made.info.unit = read->symbol;
    r.made.info.dimension = read->dimension;
    return true;
}

void check_inside(const YamlNode& node, const RuleEntry& entry, const DistributionReading& r,
                  const Scope& scope) {
    const FieldInfo& field = r.made.column();
    const auto stored = parse_unit(field.unit.empty() ? "-" : field.unit, field.dimension);
    if (!stored || field.dimension == Dimension::money) return;
    const double value = convert(entry.value, base_unit(field.dimension), *stored);
    if (value >= field.least && value <= field.most) return;
    scope.error(
        Problem::out_of_range, node, quantity_text(entry.printed, r.made.info.unit),
        "between " + number_text(field.least) + " and " + quantity_text(field.most, field.unit),
        "write a value that the column can hold");
}

void read_one_point(const YamlNode& node, const std::string& word, std::size_t first,
                    DistributionReading& r, const Scope& scope) {
    if (!expect_map(node, scope)) return;
    expect_keys(node, point_keys, scope);
    const auto* at = need(node, "at", scope);
    const auto* is = need(node, "is", scope);
    if (at == nullptr || is == nullptr) return;
    const auto probability = read_bare_number(*at, scope);
    auto entry = read_number_entry(*is, r, scope);
    if (!probability || !entry) return;
    check_inside(*is, *entry, r, scope);
    const auto& entries = r.made.entries;
    const bool follows = entries.size() > first;
    if (follows &&
        (*probability <= r.made.probabilities.back() || entry->value < entries.back().value)) {
        scope.error(Problem::unsorted_points, node, "a point that does not ascend",
                    "probabilities that rise and values that do not fall", "sort the points");
    }
    if (!follows && *probability != 0.0) {
        scope.error(Problem::band_gap, *at, "a first point at " + number_text(*probability),
                    "points from probability 0 to 1", "begin with {at: 0, is: LEAST}");
    }
    entry->key = (word.empty() ? "" : word + ", ") + "at " + number_text(*probability);
    r.made.entries.push_back(std::move(*entry));
    r.made.probabilities.push_back(*probability);
}

EntryRange read_point_list(const YamlNode& list, const std::string& word, DistributionReading& r,
                           const Scope& scope) {
    EntryRange range{r.made.entries.size(), 0};
    if (!expect_list(list, scope)) return range;
    for (const YamlNode& node : list.items) read_one_point(node, word, range.first, r, scope);
    range.count = r.made.entries.size() - range.first;
    if (list.items.size() < 2) {
        scope.error(Problem::missing_entry, list, std::to_string(list.items.size()) + " points",
                    "two points or more", "begin at probability 0 and end at 1");
    } else if (range.count == list.items.size() && r.made.probabilities.back() != 1.0) {
        scope.error(Problem::band_gap, list.items.back(),
                    "a last point at " + number_text(r.made.probabilities.back()),
                    "points from probability 0 to 1", "end with {at: 1, is: MOST}");
    }
    return range;
}

void read_points(DistributionReading& r) {
    const auto* points = need(r.node, "points", r.scope);
    const bool unit = read_unit_of_column(r);
    const bool by_words = r.node.find("by") != nullptr;
    const Vocabulary* words = read_by(r);
    if (points == nullptr || !unit || (by_words && words == nullptr)) return;
    const auto scope = r.scope.at("points");
    if (words == nullptr) {
        r.made.lists.push_back(read_point_list(*points, "", r, scope));
        return;
    }
    for_each_word(*points, *words, scope,
                  [&](const YamlNode& list, const std::string& word, std::uint8_t) {
                      r.made.lists.push_back(read_point_list(list, word, r, scope.at(word)));
                  });
}

void read_normal(DistributionReading& r) {
    const auto* entries = need(r.node, "entries", r.scope);
    const bool unit = read_unit_of_column(r);
    if (need(r.node, "by", r.scope) == nullptr || entries == nullptr || !unit) return;
    const Vocabulary* words = read_by(r);
    if (words == nullptr) return;
    const auto scope = r.scope.at("entries");
    for_each_word(*entries, *words, scope,
                  [&](const YamlNode& node, const std::string& word, std::uint8_t code) {
                      auto entry = read_number_entry(node, r, scope.at(word));
                      if (!entry) return;
                      if (entry->value < 0.0) {
                          scope.error(Problem::out_of_range, node, number_text(entry->printed),
                                      "0 or more", "write a standard deviation");
                      }
                      entry->code = code;
                      entry->key = word;
                      r.made.entries.push_back(std::move(*entry));
                  });
}

void read_between(DistributionReading& r) {
    const auto* from = need(r.node, "from", r.scope);
    const auto* to = need(r.node, "to", r.scope);
    if (from != nullptr) r.made.from = read_date_column(*from, r.scope).value_or(0);
    if (to != nullptr) r.made.to = read_date_column(*to, r.scope).value_or(0);
}

// Kinds without numbers have one line in lists of the rules, which says what they do.
void add_word_entry(DistributionReading& r, std::string word) {
    RuleEntry entry;
    entry.word = std::move(word);
    entry.place = r.made.info.place;
    entry.source = r.made.info.source;
    entry.basis = r.made.info.basis;
    r.made.entries.push_back(std::move(entry));
}

}  // namespace

void read_distribution_values(DistributionReading& reading) {
    switch (reading.made.kind) {
        case DistributionKind::point:
            add_word_entry(reading, "what is taken");
            if (reading.node.find("shares") != nullptr) read_shares(reading);
            break;
        case DistributionKind::shares:
            read_shares(reading);
            break;
        case DistributionKind::points:
            read_points(reading);
            break;
        case DistributionKind::between:
            read_between(reading);
            add_word_entry(reading, std::string(segment_fields()[reading.made.from].key) + " to " +
                                        std::string(segment_fields()[reading.made.to].key));
            break;
        case DistributionKind::period:
            add_word_entry(reading, "any day of the year or month given");
            break;
        case DistributionKind::normal:
            read_normal(reading);
            break;
    }
}

void check_distributions(const RuleSet& rules, Report& report) {
    for (const RuleLine& line : all_entries(rules)) {
        const auto same = rules.distributions.find(line.table->name);
        if (same == rules.distributions.end() || line.table == &same->second.info) continue;
        Diagnostic diagnostic;
        diagnostic.problem = Problem::duplicate_key;
        diagnostic.where = same->second.info.place;
        diagnostic.subject = rules.name + " -> " + same->first;
        diagnostic.found = "the name of a table, at " + to_string(line.table->place);
        diagnostic.expected = "a name of its own";
        diagnostic.mend = "rename the distribution";
        report.add(std::move(diagnostic));
        break;
    }
    for (const auto& [name, made] : rules.distributions) {
        if (made.info.by.empty()) continue;
        const auto& words = rules.vocabulary(made.info.by).words;
        const std::size_t known =
            made.kind == DistributionKind::normal ? made.entries.size() : made.lists.size();
        for (std::size_t code = known; code < words.size(); ++code) {
            report.add({.problem = Problem::missing_entry,
                        .where = words[code].place,
                        .subject = rules.name + " -> " + name,
                        .found = "nothing for " + words[code].key,
                        .expected = "an entry for every word, also for words that an overlay adds",
                        .mend = "replace the distribution under 'changes'",
                        .excerpt = {}});
        }
    }
}

}  // namespace lagline
