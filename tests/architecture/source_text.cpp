#include "architecture/source_text.h"

#include <algorithm>
#include <cctype>
#include <cstddef>

namespace architecture {
namespace {

constexpr auto npos = std::string_view::npos;

bool is_word_character(char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
}

/// One past the end of a literal that opens at `at` with `quote`.
std::size_t end_of_literal(std::string_view text, std::size_t at, char quote) {
    for (++at; at < text.size() && text[at] != quote; ++at) {
        if (text[at] == '\\') ++at;
    }
    return std::min(at + 1, text.size());
}

std::size_t end_at(std::string_view text, std::size_t from, std::string_view mark) {
    const auto at = text.find(mark, from);
    return at == npos ? text.size() : at + mark.size();
}

/// One past the end of the raw string whose quote is at `quote`.
std::size_t end_of_raw_string(std::string_view text, std::size_t quote) {
    const auto open = text.find('(', quote);
    if (open == npos) return text.size();
    const std::string close = ")" + std::string(text.substr(quote + 1, open - quote - 1)) + "\"";
    return end_at(text, open, close);
}

/// One past the end of the comment or literal that opens at `at`; `at` itself when none does.
std::size_t end_of_blank(std::string_view text, std::size_t at) {
    const auto rest = text.substr(at);
    if (rest.starts_with("//")) return std::min(text.find('\n', at), text.size());
    if (rest.starts_with("/*")) return end_at(text, at + 2, "*/");
    const char before = at > 0 ? text[at - 1] : ' ';
    if (rest.front() == '"') {
        return before == 'R' ? end_of_raw_string(text, at) : end_of_literal(text, at, '"');
    }
    // A quote right behind a digit parts thousands: 1'000.
    if (rest.front() == '\'' && !is_word_character(before)) return end_of_literal(text, at, '\'');
    return at;
}

}  // namespace

std::vector<std::string_view> lines(std::string_view text) {
    std::vector<std::string_view> found;
    while (!text.empty()) {
        const auto end = std::min(text.find('\n'), text.size());
        found.push_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return found;
}

std::string_view without_leading_space(std::string_view line) {
    return line.substr(std::min(line.find_first_not_of(" \t"), line.size()));
}

std::string without_comments_and_strings(std::string_view source) {
    std::string code(source);
    for (std::size_t at = 0; at < source.size();) {
        const auto end = end_of_blank(source, at);
        for (auto i = at; i < end; ++i) {
            if (code[i] != '\n') code[i] = ' ';
        }
        at = std::max(end, at + 1);
    }
    return code;
}

bool has_word(std::string_view line, std::string_view word) {
    for (auto at = line.find(word); at != npos; at = line.find(word, at + 1)) {
        const auto end = at + word.size();
        const bool starts = at == 0 || !is_word_character(line[at - 1]);
        const bool ends = end == line.size() || !is_word_character(line[end]);
        if (starts && ends) return true;
    }
    return false;
}

std::vector<CMakeCommand> cmake_commands(std::string_view text) {
    std::string code;
    for (const auto line : lines(text)) {
        code += line.substr(0, std::min(line.find('#'), line.size()));
        code += ' ';
    }
    std::vector<CMakeCommand> commands;
    std::string name;  // the last word outside of parentheses
    std::string word;
    int depth = 0;
    for (const char c : code) {
        if (is_word_character(c) || std::string_view("-+.:/<>$={},").find(c) != npos) {
            word += c;
            continue;
        }
        if (!word.empty() && depth > 0) commands.back().words.push_back(word);
        if (!word.empty() && depth == 0) name = word;
        word.clear();
        if (c == '(' && depth++ == 0) commands.push_back({name, {}});
        if (c == ')') --depth;
    }
    return commands;
}

}  // namespace architecture
