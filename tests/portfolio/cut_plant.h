#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "commands/program.h"
#include "support/temp_folder.h"

namespace lagline {

/// A table as its lines; no cell of it holds a line break.
struct Table {
    std::string heading;
    std::vector<std::string> rows;
};
[[nodiscard]] Table table_of(const std::string& file);

/// Day that counts as today in these tests.
inline const std::string portfolio_day = "2026-11-25";

/// A plant of some segments of the sample plant, to be ranked whole or in parts.  Every third
/// segment stands there twice more, under a name before and one behind all others: risks that are
/// equal.  Some segments have inspections, some overrides.
class CutPlant {
  public:
    explicit CutPlant(std::size_t segments);

    [[nodiscard]] std::string path() const { return folder_.path().string(); }
    [[nodiscard]] const TempFolder& folder() const { return folder_; }
    [[nodiscard]] const Table& segments() const { return segments_; }
    /// The ranking of one process.
    [[nodiscard]] std::string whole(const Arguments& more = {}) const;
    /// Ranks rows [begin, end) of segments.csv through a pipe; they need not be there.
    [[nodiscard]] Ran rank_part(std::size_t begin, std::size_t end,
                                const Arguments& more = {}) const;
    /// Ranks parts of `rows` rows each and gives the files, the last part first.
    [[nodiscard]] std::vector<std::string> rank_parts(std::size_t rows,
                                                      const Arguments& more = {}) const;

  private:
    TempFolder folder_;
    Table segments_;
};

/// `lagline merge` of these files.
[[nodiscard]] Ran merge(const std::vector<std::string>& files, const Arguments& more = {},
                        const RunChoice& choice = {});

}  // namespace lagline
