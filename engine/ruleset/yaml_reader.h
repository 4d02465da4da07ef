#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "diagnostics/diagnostic.h"

namespace lagline {

struct YamlFile;

/// One value of a YAML file, with its place.  A map keeps every key, also a doubled one, in file
/// order: keys[i] belongs to items[i].
struct YamlNode {
    enum class Kind : std::uint8_t { nothing, scalar, list, map };
    Kind kind = Kind::nothing;
    int line = 0;    ///< from 1
    int column = 0;  ///< from 1, in characters
    const YamlFile* file = nullptr;
    std::string text;             ///< of a scalar
    std::vector<YamlNode> keys;   ///< of a map; always scalars
    std::vector<YamlNode> items;  ///< of a list or map

    [[nodiscard]] bool is_scalar() const { return kind == Kind::scalar; }
    [[nodiscard]] bool is_list() const { return kind == Kind::list; }
    [[nodiscard]] bool is_map() const { return kind == Kind::map; }
    /// The value at `key`, or null.
    [[nodiscard]] const YamlNode* find(std::string_view key) const;
    /// The key itself, for its place; null when there is none.
    [[nodiscard]] const YamlNode* find_key(std::string_view key) const;
};

/// A rule file in memory.  Its nodes point back to it, so it stays where it is.
struct YamlFile {
    std::string name;  ///< as shown to people
    std::string text;  ///< without a byte-order mark
    std::vector<std::size_t> line_starts;
    YamlNode root;

    /// Line number `line` (from 1) without its end.
    [[nodiscard]] std::string_view line(int line) const;
};

/// Bounds that keep a rule file from taking the machine with it.
inline constexpr std::uintmax_t most_yaml_bytes = std::uintmax_t{16} * 1024 * 1024;
/// The parser keeps what it reads until it knows whether that is a key: some 230 bytes for each
/// open bracket, over as many lines as there are.
inline constexpr std::size_t most_yaml_line_bytes = 100'000;
inline constexpr std::size_t most_yaml_open_brackets = 1'000;
inline constexpr std::size_t most_yaml_depth = 64;
inline constexpr std::size_t most_yaml_nodes = 1'000'000;

/// The file as a tree; null when it could not be read, with the reason in `report`.  Doubled keys
/// are reported and kept.  A file without content comes back with an empty root and a warning.
/// @param shown  name of the file in places and messages; the path itself when empty
std::unique_ptr<YamlFile> read_yaml_file(const std::filesystem::path& path, Report& report,
                                         const std::string& shown = "");

[[nodiscard]] Place place_of(const YamlNode& node);
[[nodiscard]] Excerpt excerpt_of(const YamlNode& node);

}  // namespace lagline
