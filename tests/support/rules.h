#pragma once

#include <filesystem>
#include <string_view>

#include "ruleset/ruleset.h"

namespace lagline {

/// The shipped set `published`, loaded once.
/// @throws std::runtime_error  with the whole report, when it does not load
[[nodiscard]] const RuleSet& published_rules();

/// The shipped set `extended`, loaded once; throws as above.
[[nodiscard]] const RuleSet& extended_rules();

/// The set `name` of another root folder; throws as above.
[[nodiscard]] RuleSet rules_from(const std::filesystem::path& root, std::string_view name);

/// Folder of the shipped sets.
[[nodiscard]] std::filesystem::path rules_root();

/// Code of a word that must be there.
[[nodiscard]] std::uint8_t code_of(const RuleSet& rules, std::string_view vocabulary,
                                   std::string_view word);

}  // namespace lagline
