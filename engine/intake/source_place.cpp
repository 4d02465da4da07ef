#include <algorithm>

#include "diagnostics/text.h"
#include "intake/source_file.h"

namespace lagline {
namespace {

// The cell of a sheet that a byte belongs to, counted by the commas outside quotes before it.
Place place_in_sheet(const SourceText& source, std::size_t offset) {
    const SheetGrid& grid = *source.grid;
    Place place = whole_of(source);
    if (grid.offsets.empty()) return place;
    const std::size_t record = grid.record_at(offset);
    place.line = static_cast<int>(grid.rows[record]);
    place.column = 1;
    bool quoted = false;
    for (std::size_t at = grid.offsets[record]; at < offset; ++at) {
        if (source.bytes[at] == '"') quoted = !quoted;
        if (source.bytes[at] == ',' && !quoted) ++place.column;
    }
    return place;
}

}  // namespace

Place place_from(const SourceText& source, std::size_t known_offset, int known_line,
                 std::size_t offset) {
    offset = std::min(offset, source.bytes.size());
    if (source.grid) return place_in_sheet(source, offset);
    const std::string_view between = source.bytes.substr(known_offset, offset - known_offset);
    const auto breaks = std::ranges::count(between, '\n');
    std::size_t line_start = 0;
    if (offset > 0) {
        const auto newline = source.bytes.rfind('\n', offset - 1);
        line_start = newline == std::string_view::npos ? 0 : newline + 1;
    }
    const auto column = display_width(source.bytes.substr(line_start, offset - line_start));
    return {source.file, known_line + static_cast<int>(breaks), static_cast<int>(column) + 1};
}

void PlaceFinder::start(std::size_t offset, int line) {
    start_ = at_ = offset;
    start_line_ = line;
    place_ = {"", line, 1};
}

Place PlaceFinder::at(std::size_t offset) {
    offset = std::min(offset, source_->bytes.size());
    if (source_->grid) return place_in_sheet(*source_, offset);
    if (offset < at_) start(start_, start_line_);
    std::string_view between = source_->bytes.substr(at_, offset - at_);
    if (const auto newline = between.rfind('\n'); newline != std::string_view::npos) {
        place_.line += static_cast<int>(std::ranges::count(between, '\n'));
        place_.column = 1;
        between.remove_prefix(newline + 1);
    }
    place_.column += static_cast<int>(display_width(between));
    at_ = offset;
    return {source_->file, place_.line, place_.column};
}

Place place_at(const SourceText& source, std::size_t offset) {
    return place_from(source, 0, 1, offset);
}

Excerpt excerpt_at(const SourceText& source, std::size_t offset, std::size_t width) {
    constexpr std::size_t most_before = 40;
    constexpr std::size_t most_after = 60;
    offset = std::min(offset, source.bytes.size());
    std::size_t start = offset;
    while (start > 0 && source.bytes[start - 1] != '\n' && offset - start < most_before) --start;
    // Do not start in the middle of a code point.
    while (start < offset && (static_cast<unsigned char>(source.bytes[start]) & 0xC0U) == 0x80U) {
        ++start;
    }
    std::size_t end = offset;
    while (end < source.bytes.size() && source.bytes[end] != '\n' && end - offset < most_after) {
        ++end;
    }
    // A line end of CR LF is no part of the line.
    const bool at_line_end = end == source.bytes.size() || source.bytes[end] == '\n';
    if (at_line_end && end > offset && source.bytes[end - 1] == '\r') --end;
    const bool cut = start > 0 && source.bytes[start - 1] != '\n';
    const std::string head = cut ? "…" : "";
    const std::string before = printable(source.bytes.substr(start, offset - start), 1000);
    const std::string after = printable(source.bytes.substr(offset, end - offset), 1000);
    return {head + before + after, display_width(head) + display_width(before),
            std::max<std::size_t>(1, std::min(width, display_width(after)))};
}

}  // namespace lagline
