#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "blocks/scratch_folder.h"
#include "diagnostics/diagnostic.h"
#include "report/atomic_file.h"
#include "report/merge/part_file.h"
#include "report/merge/part_rows.h"

namespace lagline {

/// A ranking within a file: its rows behind a heading.  A file may hold several.
struct RankedPart {
    std::size_t file = 0;
    std::uint64_t begin = 0;  ///< first byte behind the heading
    std::uint64_t end = 0;
    std::uint32_t line = 0;  ///< of that byte
    std::size_t first_row = 0;
    std::size_t rows = 0;
};

/// What is kept of every row between the two times that the parts are read.
struct RowKeys {
    std::vector<double> risk_today;         ///< not a number where there is none
    std::vector<std::uint32_t> rank_today;  ///< 0 where there is none
    std::vector<std::uint32_t> lines;
    std::string names;                         ///< one behind the other
    std::vector<std::uint64_t> name_begin{0};  ///< one more than there are rows

    [[nodiscard]] std::size_t size() const { return lines.size(); }
    [[nodiscard]] std::string_view name(std::size_t row) const {
        const std::uint64_t begin = name_begin[row];
        return std::string_view{names}.substr(begin, name_begin[row + 1] - begin);
    }
    void add(const RankedRow& row, std::uint32_t line);
};

/// Rankings of parts of a plant, put together to the ranking of the whole: the bytes that one
/// process gives for all the segments.
///
/// A row of a ranking depends on its own segment alone, but for two columns: rank and rank_today.
/// So the rows are merged by falling risk, equal ones by name, and these two are counted anew.
/// The parts are read twice: to check them and to count today's ranks, then to write.  In memory
/// are the names and some 30 bytes a row, not the rows.
class RankingMerge {
  public:
    /// Reads the parts; whatever keeps them from being merged goes to `report`.
    /// @param paths  CSV of `rank`, each with one ranking or several one after the other; "-" is
    ///               standard input
    /// @throws std::runtime_error  when a file is changed meanwhile, or a pipe cannot be copied
    RankingMerge(std::span<const std::string> paths, Report& report);

    [[nodiscard]] std::size_t rows() const { return keys_.size(); }

    /// Gives the merged ranking in pieces; stops when `take` returns false.  Only after a report
    /// without errors.
    /// @param top  rows to give; 0 for all
    /// @return     false when `take` did
    /// @throws std::runtime_error  when a part cannot be read or was changed
    [[nodiscard]] bool write(std::size_t top, const TakeText& take) const;

  private:
    void read_file(std::size_t file, Report& report);
    void check_doubled(Report& report) const;
    void rank_today(Report& report);
    [[nodiscard]] Place place_of_row(std::size_t row) const;
    [[nodiscard]] const RankedPart& part_of(std::size_t row) const;

    ScratchFolder scratch_;
    std::vector<PartFile> files_;
    std::vector<RankedPart> parts_;
    std::optional<RankingHeading> heading_;
    std::string currency_;  ///< of the first row
    RowKeys keys_;
};

}  // namespace lagline
