#include <algorithm>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "diagnostics/text.h"

namespace lagline {
namespace {

constexpr std::size_t whole = std::string_view::npos;
constexpr std::size_t least_width = 24;  // below, labels and gutter would leave no room for text
constexpr std::size_t label_width = 10;
constexpr std::size_t least_number_width = 5;
constexpr std::string_view ellipsis = "\u2026";
constexpr std::string_view colour_off = "\x1b[0m";

/// Red and cyan differ for colour-blind readers too, and the word always stands beside them.
std::string_view colour_of(Severity severity) {
    return severity == Severity::error ? "\x1b[1;31m" : "\x1b[36m";
}

std::string_view word_of(Severity severity) {
    return severity == Severity::error ? "error" : "warning";
}

/// Offset in valid UTF-8 `text` of the character number `count`, or its size.
std::size_t offset_of(std::string_view text, std::size_t count) {
    std::size_t at = 0;
    while (at < text.size() && count > 0) {
        do {
            ++at;
        } while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U);
        --count;
    }
    return at;
}

/// `text` in pieces of at most `width` characters, broken at spaces where there are any.
std::vector<std::string_view> wrapped(std::string_view text, std::size_t width) {
    std::vector<std::string_view> lines;
    while (true) {
        const std::size_t limit = offset_of(text, width);
        if (limit == text.size()) break;
        const std::size_t space = text.rfind(' ', limit);
        const bool at_space = space != std::string_view::npos && space > 0;
        lines.push_back(text.substr(0, at_space ? space : limit));
        text.remove_prefix(at_space ? space + 1 : limit);
    }
    lines.push_back(text);
    return lines;
}

/// A piece of text with a hanging indent: `first` before the first line, spaces before the others.
void append_wrapped(std::string& out, std::string_view first, std::string_view text,
                    std::size_t hang, std::size_t width, std::string_view colour = {}) {
    bool start = true;
    for (const auto line : wrapped(text, width - hang)) {
        out += start ? std::string(first) : std::string(hang, ' ');
        if (!colour.empty()) out += colour;
        out += line;
        if (!colour.empty()) out += colour_off;
        out += '\n';
        start = false;
    }
}

/// `line` with one column for each of its characters, so that the caret stays below its mark.
std::string one_column_each(std::string_view line) {
    std::string shown;
    while (!line.empty()) {
        const std::size_t valid = std::min(first_invalid_utf8(line), line.size());
        for (std::size_t at = 0; at < valid;) {
            const auto bytes = line.substr(at, offset_of(line.substr(at, valid - at), 1));
            const bool safe = printable(bytes, whole) == bytes;
            shown += safe ? bytes : bytes == "\t" ? " " : "?";
            at += bytes.size();
        }
        if (valid < line.size()) shown += '?';
        line.remove_prefix(std::min(valid + 1, line.size()));
    }
    return shown;
}

/// The part of an excerpt that fits, and where its mark then starts.
struct Window {
    std::string line;
    std::size_t mark = 0;
    std::size_t width = 0;
};

Window window_of(const Excerpt& excerpt, std::size_t room) {
    const std::string line = one_column_each(excerpt.line);
    const std::size_t length = display_width(line);
    const std::size_t mark = std::min(excerpt.mark, length);
    Window window{line, mark, excerpt.width};
    const bool mark_past_end = mark == length && excerpt.width > 0;
    if (length + (mark_past_end ? 1U : 0U) > room) {
        // A third of the room goes to what stands before the mark, if the mark needs moving at all.
        const std::size_t from = mark + excerpt.width < room ? 0 : mark - std::min(mark, room / 3);
        const std::size_t lead = from > 0 ? 1 : 0;
        const bool tail = length - from > room - lead;
        const std::size_t taken = room - lead - (tail ? 1U : 0U);
        const std::size_t begin = offset_of(line, from);
        const std::string_view rest = std::string_view(line).substr(begin);
        window.line = lead == 1 ? std::string(ellipsis) : std::string();
        window.line += rest.substr(0, offset_of(rest, taken));
        if (tail) window.line += ellipsis;
        window.mark = mark - from + lead;
    }
    if (window.width > 0) {
        const std::size_t last = std::max(display_width(window.line), window.mark + 1);
        window.width = std::min(window.width, last - window.mark);
    }
    return window;
}

void append_excerpt(std::string& out, const Diagnostic& diagnostic, const ReportStyle& style) {
    if (diagnostic.excerpt.line.empty()) return;
    const std::string number =
        diagnostic.where.line > 0 ? std::to_string(diagnostic.where.line) : std::string();
    const std::size_t number_width = std::max(least_number_width, number.size());
    const std::size_t gutter = number_width + 3;  // " | "
    const auto window = window_of(diagnostic.excerpt, style.width - gutter);
    out += std::string(number_width - number.size(), ' ') + number + " | " + window.line + '\n';
    if (window.width == 0) return;
    out += std::string(number_width, ' ') + " | " + std::string(window.mark, ' ');
    if (style.colour) out += colour_of(diagnostic.severity);
    out += std::string(window.width, '^');
    if (style.colour) out += colour_off;
    out += '\n';
}

void append_field(std::string& out, std::string_view label, std::string_view text,
                  const ReportStyle& style) {
    if (text.empty()) return;
    const std::string first =
        "  " + std::string(label) + std::string(label_width - label.size(), ' ');
    append_wrapped(out, first, printable(text, whole), first.size(), style.width);
}

void append_diagnostic(std::string& out, const Diagnostic& diagnostic, const ReportStyle& style) {
    Place place = diagnostic.where;
    place.file = printable(place.file, whole);
    std::string heading = to_string(place);
    if (!heading.empty()) heading += ": ";
    heading += word_of(diagnostic.severity);
    heading += " [" + std::string(code_of(diagnostic.problem)) + "]";
    if (!diagnostic.subject.empty()) heading += ' ' + printable(diagnostic.subject, whole);

    const auto colour = style.colour ? colour_of(diagnostic.severity) : std::string_view{};
    const auto lines = wrapped(heading, style.width);
    append_wrapped(out, {}, lines.front(), 0, style.width, colour);
    if (lines.size() > 1) {
        const auto used = static_cast<std::size_t>(lines[1].data() - heading.data());
        append_wrapped(out, "    ", std::string_view(heading).substr(used), 4, style.width, colour);
    }
    append_excerpt(out, diagnostic, style);
    append_field(out, "found", diagnostic.found, style);
    append_field(out, "expected", diagnostic.expected, style);
    append_field(out, "mend", diagnostic.mend, style);
    out += '\n';
}

using Kind = std::pair<std::string, Problem>;

void append_more(std::string& out, const std::map<Kind, std::size_t>& more, std::size_t width) {
    for (const auto& [kind, count] : more) {
        std::string line = "... and " + std::to_string(count) + " more of [";
        line += std::string(code_of(kind.second)) + ']';
        if (!kind.first.empty()) line += " in " + printable(kind.first, whole);
        append_wrapped(out, {}, line, 0, width);
    }
    if (!more.empty()) out += '\n';
}

std::string counted(std::size_t count, std::string_view word) {
    return std::to_string(count) + ' ' + std::string(word) + (count == 1 ? "" : "s");
}

}  // namespace

std::string to_text(const Report& report, const ReportStyle& style) {
    ReportStyle used = style;
    used.width = std::max(style.width, least_width);
    std::string out;
    std::map<Kind, std::size_t> printed;
    std::map<Kind, std::size_t> more;
    for (const auto& diagnostic : report.diagnostics()) {
        const Kind kind{diagnostic.where.file, diagnostic.problem};
        if (++printed[kind] <= used.most_per_kind) {
            append_diagnostic(out, diagnostic, used);
        } else {
            ++more[kind];
        }
    }
    for (const auto& dropped : report.dropped()) {
        more[{dropped.file, dropped.problem}] += dropped.count;
    }
    append_more(out, more, used.width);
    out += counted(report.errors(), "error") + ", " + counted(report.warnings(), "warning") + '\n';
    return out;
}

}  // namespace lagline
