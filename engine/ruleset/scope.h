#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "diagnostics/diagnostic.h"
#include "quantity/unit.h"
#include "ruleset/ruleset.h"
#include "ruleset/yaml_reader.h"

namespace lagline {

/// Where a reader of rules stands: the chain of names that led there, and where problems go.
struct Scope {
    Report& report;
    std::string chain;  ///< "published -> base_rate"

    [[nodiscard]] Scope at(std::string_view step) const;
    void error(Problem problem, const YamlNode& node, std::string found, std::string expected,
               std::string mend) const;
    void warning(Problem problem, const YamlNode& node, std::string found, std::string expected,
                 std::string mend) const;
};

/// True for a map; anything else is reported.
bool expect_map(const YamlNode& node, const Scope& scope);
bool expect_list(const YamlNode& node, const Scope& scope);

/// Reports every key of the map that is not in `allowed`.
void expect_keys(const YamlNode& map, std::span<const std::string_view> allowed,
                 const Scope& scope);

/// The value at `key`; null and reported as `problem` when there is none.
const YamlNode* need(const YamlNode& map, std::string_view key, const Scope& scope,
                     Problem problem = Problem::missing_key);

/// Text of a scalar that is not empty; anything else is reported.
std::optional<std::string> read_text(const YamlNode& node, const Scope& scope);
/// The same of a key that must be there.
std::optional<std::string> need_text(const YamlNode& map, std::string_view key, const Scope& scope,
                                     Problem problem = Problem::missing_key);
/// The text at `key`, or an empty one; wrong kinds are reported.
std::string text_or_empty(const YamlNode& map, std::string_view key, const Scope& scope);

/// A bare number; anything else is reported.
std::optional<double> read_bare_number(const YamlNode& node, const Scope& scope);

/// One of `choices`; anything else is reported as unknown_word.
std::optional<std::size_t> read_choice(const YamlNode& node,
                                       std::span<const std::string_view> choices,
                                       const Scope& scope);

/// "did you mean 'x'?", or "use a, b or c".
[[nodiscard]] std::string suggest(std::string_view word,
                                  std::span<const std::string_view> candidates);

/// Code of a word; an unknown one is reported.
std::optional<std::uint8_t> read_word(const YamlNode& node, const Vocabulary& words,
                                      const Scope& scope);

/// What a value says about where it came from.
struct Provenance {
    SourceRef source;
    std::optional<Basis> basis;
    std::string note;
};

/// What `map` says under source, basis and note, the rest as in `inherited`.  Reports a source
/// that is not in `known`, and a published or recalled value without a source.
Provenance read_provenance(const YamlNode& map, const RuleSet& known, const Provenance& inherited,
                           const Scope& scope);

/// The shortest text that reads back as `value`.
[[nodiscard]] std::string number_text(double value);
/// "20 mpy", "0.2", "NPS 6".
[[nodiscard]] std::string quantity_text(double value, std::string_view unit);
/// What stands in an entry, as a person would write it.
[[nodiscard]] std::string entry_text(const TableInfo& info, const RuleEntry& entry);

}  // namespace lagline
