#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace lagline {

/// What a run was told, by name: {"rules": "extended", "today": "2030-04-08"}.  Options that change
/// no result, such as the number of threads, are not among them.
using RunOptions = std::map<std::string, std::string, std::less<>>;

/// Path of the options among the files of a run.
inline constexpr std::string_view options_path = "options.json";

/// As JSON in one form only: one object, names in order, no blanks, LF at the end.
[[nodiscard]] std::string canonical_json(const RunOptions& options);

/// The options again; nothing when `json` is not such an object of texts.
[[nodiscard]] std::optional<RunOptions> read_options(std::string_view json);

/// The option `name`, or an empty text.
[[nodiscard]] std::string option(const RunOptions& options, std::string_view name);

}  // namespace lagline
