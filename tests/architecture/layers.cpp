#include "architecture/layers.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>

#include "architecture/source_text.h"

namespace architecture {
namespace {

// The data flow of docs/architecture.md, top to bottom: each sees itself and all before it.
constexpr std::array<std::string_view, 16> flow = {
    "diagnostics", "quantity", "blocks",      "workbook",   "plant",       "ruleset",
    "intake",      "exposure", "degradation", "likelihood", "consequence", "ranking",
    "learning",    "choice",   "planning",    "ledger"};

// Folders beside the flow, seen by cli alone, and the last folder of the flow that each sees.
struct Side {
    std::string_view name;
    std::string_view sees_down_to;
};
constexpr std::array<Side, 3> sides = {
    {{"report", "planning"}, {"synthesis", "plant"}, {"cli", "ledger"}}};

std::optional<std::size_t> place_in_flow(std::string_view name) {
    const auto found = std::ranges::find(flow, name);
    if (found == flow.end()) return std::nullopt;
    return static_cast<std::size_t>(found - flow.begin());
}

std::string at_line(std::size_t line, std::string_view what) {
    return std::to_string(line) + ": " + std::string(what);
}

/// The word between the quotes or angles of an #include line; empty for any other line.
std::string_view included(std::string_view line) {
    line = without_leading_space(line);
    if (!line.starts_with('#')) return {};
    line = without_leading_space(line.substr(1));
    if (!line.starts_with("include")) return {};
    const auto open = line.find_first_of("\"<");
    if (open == std::string_view::npos) return {};
    const auto close = line.find_first_of("\">", open + 1);
    if (close == std::string_view::npos) return {};
    return line.substr(open, close - open);
}

std::optional<std::string> wrong_include(std::string_view folder, std::string_view include) {
    const bool quoted = include.starts_with('"');
    const auto path = include.substr(1);
    const auto slash = path.find('/');
    const auto other = slash == std::string_view::npos ? std::string_view{} : path.substr(0, slash);
    if (!is_folder(other)) {
        if (!quoted) return std::nullopt;  // a package or the standard library
        return "\"" + std::string(path) + "\" is not written as \"folder/file.h\"";
    }
    if (may_see(folder, other)) return std::nullopt;
    return std::string(folder) + " must not see " + std::string(other);
}

std::string_view folder_of_target(std::string_view target) {
    for (const std::string_view prefix : {"lagline_", "lagline::"}) {
        if (target.starts_with(prefix)) return target.substr(prefix.size());
    }
    return {};
}

}  // namespace

bool is_folder(std::string_view name) {
    return place_in_flow(name) || std::ranges::find(sides, name, &Side::name) != sides.end();
}

bool may_see(std::string_view from, std::string_view to) {
    if (!is_folder(from) || !is_folder(to)) return false;
    if (from == to || from == "cli") return true;
    const auto target = place_in_flow(to);
    if (!target) return false;
    if (const auto own = place_in_flow(from)) return *target < *own;
    const auto side = std::ranges::find(sides, from, &Side::name);
    return *target <= *place_in_flow(side->sees_down_to);
}

std::vector<std::string> wrong_includes(std::string_view folder, std::string_view source) {
    std::vector<std::string> wrong;
    std::size_t number = 0;
    for (const auto line : lines(source)) {
        ++number;
        const auto include = included(line);
        if (include.empty()) continue;
        if (const auto fault = wrong_include(folder, include)) {
            wrong.push_back(at_line(number, *fault));
        }
    }
    return wrong;
}

std::vector<std::string> wrong_links(std::string_view folder, std::string_view cmake_lists) {
    std::vector<std::string> wrong;
    bool defined = false;
    for (const auto& command : cmake_commands(cmake_lists)) {
        const bool defines = command.name == "lagline_folder";
        if (!defines && command.name != "target_link_libraries") continue;
        if (command.words.empty()) continue;
        const auto& target = command.words.front();
        const auto owner = defines ? std::string_view(target) : folder_of_target(target);
        if (owner != folder) wrong.push_back(command.name + " of " + target);
        defined = defined || (defines && owner == folder);
        for (const auto& word : command.words) {
            const auto other = folder_of_target(word);
            if (other.empty() || other == "options" || may_see(folder, other)) continue;
            wrong.push_back(std::string(folder) + " must not link " + word);
        }
    }
    if (!defined) wrong.push_back("no lagline_folder(" + std::string(folder) + " ...)");
    return wrong;
}

std::vector<std::string> stream_writes(std::string_view source) {
    // snprintf and std::format write to memory and are not among them.
    constexpr std::array<std::string_view, 12> banned = {
        "std::cout", "std::cerr", "std::clog", "printf",  "fprintf", "vprintf",
        "vfprintf",  "puts",      "fputs",     "putchar", "perror",  "<iostream>"};
    std::vector<std::string> found;
    const std::string code = without_comments_and_strings(source);
    std::size_t number = 0;
    for (const auto line : lines(code)) {
        ++number;
        for (const auto word : banned) {
            if (has_word(line, word)) found.push_back(at_line(number, word));
        }
    }
    return found;
}

}  // namespace architecture
