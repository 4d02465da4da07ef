#include "intake/csv.h"

#include <algorithm>
#include <bit>
#include <cstring>

#include "diagnostics/text.h"
#include "intake/file_bytes.h"
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

// What a thread looks through at a time, and the lines and records in it.
struct Chunk {
    std::size_t begin = 0;
    std::size_t end = 0;
    std::size_t lines = 0;
    /// No quoted field goes on over the end of a line: every record is a line.  Only then are the
    /// two below those of the whole chunk.
    bool plain = true;
    std::vector<std::uint64_t> offsets;
    std::vector<std::uint32_t> line_in_chunk;
};

// Records are found chunk by chunk on several threads, each taking a line for a record.  Where that
// is not so, the records of a chunk are found one after the other.
class RecordFinder {
  public:
    RecordFinder(const SourceText& source, const WorkPlan& plan)
        : source_(source), bytes_(source.bytes), plan_(plan) {}

    CsvRecords find(Report& report) {
        cut();
        const WorkPlan by_chunk{1, plan_.threads, nullptr};
        for_each_block(chunks_.size(), by_chunk,
                       [&](std::size_t chunk, RowRange) { look_through(chunks_[chunk]); });
        if (std::ranges::all_of(chunks_, &Chunk::plain)) return gather(by_chunk);
        return go_through(report);
    }

  private:
    // Chunks end where lines do.
    void cut() {
        for (std::size_t at = 0; at < bytes_.size();) {
            Chunk chunk;
            chunk.begin = at;
            chunk.end = at = after_line(bytes_, std::min(bytes_.size(), at + chunk_bytes) - 1);
            chunks_.push_back(std::move(chunk));
        }
    }

    void look_through(Chunk& chunk) const {
        const bool quotes =
            std::memchr(bytes_.data() + chunk.begin, '"', chunk.end - chunk.begin) != nullptr;
        for (std::size_t at = chunk.begin; at < chunk.end; ++chunk.lines) {
            const std::size_t end = after_line(bytes_, at);
            if (quotes && !ends_with_line(at, end)) {
                chunk.plain = false;
                return;
            }
            if (has_content(bytes_.substr(at, end - at))) {
                chunk.offsets.push_back(at);
                chunk.line_in_chunk.push_back(static_cast<std::uint32_t>(chunk.lines));
            }
            at = end;
        }
    }

    // True when a record that starts at `at` ends at the end of that line.
    [[nodiscard]] bool ends_with_line(std::size_t at, std::size_t line_end) const {
        if (std::memchr(bytes_.data() + at, '"', line_end - at) == nullptr) return true;
        std::size_t open = std::string_view::npos;
        const std::size_t end = after_record(bytes_.substr(0, line_end), at, open);
        return end == line_end && open == std::string_view::npos;
    }

    [[nodiscard]] CsvRecords gather(const WorkPlan& by_chunk) const {
        std::vector<std::size_t> first_record{0};
        std::vector<std::uint32_t> first_line{1};
        for (const Chunk& chunk : chunks_) {
            first_record.push_back(first_record.back() + chunk.offsets.size());
            first_line.push_back(first_line.back() + static_cast<std::uint32_t>(chunk.lines));
        }
        CsvRecords found;
        found.offsets.resize(first_record.back());
        found.lines.resize(first_record.back());
        for_each_block(chunks_.size(), by_chunk, [&](std::size_t i, RowRange) {
            const Chunk& chunk = chunks_[i];
            const auto at = static_cast<std::ptrdiff_t>(first_record[i]);
            std::ranges::copy(chunk.offsets, found.offsets.begin() + at);
            std::ranges::transform(chunk.line_in_chunk, found.lines.begin() + at,
                                   [&](std::uint32_t line) { return first_line[i] + line; });
        });
        return found;
    }

