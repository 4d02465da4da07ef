#include <algorithm>
#include <array>
#include <limits>
#include <utility>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "ruleset/table_head.h"
#include "ruleset/units.h"

namespace lagline {
namespace {

using Keys = std::span<const std::string_view>;

constexpr double infinity = std::numeric_limits<double>::infinity();

constexpr std::array<std::string_view, 3> provenance_keys{"source", "basis", "note"};
constexpr std::array<std::string_view, 1> point_keys{"at"};
constexpr std::array<std::string_view, 3> end_keys{"upto", "below", "above"};

bool holds(Keys keys, std::string_view key) { return std::ranges::find(keys, key) != keys.end(); }

/// The values of one map: its keys are the words of `words`, or `is` where there are none.
struct Row {
    const YamlNode& node;
    const Vocabulary* words;
    Keys own_keys;  ///< keys of the map that are no words
    Scope scope;
};

void report_unknown(const Row& row, const YamlNode& key) {
    const auto words = row.words->keys();
    auto hint = did_you_mean(key.text, row.own_keys);
    if (hint.empty()) hint = suggest(key.text, words);
    row.scope.error(Problem::unknown_word, key, "'" + printable(key.text) + "'",
                    "a word of " + row.words->name + ": " + listing(words), std::move(hint));
}

void report_missing(const Row& row) {
    std::vector<std::string_view> missing;
    for (const auto& word : row.words->words) {
        if (row.node.find_key(word.key) == nullptr) missing.emplace_back(word.key);
    }
    if (missing.empty()) return;
    row.scope.error(Problem::missing_entry, row.node,
                    "no value for " + listing(missing, missing.size()),
                    "every word of " + row.words->name + " exactly once",
                    "add " + std::string(missing.front()) + ": ...");
}

void read_single(const Row& row, const TableReading& r, TableDraft& draft, CellAddress address,
                 const Provenance& provenance) {
    std::vector<std::string_view> allowed(row.own_keys.begin(), row.own_keys.end());
    allowed.insert(allowed.end(), provenance_keys.begin(), provenance_keys.end());
    allowed.emplace_back("is");
    expect_keys(row.node, allowed, row.scope);
    const auto* value = need(row.node, "is", row.scope);
    if (value == nullptr) return;
    auto entry = read_entry(*value, r.draft.info, r.known, provenance, row.scope);
    if (entry) draft.cells.emplace(std::move(address), std::move(*entry));
}

/// Reads a row into cells; `address_of(word)` says where each belongs.
template <class AddressOf>
void read_row(const Row& row, TableReading& r, AddressOf address_of) {
    const auto provenance = read_provenance(row.node, r.known, r.provenance, row.scope);
    if (row.words == nullptr) {
        read_single(row, r, r.draft, address_of(std::string()), provenance);
        return;
    }
    for (std::size_t i = 0; i < row.node.keys.size(); ++i) {
        const auto& key = row.node.keys[i];
        if (!key.is_scalar() || holds(row.own_keys, key.text) || holds(provenance_keys, key.text)) {
            continue;
        }
        if (!row.words->code(key.text)) {
            report_unknown(row, key);
            continue;
        }
        auto entry = read_entry(row.node.items[i], r.draft.info, r.known, provenance,
                                row.scope.at(key.text));
        if (entry) r.draft.cells.emplace(address_of(key.text), std::move(*entry));
    }
    report_missing(row);
}

void read_value(TableReading& r) {
    const auto* value = need(r.node, "value", r.scope);
    if (value == nullptr) return;
    auto entry = read_entry(*value, r.draft.info, r.known, r.provenance, r.scope);
    if (entry) r.draft.cells.emplace(CellAddress{}, std::move(*entry));
}

void read_lookup(TableReading& r) {
    const auto* entries = need(r.node, "entries", r.scope);
    if (entries == nullptr || !expect_map(*entries, r.scope)) return;
    read_row({*entries, r.by, {}, r.scope}, r, [](const std::string& word) {
        return CellAddress{word, 0, {}};
    });
}

void read_grid(TableReading& r) {
    const auto* rows = need(r.node, "rows", r.scope);
    if (rows == nullptr || !expect_map(*rows, r.scope)) return;
    for (std::size_t i = 0; i < rows->keys.size(); ++i) {
        const auto& key = rows->keys[i];
        if (!key.is_scalar()) continue;
        if (!r.by->code(key.text)) {
            report_unknown({*rows, r.by, {}, r.scope}, key);
            continue;
        }
        const auto scope = r.scope.at(key.text);
        if (!expect_map(rows->items[i], scope)) continue;
        read_row({rows->items[i], r.columns, {}, scope}, r, [&key](const std::string& word) {
            return CellAddress{key.text, 0, word};
        });
    }
    report_missing({*rows, r.by, {}, r.scope});
}

std::optional<TableNumber> read_axis_number(const YamlNode& node, const TableReading& r,
                                            const Scope& scope) {
    return read_in_unit(node, r.draft.info.axis_unit, r.draft.info.axis_dimension, scope);
}

void check_ascending(const YamlNode& node, double at, TableReading& r, const Scope& scope) {
    const auto& points = r.draft.points;
    if (points.empty() || at > points.back()) return;
    const bool doubled = at == points.back();
    scope.error(Problem::unsorted_points, node,
                (doubled ? "a second point at " : "a point at ") + printable(node.text) +
                    (doubled ? "" : " after one at " + r.draft.point_labels.back()),
                "points in ascending order, each once",
                doubled ? "drop one of the two" : "sort the points");
}

void read_point(const YamlNode& node, TableReading& r) {
    if (!expect_map(node, r.scope)) return;
    const auto* at = need(node, "at", r.scope);
    const auto number = at == nullptr ? std::nullopt : read_axis_number(*at, r, r.scope);
    std::string label = "?";
    // A point without a readable place lies where the one before does: no further complaint.
    double base = r.draft.points.empty() ? -infinity : r.draft.points.back();
    if (number) {
        label = quantity_text(number->printed, r.draft.info.axis_unit);
        base = number->base;
    }
    const auto scope = r.scope.at(label);
    if (number) check_ascending(*at, base, r, scope);
    const auto step = static_cast<std::uint32_t>(r.draft.points.size());
    r.draft.points.push_back(base);
    r.draft.point_labels.push_back(label);
    read_row({node, r.by, point_keys, scope}, r, [step](const std::string& word) {
        return CellAddress{word, step, {}};
    });
}

void read_points(TableReading& r) {
    const auto* points = need(r.node, "points", r.scope);
    if (points == nullptr || !expect_list(*points, r.scope)) return;
    for (const auto& point : points->items) read_point(point, r);
    if (points->items.size() >= 2) return;
    r.scope.error(Problem::missing_entry, *points, std::to_string(points->items.size()) + " points",
                  "two points or more", "a single number is a table of kind value");
}

/// The end of a band: exactly one of upto, below, above.
const YamlNode* end_of(const YamlNode& node, std::string_view& which, const Scope& scope) {
    const YamlNode* end = nullptr;
    for (const auto key : end_keys) {
        const auto* candidate = node.find(key);
        if (candidate == nullptr) continue;
        if (end != nullptr) {
            scope.error(Problem::contradiction, *node.find_key(key),
                        "both '" + std::string(which) + "' and '" + std::string(key) + "'",
                        "one end a band", "drop one of the two");
            return nullptr;
        }
        end = candidate;
        which = key;
    }
    if (end == nullptr) {
        scope.error(Problem::missing_key, node, "a band without an end",
                    "upto (end included), below (end excluded) or above: true (last band)",
                    "add upto: ...");
    }
    return end;
}

std::string open_label(const std::vector<BandDraft>& before) {
    if (before.empty()) return "everywhere";
    return (before.back().inclusive ? "above " : "from ") + before.back().end;
}

std::optional<BandDraft> read_end(const YamlNode& node, const std::vector<BandDraft>& before,
                                  const TableReading& r, const Scope& scope) {
    std::string_view which;
    const auto* end = end_of(node, which, scope);
    if (end == nullptr) return std::nullopt;
    if (which == "above") {
        if (!end->is_scalar() || end->text != "true") {
            scope.error(Problem::yaml_shape, *end, "'above' with something other than true",
                        "above: true, for the last band", "write above: true, or upto: ...");
        }
        return BandDraft{infinity, true, true, open_label(before), {}};
    }
    const auto number = read_axis_number(*end, r, scope);
    if (!number) return std::nullopt;
    const bool inclusive = which == "upto";
    auto text = quantity_text(number->printed, r.draft.info.axis_unit);
    return BandDraft{number->base, inclusive, false, (inclusive ? "up to " : "below ") + text,
                     text};
}

/// True when `band` reaches further than `last`.  `below: 5` then `upto: 5` is a band of one point.
bool reaches_further(const BandDraft& band, const BandDraft& last) {
    if (last.open) return false;
    return band.to > last.to || (band.to == last.to && band.inclusive && !last.inclusive);
}

void check_further(const YamlNode& node, const BandDraft& band,
                   const std::vector<BandDraft>& before, const Scope& scope) {
    if (before.empty() || reaches_further(band, before.back())) return;
    scope.error(Problem::band_overlap, node,
                "the band '" + band.label + "' after the band '" + before.back().label + "'",
                "bands in ascending order, each reaching further than the one before",
                "sort the bands, and drop what lies inside an earlier one");
}

void read_band(const YamlNode& node, const std::string& word, TableReading& r, const Scope& scope) {
    if (!expect_map(node, scope)) return;
    auto& list = r.draft.lists[word];
    auto band = read_end(node, list, r, scope);
    const auto inner = band ? scope.at(band->label) : scope;
    if (band) check_further(node, *band, list, inner);
    const auto step = static_cast<std::uint32_t>(list.size());
    // A band without a readable end ends where the one before does: no further complaint about it.
    if (!band) band = list.empty() ? BandDraft{-infinity, false, false, "?", "?"} : list.back();
    list.push_back(std::move(*band));
    read_row({node, r.columns, end_keys, inner}, r, [&word, step](const std::string& column) {
        return CellAddress{word, step, column};
    });
}

void read_band_list(const YamlNode& node, const std::string& word, TableReading& r,
                    const Scope& scope) {
    if (!expect_list(node, scope)) return;
    for (const auto& band : node.items) read_band(band, word, r, scope);
    if (!node.items.empty()) return;
    scope.error(Problem::missing_entry, node, "no bands", "one band or more",
                "add {upto: ..., is: ...}");
}

void read_bands(TableReading& r) {
    const auto* bands = need(r.node, "bands", r.scope);
    if (bands == nullptr) return;
    if (r.by == nullptr) {
        read_band_list(*bands, "", r, r.scope);
        return;
    }
    if (!expect_map(*bands, r.scope)) return;
    for (std::size_t i = 0; i < bands->keys.size(); ++i) {
        const auto& key = bands->keys[i];
        if (!key.is_scalar()) continue;
        if (r.by->code(key.text)) {
            read_band_list(bands->items[i], key.text, r, r.scope.at(key.text));
        } else {
            report_unknown({*bands, r.by, {}, r.scope}, key);
        }
    }
    report_missing({*bands, r.by, {}, r.scope});
}

/// Range of the axis that the points or bands cover.
struct Covered {
    std::optional<double> from;
    std::optional<double> to;  ///< the furthest of all lists
};

Covered covered_by(const TableDraft& draft) {
    Covered covered;
    if (draft.kind == TableKind::curves) {
        if (draft.points.empty()) return covered;
        return {draft.points.front(), draft.points.back()};
    }
    for (const auto& [word, list] : draft.lists) {
        if (list.empty()) continue;
        if (list.back().open) return {};  // each list knows its own end as well
        covered.to = std::max(covered.to.value_or(list.back().to), list.back().to);
    }
    return covered;
}

bool list_reaches(const std::vector<BandDraft>& list, const std::optional<double>& to) {
    if (list.empty() || list.back().open) return true;
    const auto& last = list.back();
    return to && (*to < last.to || (*to == last.to && last.inclusive));
}

void report_gap(const YamlNode& node, const std::string& where, const char* what,
                const Scope& scope) {
    scope.error(Problem::band_gap, node, "a valid range that reaches beyond " + where,
                std::string("a range that the ") + what + " cover",
                std::string("narrow 'valid', or add ") + what);
}

void check_cover(const YamlNode& valid, TableReading& r, const Scope& scope) {
    const auto& info = r.draft.info;
    if (r.draft.kind == TableKind::curves) {
        const auto& points = r.draft.points;
        if (points.empty()) return;
        if (!info.valid_from || *info.valid_from < points.front()) {
            report_gap(valid.items[0], r.draft.point_labels.front(), "points", scope);
        }
        if (!info.valid_to || *info.valid_to > points.back()) {
            report_gap(valid.items[1], r.draft.point_labels.back(), "points", scope);
        }
        return;
    }
    for (const auto& [word, list] : r.draft.lists) {
        if (list_reaches(list, info.valid_to)) continue;
        const auto prefix = word.empty() ? std::string() : word + ", ";
        report_gap(valid.items[1], "the band " + prefix + list.back().label, "bands", scope);
    }
}

/// One end of the range; `~` leaves it open.  False when it could not be read.
bool read_limit(const YamlNode& node, std::optional<double>& limit, const TableReading& r,
                const Scope& scope) {
    if (node.kind == YamlNode::Kind::nothing) return true;
    const auto number = read_axis_number(node, r, scope);
    if (number) limit = number->base;
    return number.has_value();
}

void read_valid(TableReading& r) {
    auto& info = r.draft.info;
    const auto covered = covered_by(r.draft);
    const auto* valid = r.node.find("valid");
    if (valid == nullptr) {
        info.valid_from = covered.from;
        info.valid_to = covered.to;
        return;
    }
    const auto scope = r.scope.at("valid");
    if (!valid->is_list() || valid->items.size() != 2) {
        scope.error(Problem::yaml_shape, *valid, "something other than two ends", "[from, to]",
                    "write valid: [from, to]; ~ leaves an end open");
        return;
    }
    const bool from = read_limit(valid->items[0], info.valid_from, r, scope);
    const bool to = read_limit(valid->items[1], info.valid_to, r, scope);
    if (!from || !to) return;
    if (info.valid_from && info.valid_to && *info.valid_from >= *info.valid_to) {
        scope.error(Problem::out_of_range, *valid, "a range whose end is not above its start",
                    "[from, to] with from below to", "swap the two");
        return;
    }
    check_cover(*valid, r, scope);
}

}  // namespace

void read_body(TableReading& reading) {
    switch (reading.draft.kind) {
        case TableKind::value:
            read_value(reading);
            break;
        case TableKind::lookup:
            read_lookup(reading);
            break;
        case TableKind::grid:
            read_grid(reading);
            break;
        case TableKind::curves:
            read_points(reading);
            read_valid(reading);
            break;
        case TableKind::bands:
            read_bands(reading);
            read_valid(reading);
            break;
    }
}

}  // namespace lagline
