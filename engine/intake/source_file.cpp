#include "intake/source_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <memory>
#include <new>

#include "diagnostics/text.h"

namespace lagline {
namespace {

// Some thousand million segments.  A sparse file can say any size, and a system that promises
// memory it does not have would take it at its word.
constexpr std::size_t most_bytes = std::size_t{1} << 38U;

struct Descriptor {
    int fd = -1;
    explicit Descriptor(int opened) : fd(opened) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() {
        if (fd >= 0) ::close(fd);
    }
};

void refuse(Report& report, Problem problem, const std::string& shown, std::string found,
            std::string expected, std::string mend) {
    report.add({.problem = problem,
                .where = {shown, 0, 0},
                .subject = "",
                .found = std::move(found),
                .expected = std::move(expected),
                .mend = std::move(mend),
                .excerpt = {}});
}

bool has_room(std::string& text, std::size_t bytes) {
    try {
        text.reserve(bytes);
        return true;
    } catch (const std::bad_alloc&) {
        return false;
    }
}

// Reads to the end whatever the descriptor is: a pipe has no size to ask for.
bool read_all(int fd, std::size_t size_hint, std::string& into) {
    constexpr std::size_t step = std::size_t{1} << 20;
    into.resize(size_hint + 1);
    std::size_t filled = 0;
    while (true) {
        if (filled == into.size()) into.resize(into.size() + std::max(step, into.size() / 2));
        const ssize_t got = ::read(fd, into.data() + filled, into.size() - filled);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return false;
        if (got == 0) break;
        filled += static_cast<std::size_t>(got);
    }
    into.resize(filled);
    return true;
}

bool is_utf16(std::string_view bytes) {
    return bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF");
}

std::string hex_byte(char byte) {
    constexpr std::string_view digits = "0123456789ABCDEF";
    const auto value = static_cast<unsigned char>(byte);
    return {'0', 'x', digits[value >> 4U], digits[value & 15U]};
}

void refuse_encoding(Report& report, const SourceText& source, std::size_t offset) {
    report.add({.problem = Problem::not_utf8,
                .where = place_at(source, offset),
                .subject = "",
                .found = "byte " + hex_byte(source.bytes[offset]) + ", which is not UTF-8 here",
                .expected = "text encoded as UTF-8",
                .mend = "save the file as UTF-8; if it is Latin-1: iconv -f latin1 -t utf-8",
                .excerpt = excerpt_at(source, offset, 1)});
}

// UTF-16 without a mark is, by its bytes, UTF-8 with a zero byte beside each letter.
void refuse_zero(Report& report, const SourceText& source, std::size_t offset) {
    report.add({.problem = Problem::not_utf8,
                .where = place_at(source, offset),
                .subject = "",
                .found = "a zero byte, which no text has",
                .expected = "text encoded as UTF-8",
                .mend =
                    "save the file as \"CSV UTF-8\"; if it is UTF-16: iconv -f utf-16le -t utf-8; "
                    "if it is a workbook, export the sheet as CSV",
                .excerpt = excerpt_at(source, offset, 1)});
}

bool is_zip(std::string_view bytes) { return bytes.starts_with("PK\x03\x04"); }

void refuse_workbook(Report& report, const std::string& shown) {
    refuse(report, Problem::not_utf8, shown, "a workbook or archive under the name of a text file",
           "text encoded as UTF-8",
           "if it is a workbook, give it the name .xlsx; else export the sheet as CSV UTF-8");
}

// What makes bytes no text, told once; true when there was something.
bool refuse_no_text(Report& report, const SourceText& source) {
    if (const auto zero = source.bytes.find('\0'); zero != std::string_view::npos) {
        refuse_zero(report, source, zero);
        return true;
    }
    if (const auto bad = first_invalid_utf8(source.bytes); bad != std::string_view::npos) {
        refuse_encoding(report, source, bad);
        return true;
    }
    return false;
}

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

SourceText source_of(std::string text, const std::string& shown) {
    auto owner = std::make_shared<const std::string>(std::move(text));
    return {shown, *owner, owner};
}

std::optional<SourceText> source_from_text(std::string text, const std::string& shown,
                                           Report& report) {
    SourceText source = source_of(std::move(text), shown);
    if (is_utf16(source.bytes)) {
        refuse(report, Problem::not_utf8, shown, "a file in UTF-16", "text encoded as UTF-8",
               "save it as \"CSV UTF-8\", or: iconv -f utf-16 -t utf-8");
        return std::nullopt;
    }
    if (is_zip(source.bytes)) {
        refuse_workbook(report, shown);
        return std::nullopt;
    }
    constexpr std::string_view mark = "\xEF\xBB\xBF";
    if (source.bytes.starts_with(mark)) source.bytes.remove_prefix(mark.size());
    if (trimmed(source.bytes).empty()) {
        refuse(report, Problem::empty_file, shown, "an empty file", "text",
               "fill the file, or remove it if it is optional");
        return std::nullopt;
    }
    if (refuse_no_text(report, source)) return std::nullopt;
    return source;
}

std::optional<std::string> read_bytes(const std::filesystem::path& path, const std::string& shown,
                                      Report& report) {
    // The flag keeps a named pipe without a writer from blocking for ever.
    const Descriptor file{::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK)};
    if (file.fd < 0) {
        const bool missing = errno == ENOENT;
        refuse(
            report, missing ? Problem::missing_file : Problem::unreadable_file, shown,
            missing ? "no such file" : std::string{"it cannot be opened: "} + std::strerror(errno),
            "a readable file",
            missing ? "put the file there; `lagline new` shows what it looks like"
                    : "check owner and permissions of the file");
        return std::nullopt;
    }
    struct stat status {};
    if (::fstat(file.fd, &status) != 0 || S_ISDIR(status.st_mode)) {
        refuse(report, Problem::not_a_file, shown, "a directory", "a file",
               "remove the directory, or give the file that belongs here");
        return std::nullopt;
    }
    std::string text;
    const auto hint = S_ISREG(status.st_mode) ? static_cast<std::size_t>(status.st_size) : 0;
    if (hint > most_bytes || !has_room(text, hint + 1)) {
        refuse(report, Problem::unreadable_file, shown,
               std::to_string(hint) + " bytes, more than there is memory for", "a readable file",
               "check whether this is the file that was meant; split it if it is");
        return std::nullopt;
    }
    if (!read_all(file.fd, hint, text)) {
        refuse(report, Problem::unreadable_file, shown,
               std::string{"it cannot be read: "} + std::strerror(errno), "a readable file",
               "check the disk and the permissions of the file");
        return std::nullopt;
    }
    return text;
}

std::optional<SourceText> read_source(const std::filesystem::path& path, const std::string& shown,
                                      Report& report) {
    auto text = read_bytes(path, shown, report);
    if (!text) return std::nullopt;
    return source_from_text(std::move(*text), shown, report);
}

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
