#include "report/layout.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "blocks/number_text.h"
#include "diagnostics/text.h"

namespace lagline {
namespace {

constexpr std::size_t gap = 2;

// Colour codes take bytes but no columns.
std::size_t shown_width(std::string_view cell) {
    std::string bare;
    for (std::size_t i = 0; i < cell.size(); ++i) {
        if (cell[i] == '\x1b') {
            while (i < cell.size() && cell[i] != 'm') ++i;
            continue;
        }
        bare += cell[i];
    }
    return display_width(bare);
}

// A cell cut to `width` columns; its colour stays around what is left of it.
std::string cut(std::string_view cell, std::size_t width) {
    if (shown_width(cell) <= width) return std::string{cell};
    if (!cell.starts_with('\x1b')) return printable(cell, width);
    const std::size_t from = cell.find('m') + 1;
    const std::size_t to = cell.rfind('\x1b');
    std::string shown{cell.substr(0, from)};
    return shown.append(printable(cell.substr(from, to - from), width)).append(cell.substr(to));
}

void append_cell(std::string& line, std::string_view cell, std::size_t width, bool right,
                 bool last) {
    const std::size_t blanks = width - std::min(width, shown_width(cell));
    if (right) line.append(blanks, ' ');
    line += cell;
    if (!right && !last) line.append(blanks, ' ');
}

std::string rule_line(const std::vector<std::size_t>& widths) {
    std::string line;
    for (std::size_t i = 0; i < widths.size(); ++i) {
        if (i > 0) line.append(gap, ' ');
        for (std::size_t k = 0; k < widths[i]; ++k) line += "─";
    }
    return line;
}

// Takes from the widest text column what the line is too long by.
void fit(std::vector<std::size_t>& widths, const std::vector<TableColumn>& columns,
         std::size_t width) {
    std::size_t total = gap * (widths.size() - 1);
    for (const std::size_t each : widths) total += each;
    while (total > width) {
        std::size_t widest = widths.size();
        for (std::size_t i = 0; i < widths.size(); ++i) {
            if (columns[i].right || widths[i] <= display_width(columns[i].heading)) continue;
            if (widest == widths.size() || widths[i] > widths[widest]) widest = i;
        }
        if (widest == widths.size()) return;
        --widths[widest];
        --total;
    }
}

std::string_view code(Tone tone) {
    switch (tone) {
        case Tone::plain:
            return "";
        case Tone::strong:
            return "\x1b[1m";
        case Tone::quiet:
            return "\x1b[2m";
        case Tone::bad:
            return "\x1b[1;35m";  // magenta, yellow and cyan are told apart by all
        case Tone::warn:
            return "\x1b[33m";
        case Tone::good:
            return "\x1b[36m";
    }
    return "";
}

}  // namespace

std::string text_table(const std::vector<TableColumn>& columns,
                       const std::vector<std::vector<std::string>>& rows, const TextStyle& style) {
    std::vector<std::size_t> widths;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        std::size_t width = display_width(columns[i].heading);
        for (const auto& row : rows) width = std::max(width, shown_width(row[i]));
        if (columns[i].most > 0) {
            width = std::min(width, std::max(columns[i].most, display_width(columns[i].heading)));
        }
        widths.push_back(width);
    }
    fit(widths, columns, style.width);
    std::string table;
    const auto append_row = [&](const auto& cell_of) {
        std::string line;
        for (std::size_t i = 0; i < columns.size(); ++i) {
            if (i > 0) line.append(gap, ' ');
            append_cell(line, cell_of(i), widths[i], columns[i].right, i + 1 == columns.size());
        }
        line.erase(line.find_last_not_of(' ') + 1);
        table += line + "\n";
    };
    append_row([&](std::size_t i) { return columns[i].heading; });
    table += rule_line(widths) + "\n";
    for (const auto& row : rows) {
        append_row([&](std::size_t i) { return cut(row[i], widths[i]); });
    }
    return table;
}

std::string coloured(std::string_view text, Tone tone, const TextStyle& style) {
    if (!style.colour || tone == Tone::plain) return std::string{text};
    return std::string{code(tone)} + std::string{text} + "\x1b[0m";
}

Tone tone_of_band(std::size_t band, std::size_t bands) {
    if (band + 1 == bands) return Tone::bad;
    if (band + 2 == bands) return Tone::warn;
    return Tone::plain;
}

std::string wrapped(std::string_view text, std::size_t width, std::size_t indent) {
    std::string lines;
    std::size_t column = 0;
    bool first_word = true;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t start = text.find_first_not_of(" \n", at);
        if (start == std::string_view::npos) break;
        std::size_t end = text.find_first_of(" \n", start);
        if (end == std::string_view::npos) end = text.size();
        const std::string_view word = text.substr(start, end - start);
        const std::size_t wide = shown_width(word);
        if (!first_word && column + 1 + wide > width) {
            lines += "\n" + std::string(indent, ' ');
            column = indent;
            first_word = true;
        }
        if (!first_word) {
            lines += ' ';
            ++column;
        }
        lines += word;
        column += wide;
        first_word = false;
        at = end;
    }
    return lines;
}

std::string counted(std::size_t count, std::string_view noun) {
    const std::string number = grouped(static_cast<double>(count)) + " ";
    if (count == 1) return number + std::string{noun};
    if (noun.ends_with("ty")) return number + std::string{noun.substr(0, noun.size() - 1)} + "ies";
    return number + std::string{noun} + "s";
}

std::string compact(double money) {
    if (money >= 1e6) return short_number(money / 1e6, 3) + "M";
    if (money >= 1e3) return short_number(money / 1e3, 3) + "k";
    return short_number(money, 3);
}

std::string layers_text(std::span<const std::string> layers) {
    std::string text;
    for (const std::string& layer : layers) text += (text.empty() ? "" : " + ") + layer;
    return text;
}

std::string grouped(double value) {
    if (!std::isfinite(value)) return exact_number(value);
    // Not the shortest text, which is 1e+05 for a hundred thousand.
    std::array<char, 330> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(), std::round(value),
                                   std::chars_format::fixed)
                         .ptr;
    std::string digits{text.data(), end};
    const std::size_t first = digits.starts_with('-') ? 1 : 0;
    for (std::size_t at = digits.size(); at > first + 3;) {
        at -= 3;
        digits.insert(at, " ");
    }
    return digits;
}

}  // namespace lagline
