#include "intake/csv.h"

#include <cstring>

#include "diagnostics/text.h"
#include "intake/source_file.h"

namespace lagline {
namespace {

// One past the line break that ends the line of `from`.
std::size_t after_line(std::string_view bytes, std::size_t from) {
    const auto newline = bytes.find('\n', from);
    return newline == std::string_view::npos ? bytes.size() : newline + 1;
}

bool at_field_start(std::string_view bytes, std::size_t record, std::size_t at) {
    return at == record || bytes[at - 1] == ',';
}

// One past the closing quote of the quoted field that opens at `quote`; npos when never closed.
std::size_t after_quoted(std::string_view bytes, std::size_t quote) {
    std::size_t at = quote + 1;
    while (true) {
        at = bytes.find('"', at);
        if (at == std::string_view::npos) return at;
        if (at + 1 < bytes.size() && bytes[at + 1] == '"') {
            at += 2;
            continue;
        }
        return at + 1;
    }
}

// One past the record that starts at `record`, found quote by quote; sets `open` to the offset of
// a quote that is never closed.
std::size_t after_record(std::string_view bytes, std::size_t record, std::size_t& open) {
    std::size_t from = record;
    std::size_t line_end = record;
    while (true) {
        // Searched once a line, not once a quote: a line may be nothing but quotes.
        if (from >= line_end) line_end = after_line(bytes, from);
        const auto quote = bytes.substr(0, line_end).find('"', from);
        if (quote == std::string_view::npos) return line_end;
        if (!at_field_start(bytes, record, quote)) {
            from = quote + 1;  // a stray quote: split_record reports it
            continue;
        }
        from = after_quoted(bytes, quote);
        if (from == std::string_view::npos) {
            open = quote;
            return bytes.size();
        }
        if (from == bytes.size()) return from;
    }
}

// Some programs put quotes round every field, empty ones too.
bool has_content(std::string_view record) {
    return record.find_first_not_of(", \t\r\n\"") != std::string_view::npos ||
           record.find("\"\"\"") != std::string_view::npos;
}

std::size_t count_breaks(std::string_view text) {
    std::size_t breaks = 0;
    for (const char c : text) breaks += c == '\n' ? 1U : 0U;
    return breaks;
}

// Reads the quoted field that opens at `at`; @return one past its closing quote.
std::size_t read_quoted(std::string_view bytes, std::size_t at, CsvCell& cell) {
    const std::size_t after = after_quoted(bytes, at);
    const std::size_t close = after == std::string_view::npos ? bytes.size() : after - 1;
    cell.quoted = true;
    cell.text = bytes.substr(at + 1, close - at - 1);
    cell.doubled = cell.text.find('"') != std::string_view::npos;
    return std::min(close + 1, bytes.size());
}

// What stands up to the comma: the field, or what should not be behind its closing quote.
void finish_cell(CsvCell& cell, std::string_view rest, std::size_t offset,
                 std::vector<CsvFault>& faults) {
    if (cell.quoted) {
        if (trimmed(rest).empty()) return;
        faults.push_back({offset, "text behind a closing quote",
                          "move the text inside the quotes, or double the quote before it"});
        return;
    }
    cell.text = trimmed(rest);
    const auto stray = rest.find('"');
    if (stray == std::string_view::npos) return;
    faults.push_back({offset + stray, "a quote inside a field that is not quoted",
                      "put the whole field in quotes and double the quote: \"6\"\"\""});
}

// In a sheet of a workbook a record stands in a row, whatever lines the text has.
void use_rows(const SheetGrid& grid, CsvRecords& found) {
    for (std::size_t i = 0; i < found.lines.size(); ++i) {
        found.lines[i] = grid.rows[grid.record_at(found.offsets[i])];
    }
}

}  // namespace

CsvRecords find_records(const SourceText& source, Report& report) {
    const std::string_view bytes = source.bytes;
    CsvRecords found;
    std::size_t at = 0;
    std::uint32_t line = 1;
    while (at < bytes.size()) {
        const std::size_t line_end = after_line(bytes, at);
        std::size_t end = line_end;
        std::size_t open = std::string_view::npos;
        std::uint32_t breaks = 1;
        // Most records hold no quote: two searches by memchr and nothing else.
        if (std::memchr(bytes.data() + at, '"', line_end - at) != nullptr) {
            end = after_record(bytes, at, open);
            breaks = static_cast<std::uint32_t>(count_breaks(bytes.substr(at, end - at)));
        }
        if (open != std::string_view::npos) {
            report.add({.problem = Problem::csv_quote,
                        .where = place_from(source, at, static_cast<int>(line), open),
                        .subject = "",
                        .found = "a quote that is never closed",
                        .expected = "a closing quote before the next comma or line break",
                        .mend = "close the quote, or remove it",
                        .excerpt = excerpt_at(source, open, 1)});
            found.torn = true;
            return found;
        }
        if (has_content(bytes.substr(at, end - at))) {
            found.offsets.push_back(at);
            found.lines.push_back(line);
        }
        line += breaks;
        at = end;
    }
    if (source.grid) use_rows(*source.grid, found);
    return found;
}

std::size_t split_record(std::string_view bytes, std::size_t offset, std::vector<CsvCell>& cells,
                         std::vector<CsvFault>& faults) {
    cells.clear();
    std::size_t at = offset;
    while (true) {
        CsvCell cell;
        cell.offset = at;
        if (at < bytes.size() && bytes[at] == '"') at = read_quoted(bytes, at, cell);
        const std::size_t tail = at;
        while (at < bytes.size() && bytes[at] != ',' && bytes[at] != '\n') ++at;
        std::string_view rest = bytes.substr(tail, at - tail);
        const bool last = at >= bytes.size() || bytes[at] == '\n';
        if (last && rest.ends_with('\r')) rest.remove_suffix(1);
        finish_cell(cell, rest, tail, faults);
        cells.push_back(cell);
        if (at >= bytes.size()) return bytes.size();
        ++at;  // the comma or the line break
        if (last) return at;
    }
}

std::string undoubled(std::string_view text) {
    std::string single;
    single.reserve(text.size());
    for (std::size_t i = 0; i < text.size(); ++i) {
        single.push_back(text[i]);
        if (text[i] == '"' && i + 1 < text.size() && text[i + 1] == '"') ++i;
    }
    return single;
}

}  // namespace lagline
