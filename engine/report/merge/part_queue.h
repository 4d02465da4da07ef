#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "report/merge/ranking_merge.h"
#include "report/merge/record_reader.h"

namespace lagline {

/// Rows of many parts in the order of the whole: falling risk, equal ones by name.
class PartQueue {
  public:
    PartQueue(const RankingHeading& heading, std::span<const PartFile> files,
              std::span<const RankedPart> parts, const RowKeys& keys);

    /// Appends the row that goes before all others, with its ranks among all, and takes it out.
    /// There must be one.
    void append_first(std::size_t rank, std::string& csv);

  private:
    /// The first row of a part that is not yet out.
    struct Head {
        RecordReader reader;
        std::size_t row = 0;  ///< among all rows, in the order of the parts
        std::size_t end_row = 0;
        double risk = 0.0;
        CellSpan rank_today = {};
    };
    void read_head(Head& head);
    [[nodiscard]] bool goes_behind(std::size_t a, std::size_t b) const;

    const RankingHeading& heading_;
    const RowKeys& keys_;
    std::vector<Head> heads_;
    std::vector<std::size_t> heap_;  ///< of heads_
    std::vector<CellSpan> cells_;
};

}  // namespace lagline
