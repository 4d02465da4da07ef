#include "ruleset/yaml_bounds.h"

namespace lagline {
namespace {

/// Brackets open at the end of `line` when `open` were at its start.
std::size_t open_after(std::string_view line, std::size_t open) {
    for (const char c : line) {
        if (c == '[' || c == '{') ++open;
        if ((c == ']' || c == '}') && open > 0) --open;
    }
    return open;
}

}  // namespace

std::vector<std::size_t> starts_of_lines(std::string_view text) {
    std::vector<std::size_t> starts{0};
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\n') starts.push_back(i + 1);
    }
    return starts;
}

std::optional<YamlExcess> yaml_excess(const YamlFile& file) {
    std::size_t open = 0;
    for (int number = 1; number <= static_cast<int>(file.line_starts.size()); ++number) {
        const std::string_view line = file.line(number);
        if (line.size() > most_yaml_line_bytes) {
            return YamlExcess{number, "a line of " + std::to_string(line.size()) + " bytes",
                              "lines of at most " + std::to_string(most_yaml_line_bytes) + " bytes",
                              "break the line: a list or map may go on in the next one"};
        }
        open = open_after(line, open);
        if (open > most_yaml_open_brackets) {
            return YamlExcess{
                number, std::to_string(open) + " brackets open at once",
                "at most " + std::to_string(most_yaml_depth) + " values inside each other",
                "close the brackets of lists and maps"};
        }
    }
    return std::nullopt;
}

}  // namespace lagline
