#include "ruleset/ruleset.h"

#include <algorithm>
#include <stdexcept>

namespace lagline {
namespace {

template <class Map>
const auto& found_in(const Map& map, std::string_view name, const char* kind) {
    const auto at = map.find(name);
    if (at == map.end()) {
        throw std::out_of_range("the rule set has no " + std::string(kind) + " '" +
                                std::string(name) + "'");
    }
    return at->second;
}

template <class Tables>
void add_lines(const Tables& tables, std::vector<RuleLine>& lines) {
    for (const auto& [name, table] : tables) {
        for (const auto& entry : table.entries) lines.push_back({&table.info, &entry});
    }
}

}  // namespace

std::optional<std::uint8_t> Vocabulary::code(std::string_view key) const {
    const auto at = std::ranges::find_if(words, [key](const Word& w) { return w.key == key; });
    if (at == words.end()) return std::nullopt;
    return static_cast<std::uint8_t>(at - words.begin());
}

std::vector<std::string_view> Vocabulary::keys() const {
    std::vector<std::string_view> keys;
    keys.reserve(words.size());
    for (const auto& word : words) keys.emplace_back(word.key);
    return keys;
}

const Vocabulary& RuleSet::vocabulary(std::string_view wanted) const {
    return found_in(vocabularies, wanted, "vocabulary");
}
const ValueTable& RuleSet::value(std::string_view wanted) const {
    return found_in(values, wanted, "value");
}
const LookupTable& RuleSet::lookup(std::string_view wanted) const {
    return found_in(lookups, wanted, "lookup table");
}
const CurveTable& RuleSet::curve(std::string_view wanted) const {
    return found_in(curves, wanted, "table of curves");
}
const BandTable& RuleSet::band(std::string_view wanted) const {
    return found_in(bands, wanted, "table of bands");
}
const GridTable& RuleSet::grid(std::string_view wanted) const {
    return found_in(grids, wanted, "grid");
}

bool chooses(const RuleSet& rules, std::string_view name, std::string_view word) {
    const auto at = rules.values.find(name);
    return at != rules.values.end() && at->second.word() == word;
}

std::vector<RuleLine> all_entries(const RuleSet& rules) {
    std::vector<RuleLine> lines;
    add_lines(rules.values, lines);
    add_lines(rules.lookups, lines);
    add_lines(rules.curves, lines);
    add_lines(rules.bands, lines);
    add_lines(rules.grids, lines);
    for (const auto& [name, table] : rules.site_factors) {
        for (const auto& entry : table.entries) lines.push_back({&table.info, &entry});
        lines.push_back({&table.info, &table.otherwise});
    }
    for (const auto& [name, made] : rules.distributions) {
        for (const auto& entry : made.entries) lines.push_back({&made.info, &entry});
    }
    std::ranges::stable_sort(lines, {}, [](const RuleLine& line) { return line.table->name; });
    return lines;
}

}  // namespace lagline
