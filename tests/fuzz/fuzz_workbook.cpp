// A workbook: bytes of an archive as they are, or parts as text, "==== NAME" before each, which
// are packed first so that a change of a part gets past the check sums of the archive.
#include "../workbook/zipped.h"
#include "fuzz_input.h"

namespace lagline {
namespace {

constexpr std::string_view border = "==== ";

Parts parts_of(std::string_view text) {
    Parts parts;
    while (text.starts_with(border)) {
        text.remove_prefix(border.size());
        const std::size_t end = text.find('\n');
        const std::string name{text.substr(0, end)};
        text = end == text.npos ? std::string_view{} : text.substr(end + 1);
        const std::size_t next = text.find("\n==== ");
        parts[name] = std::string{text.substr(0, next)};
        text = next == text.npos ? std::string_view{} : text.substr(next + 1);
    }
    return parts;
}

/// The archive of the parts; nothing for names that no archive can have.
std::string archive_of(const std::string& text) {
    if (!text.starts_with(border)) return text;
    try {
        return zipped(parts_of(text));
    } catch (const std::runtime_error&) {
        return {};
    }
}

void try_workbook(std::string bytes) {
    const WorkbookLimits limits{.file_bytes = 1U << 20U,
                                .unpacked_bytes = 4U << 20U,
                                .ratio = 200,
                                .ratio_from_bytes = 1U << 16U,
                                .text_bytes = 1U << 20U,
                                .parts = 100,
                                .entries = 10'000,
                                .depth = 64,
                                .token_bytes = 1U << 16U};
    Report report;
    auto workbook = Workbook::open(std::move(bytes), "made.xlsx", report, limits);
    must_be_told(report, !workbook);
    if (!workbook) return;
    for (const WorkbookSheet& sheet : workbook->sheets()) {
        std::size_t kept = 0;
        std::uint32_t last_row = 0;
        const auto take = [&](std::uint32_t row, std::span<const SheetCell> cells) {
            must_hold(row > last_row && row <= last_sheet_row, "rows come in order");
            last_row = row;
            for (const SheetCell& cell : cells) {
                must_hold(cell.column >= 1 && cell.column <= last_sheet_column, "a column");
                kept += cell.text.size();
            }
            return kept < limits.text_bytes;
        };
        const std::size_t before = report.errors();
        const bool table = workbook->read(sheet, take, report);
        must_be_told(report, !table && report.errors() == before);
    }
}

}  // namespace
}  // namespace lagline

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer calls
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    lagline::try_workbook(lagline::archive_of(lagline::text_of(data, size)));
    return 0;
}
