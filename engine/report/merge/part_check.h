#pragma once

#include <optional>
#include <string>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "report/merge/part_rows.h"

namespace lagline {

/// Checks the rows of the rankings in one file, one after the other.
class PartCheck {
  public:
    PartCheck(const PartFile& file, Report& report) : file_(file), report_(report) {}

    /// A ranking begins: its first row has rank 1.
    void start();
    /// Nothing, and a report, when the row cannot be read.
    [[nodiscard]] std::optional<RankedRow> read(const RankingHeading& heading,
                                                const RecordPlace& place);
    /// False, and a report, when the row does not follow on the one before or is of other money.
    [[nodiscard]] bool is_next(const RankingHeading& heading, const RecordPlace& place,
                               const RankedRow& row, const std::string& currency);

  private:
    const PartFile& file_;
    Report& report_;
    std::vector<CellSpan> cells_;
    std::size_t rank_ = 0;
    double risk_ = 0.0;
    std::string segment_;
    bool lost_ = false;  ///< the order has been found wrong, which later rows would say again
};

}  // namespace lagline
