#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "blocks/parallel.h"
#include "diagnostics/diagnostic.h"
#include "plant/sheet.h"

namespace lagline {

/// The content of a text file, or nothing with the reason in `report`: missing, not a file,
/// unreadable, empty, not UTF-8 (first bad byte with line and column), or UTF-16.
/// A UTF-8 byte-order mark is left off.
/// @param path   file to read; read whole, so that a later change of the file changes nothing here
/// @param shown  name used in messages
/// @param plan   threads that read and check a large file
[[nodiscard]] std::optional<SourceText> read_source(const std::filesystem::path& path,
                                                    const std::string& shown, Report& report,
                                                    const WorkPlan& plan = {});

/// A text that is already in memory, as it is: without these checks.
[[nodiscard]] SourceText source_of(std::string text, const std::string& shown);

/// The same checks on text that is already in memory.
[[nodiscard]] std::optional<SourceText> source_from_text(std::string text, const std::string& shown,
                                                         Report& report);

/// Line and column (code points, from 1) of a byte; in a sheet of a workbook its row and column.
[[nodiscard]] Place place_at(const SourceText& source, std::size_t offset);

/// Line and column of a byte, counting from a place already known at or before it.
[[nodiscard]] Place place_from(const SourceText& source, std::size_t known_offset, int known_line,
                               std::size_t offset);

/// Places of many offsets of one source.  Counts on from the last one asked for, so that a line
/// with many findings is not gone through once for each of them.
class PlaceFinder {
  public:
    explicit PlaceFinder(const SourceText& source) : source_(&source) {}
    /// Counts from here on: `offset` is the first byte of line `line`.
    void start(std::size_t offset, int line);
    /// @param offset  at or behind where it was started; cheap when not before the last one
    [[nodiscard]] Place at(std::size_t offset);

  private:
    const SourceText* source_;
    std::size_t start_ = 0;
    int start_line_ = 1;
    std::size_t at_ = 0;
    Place place_{"", 1, 1};
};

/// The line of `source` that holds `offset`, with `width` characters from there marked.
[[nodiscard]] Excerpt excerpt_at(const SourceText& source, std::size_t offset, std::size_t width);

}  // namespace lagline
