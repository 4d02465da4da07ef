#include "report/merge/part_check.h"

#include <utility>

#include "blocks/number_text.h"
#include "diagnostics/text.h"

namespace lagline {

void PartCheck::start() {
    rank_ = 0;
    lost_ = false;
}

std::optional<RankedRow> PartCheck::read(const RankingHeading& heading, const RecordPlace& place) {
    cut_at_commas(place.record, cells_);
    auto row = read_row(heading, place, cells_, report_);
    if (!row) lost_ = true;
    return row;
}

bool PartCheck::is_next(const RankingHeading& heading, const RecordPlace& place,
                        const RankedRow& row, const std::string& currency) {
    if (row.currency != currency) {
        add_at(report_, place, cells_[heading.currency],
               {Problem::contradiction, "currency", "'" + printable(row.currency) + "'",
                "'" + printable(currency) + "', as in the first row of all",
                "money of two currencies is in no order; rank all parts with one plant.yaml"});
        return false;
    }
    const bool follows = row.rank == rank_ + 1;
    const bool falls =
        rank_ == 0 || row.risk < risk_ || (!(row.risk > risk_) && row.segment > segment_);
    const std::size_t before = std::exchange(rank_, row.rank);
    if (!lost_ && !follows) {
        add_at(report_, place, cells_[heading.rank],
               {Problem::contradiction, "rank", std::to_string(row.rank),
                std::to_string(before + 1) + ": rows in order of rank, none left out",
                "give each part as `lagline rank` wrote it"});
    } else if (!lost_ && !falls) {
        add_at(report_, place, cells_[heading.risk],
               {Problem::contradiction, "risk",
                exact_number(row.risk) + ", in a row behind one of " + exact_number(risk_),
                "rows by falling risk, equal ones by segment",
                "give each part as `lagline rank` wrote it"});
    }
    lost_ = lost_ || !follows || !falls;
    risk_ = row.risk;
    segment_ = row.segment;
    return !lost_;
}

}  // namespace lagline
