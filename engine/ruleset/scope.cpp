#include "ruleset/scope.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>
#include <vector>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"

namespace lagline {
namespace {

constexpr std::array<std::string_view, 4> basis_words{"published", "recalled", "common-practice",
                                                      "site"};
constexpr std::array<std::string_view, 2> source_keys{"id", "where"};

void add(const Scope& scope, Severity severity, Problem problem, const YamlNode& node,
         std::string found, std::string expected, std::string mend) {
    Diagnostic diagnostic;
    diagnostic.severity = severity;
    diagnostic.problem = problem;
    diagnostic.where = place_of(node);
    diagnostic.subject = scope.chain;
    diagnostic.found = std::move(found);
    diagnostic.expected = std::move(expected);
    diagnostic.mend = std::move(mend);
    if (!scope.report.full()) diagnostic.excerpt = excerpt_of(node);
    scope.report.add(std::move(diagnostic));
}

std::string kind_of(const YamlNode& node) {
    switch (node.kind) {
        case YamlNode::Kind::nothing:
            return "nothing";
        case YamlNode::Kind::scalar:
            return "the value '" + printable(node.text) + "'";
        case YamlNode::Kind::list:
            return "a list";
        case YamlNode::Kind::map:
            return "a map";
    }
    return {};
}

void wrong_kind(const YamlNode& node, const char* expected, const char* mend, const Scope& scope) {
    scope.error(Problem::yaml_shape, node, kind_of(node), expected, mend);
}

std::string number_mend(const YamlNode& node, NumberFault fault) {
    if (fault == NumberFault::comma_decimal) return "write a decimal point, without commas";
    if (!read_quantity(node.text).unit.empty()) {
        return "write the number alone; the table's unit stands under 'unit'";
    }
    return "write a number such as 12.5 or 3e-5";
}

SourceRef read_source(const YamlNode& node, const RuleSet& known, const Scope& scope) {
    SourceRef ref;
    if (!expect_map(node, scope)) return ref;
    expect_keys(node, source_keys, scope);
    ref.id = need_text(node, "id", scope).value_or("");
    ref.where = need_text(node, "where", scope).value_or("");
    if (ref.id.empty() || known.sources.contains(ref.id)) return ref;
    std::vector<std::string_view> ids;
    for (const auto& [id, source] : known.sources) ids.emplace_back(id);
    const auto hint = did_you_mean(ref.id, ids);
    scope.error(Problem::dangling_source, *node.find("id"),
                "the source '" + printable(ref.id) + "'", "an id listed under 'sources'",
                hint.empty() ? "add the document under 'sources'" : hint);
    return ref;
}

}  // namespace

Scope Scope::at(std::string_view step) const { return {report, chain + " -> " + printable(step)}; }

void Scope::error(Problem problem, const YamlNode& node, std::string found, std::string expected,
                  std::string mend) const {
    add(*this, Severity::error, problem, node, std::move(found), std::move(expected),
        std::move(mend));
}

void Scope::warning(Problem problem, const YamlNode& node, std::string found, std::string expected,
                    std::string mend) const {
    add(*this, Severity::warning, problem, node, std::move(found), std::move(expected),
        std::move(mend));
}

bool expect_map(const YamlNode& node, const Scope& scope) {
    if (node.is_map()) return true;
    wrong_kind(node, "a map of keys and values", "write key: value lines here", scope);
    return false;
}

bool expect_list(const YamlNode& node, const Scope& scope) {
    if (node.is_list()) return true;
    wrong_kind(node, "a list", "start each item with '- ', or use [ ]", scope);
    return false;
}

std::string suggest(std::string_view word, std::span<const std::string_view> candidates) {
    auto hint = did_you_mean(word, candidates);
    if (!hint.empty() || candidates.empty()) return hint;
    return "use " + listing(candidates);
}

void expect_keys(const YamlNode& map, std::span<const std::string_view> allowed,
                 const Scope& scope) {
    for (const auto& key : map.keys) {
        if (!key.is_scalar() || std::ranges::find(allowed, key.text) != allowed.end()) continue;
        scope.error(Problem::unknown_key, key, "the key '" + printable(key.text) + "'",
                    listing(allowed, allowed.size()), suggest(key.text, allowed));
    }
}

const YamlNode* need(const YamlNode& map, std::string_view key, const Scope& scope,
                     Problem problem) {
    const auto* value = map.find(key);
    const auto* at = map.find_key(key);
    if (value != nullptr && value->kind != YamlNode::Kind::nothing) return value;
    const std::string name(key);
    scope.error(problem, at == nullptr ? map : *at,
                at == nullptr ? "no '" + name + "'" : "an empty '" + name + "'",
                "the key '" + name + "' with a value", "add " + name + ": ...");
    return nullptr;
}

std::optional<std::string> read_text(const YamlNode& node, const Scope& scope) {
    if (!node.is_scalar()) {
        wrong_kind(node, "a single value", "write one value; put text with : or # in quotes",
                   scope);
        return std::nullopt;
    }
    const auto text = trimmed(node.text);
    if (!text.empty()) return std::string(text);
    scope.error(Problem::missing_value, node, "an empty text", "a text", "fill it in");
    return std::nullopt;
}

std::optional<std::string> need_text(const YamlNode& map, std::string_view key, const Scope& scope,
                                     Problem problem) {
    const auto* node = need(map, key, scope, problem);
    return node == nullptr ? std::nullopt : read_text(*node, scope);
}

std::string text_or_empty(const YamlNode& map, std::string_view key, const Scope& scope) {
    const auto* node = map.find(key);
    if (node == nullptr || node->kind == YamlNode::Kind::nothing) return {};
    return read_text(*node, scope).value_or("");
}

std::optional<double> read_bare_number(const YamlNode& node, const Scope& scope) {
    const auto text = read_text(node, scope);
    if (!text) return std::nullopt;
    const auto reading = read_number(*text);
    if (reading.fault == NumberFault::none) return reading.value;
    scope.error(Problem::not_a_number, node, "'" + printable(*text) + "'", "a number",
                number_mend(node, reading.fault));
    return std::nullopt;
}

std::optional<std::size_t> read_choice(const YamlNode& node,
                                       std::span<const std::string_view> choices,
                                       const Scope& scope) {
    const auto text = read_text(node, scope);
    if (!text) return std::nullopt;
    const auto at = std::ranges::find(choices, *text);
    if (at != choices.end()) return static_cast<std::size_t>(at - choices.begin());
    scope.error(Problem::unknown_word, node, "'" + printable(*text) + "'", listing(choices),
                suggest(*text, choices));
    return std::nullopt;
}

std::optional<std::uint8_t> read_word(const YamlNode& node, const Vocabulary& words,
                                      const Scope& scope) {
    const auto text = read_text(node, scope);
    if (!text) return std::nullopt;
    if (const auto code = words.code(*text)) return code;
    const auto keys = words.keys();
    scope.error(Problem::unknown_word, node, "'" + printable(*text) + "'",
                "a word of " + words.name + ": " + listing(keys), suggest(*text, keys));
    return std::nullopt;
}

Provenance read_provenance(const YamlNode& map, const RuleSet& known, const Provenance& inherited,
                           const Scope& scope) {
    Provenance result = inherited;
    const auto* source = map.find("source");
    const auto* basis = map.find("basis");
    if (source != nullptr) result.source = read_source(*source, known, scope);
    if (basis != nullptr) {
        const auto choice = read_choice(*basis, basis_words, scope);
        if (choice) result.basis = static_cast<Basis>(*choice);
    }
    if (map.find("note") != nullptr) result.note = text_or_empty(map, "note", scope);
    const bool cites = result.basis == Basis::published || result.basis == Basis::recalled;
    const bool news =
        source != nullptr || basis != nullptr;  // else reported where it was inherited
    if (cites && news && result.source.id.empty() && source == nullptr) {
        scope.error(Problem::missing_source, *basis,
                    "basis " + std::string(to_string(*result.basis)) + " without a source",
                    "source: {id: ..., where: ...}",
                    "name the document and the table or page the value was taken from");
    }
    return result;
}

std::string number_text(double value) {
    std::array<char, 32> buffer{};
    const auto result = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
    return {buffer.data(), result.ptr};
}

std::string quantity_text(double value, std::string_view unit) {
    if (unit == "NPS" || unit == "DN") return std::string(unit) + ' ' + number_text(value);
    if (unit.empty() || unit == "-") return number_text(value);
    return number_text(value) + ' ' + std::string(unit);
}

std::string entry_text(const TableInfo& info, const RuleEntry& entry) {
    return info.gives.empty() ? quantity_text(entry.printed, info.unit) : entry.word;
}

}  // namespace lagline
