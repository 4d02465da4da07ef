#include "intake/source_file.h"

#include <algorithm>
#include <memory>
#include <vector>

#include "diagnostics/text.h"
#include "intake/file_bytes.h"

namespace lagline {
namespace {

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
    refuse_file(report, Problem::not_utf8, shown,
                "a workbook or archive under the name of a text file", "text encoded as UTF-8",
                "if it is a workbook, give it the name .xlsx; else export the sheet as CSV UTF-8");
}

// A chunk starts at the first byte that does not go on with a code point begun before it.
std::size_t code_point_start(std::string_view bytes, std::size_t at) {
    constexpr std::size_t longest = 4;
    for (std::size_t i = 1; i < longest && at < bytes.size(); ++i, ++at) {
        if ((static_cast<unsigned char>(bytes[at]) & 0xC0U) != 0x80U) break;
    }
    return at;
}

// The first bytes that no text has; npos where there are none.
struct BadBytes {
    std::size_t zero = std::string_view::npos;
    std::size_t encoding = std::string_view::npos;
};

BadBytes find_bad_bytes(std::string_view bytes, const WorkPlan& plan) {
    std::vector<BadBytes> found((bytes.size() + chunk_bytes - 1) / chunk_bytes);
    for_each_chunk(bytes.size(), plan, [&](std::size_t chunk, RowRange range) {
        const std::size_t begin = chunk == 0 ? 0 : code_point_start(bytes, range.begin);
        const std::size_t end = code_point_start(bytes, range.end);
        const std::string_view part = bytes.substr(begin, end - begin);
        const auto whole = [&](std::size_t at) { return at == part.npos ? at : begin + at; };
        found[chunk] = {whole(part.find('\0')), whole(first_invalid_utf8(part))};
    });
    BadBytes first;
    for (const BadBytes& bad : found) {
        first.zero = std::min(first.zero, bad.zero);
        first.encoding = std::min(first.encoding, bad.encoding);
    }
    return first;
}

// What makes bytes no text, told once; true when there was something.
bool refuse_no_text(Report& report, const SourceText& source, const WorkPlan& plan) {
    const BadBytes bad = find_bad_bytes(source.bytes, plan);
    if (bad.zero != std::string_view::npos) {
        refuse_zero(report, source, bad.zero);
        return true;
    }
    if (bad.encoding != std::string_view::npos) {
        refuse_encoding(report, source, bad.encoding);
        return true;
    }
    return false;
}

std::optional<SourceText> checked(SourceText source, Report& report, const WorkPlan& plan) {
    if (is_utf16(source.bytes)) {
        refuse_file(report, Problem::not_utf8, source.file, "a file in UTF-16",
                    "text encoded as UTF-8",
                    "save it as \"CSV UTF-8\", or: iconv -f utf-16 -t utf-8");
        return std::nullopt;
    }
    if (is_zip(source.bytes)) {
        refuse_workbook(report, source.file);
        return std::nullopt;
    }
    constexpr std::string_view mark = "\xEF\xBB\xBF";
    if (source.bytes.starts_with(mark)) source.bytes.remove_prefix(mark.size());
    if (trimmed(source.bytes).empty()) {
        refuse_file(report, Problem::empty_file, source.file, "an empty file", "text",
                    "fill the file, or remove it if it is optional");
        return std::nullopt;
    }
    if (refuse_no_text(report, source, plan)) return std::nullopt;
    return source;
}

}  // namespace

SourceText source_of(std::string text, const std::string& shown) {
    auto owner = std::make_shared<const std::string>(std::move(text));
    return {shown, *owner, owner};
}

std::optional<SourceText> source_from_text(std::string text, const std::string& shown,
                                           Report& report) {
    return checked(source_of(std::move(text), shown), report, {});
}

std::optional<SourceText> read_source(const std::filesystem::path& path, const std::string& shown,
                                      Report& report, const WorkPlan& plan) {
    auto source = read_unchecked(path, shown, report, plan);
    if (!source) return std::nullopt;
    return checked(std::move(*source), report, plan);
}

}  // namespace lagline