    CsvRecords go_through(Report& report) {
        CsvRecords found;
        std::size_t at = 0;
        std::uint32_t line = 1;
        for (const Chunk& chunk : chunks_) {
            if (at == chunk.begin && chunk.plain) {
                found.offsets.insert(found.offsets.end(), chunk.offsets.begin(),
                                     chunk.offsets.end());
                for (const std::uint32_t i : chunk.line_in_chunk) found.lines.push_back(line + i);
                line += static_cast<std::uint32_t>(chunk.lines);
                at = chunk.end;
            }
            while (at < chunk.end && !found.torn) take_record(at, line, found, report);
        }
        return found;
    }

    void take_record(std::size_t& at, std::uint32_t& line, CsvRecords& found, Report& report) {
        std::size_t open = std::string_view::npos;
        const std::size_t end = after_record(bytes_, at, open);
        if (open != std::string_view::npos) {
            report.add({.problem = Problem::csv_quote,
                        .where = place_from(source_, at, static_cast<int>(line), open),
                        .subject = "",
                        .found = "a quote that is never closed",
                        .expected = "a closing quote before the next comma or line break",
                        .mend = "close the quote, or remove it",
                        .excerpt = excerpt_at(source_, open, 1)});
            found.torn = true;
            return;
        }
        const std::string_view record = bytes_.substr(at, end - at);
        if (has_content(record)) {
            found.offsets.push_back(at);
            found.lines.push_back(line);
        }
        line += static_cast<std::uint32_t>(std::ranges::count(record, '\n'));
        at = end;
    }

    const SourceText& source_;
    std::string_view bytes_;
    const WorkPlan& plan_;
    std::vector<Chunk> chunks_;
};

// Bytes of a word that are less than `limit`, each by its high bit.
constexpr std::uint64_t bytes_below(std::uint64_t word, std::uint64_t limit) {
    constexpr std::uint64_t each = ~std::uint64_t{0} / 255;
    const std::uint64_t low = word & (each * 127);
    return (each * (127 + limit) - low) & ~word & (each * 128);
}

// A cell between two commas, without a quote in it.
CsvCell plain_cell(std::string_view bytes, std::size_t begin, std::size_t end) {
    CsvCell cell;
    cell.offset = begin;
    cell.text = bytes.substr(begin, end - begin);
    const auto bare = [](char c) { return c > ' ' && c <= '~'; };
    if (!cell.text.empty() && !(bare(cell.text.front()) && bare(cell.text.back()))) {
        cell.text = trimmed(cell.text);
    }
    return cell;
}

}  // namespace

CsvRecords find_records(const SourceText& source, Report& report, const WorkPlan& plan) {
    RecordFinder finder{source, plan};
    CsvRecords found = finder.find(report);
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

bool split_plain_record(std::string_view bytes, std::size_t offset, std::vector<CsvCell>& cells) {
    // Commas, quotes and line breaks are all below '-', and little else in a table is.
    static_assert(std::endian::native == std::endian::little, "the first byte is the lowest");
    constexpr std::uint64_t limit = '-';
    static_assert(',' < limit && '"' < limit && '\n' < limit);
    cells.clear();
    std::size_t begin = offset;
    for (std::size_t at = offset;; at += sizeof(std::uint64_t)) {
        std::uint64_t word = 0;
        if (at + sizeof word <= bytes.size()) {
            std::memcpy(&word, bytes.data() + at, sizeof word);
        } else if (at < bytes.size()) {
            std::memcpy(&word, bytes.data() + at, bytes.size() - at);
        }
        for (std::uint64_t low = bytes_below(word, limit); low != 0; low &= low - 1) {
            const std::size_t here = at + static_cast<std::size_t>(std::countr_zero(low)) / 8;
            const char byte = here < bytes.size() ? bytes[here] : '\n';
            if (byte == '"') return false;
            if (byte == ',' || byte == '\n') {
                cells.push_back(plain_cell(bytes, begin, here));
                begin = here + 1;
            }
            if (byte == '\n') return true;
        }
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
