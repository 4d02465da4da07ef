#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "report/merge/record_reader.h"

namespace lagline {

/// A cell of a record, as bytes of it: the quotes belong to it.
struct CellSpan {
    std::size_t begin = 0;
    std::size_t end = 0;
    [[nodiscard]] std::string_view of(std::string_view record) const {
        return record.substr(begin, end - begin);
    }
};

/// Cuts a record at its commas; `cells` is cleared first.
void cut_at_commas(std::string_view record, std::vector<CellSpan>& cells);

/// Heading of a ranking: where the columns stand that merging needs.
struct RankingHeading {
    std::string text;  ///< as it stands in the file, without line end
    std::string file;
    std::uint32_t line = 0;
    std::size_t columns = 0;
    std::size_t rank = 0;
    std::size_t segment = 0;
    std::size_t risk = 0;
    std::size_t currency = 0;
    /// The columns of the outlook, which a ranking has both or none of.
    struct Today {
        std::size_t rank = 0;
        std::size_t risk = 0;
    };
    std::optional<Today> today = {};
};

/// What merging reads of a row.
struct RankedRow {
    std::size_t rank = 0;
    std::string segment;
    double risk = 0.0;
    std::string_view currency;  ///< into the record
    struct Today {
        std::size_t rank = 0;
        double risk = 0.0;
    };
    std::optional<Today> today = {};  ///< nothing where the row has no risk today
};

/// Where a record stands, to report a fault in it.
struct RecordPlace {
    const std::string& file;
    std::string_view record;
    std::uint32_t line = 0;
};
[[nodiscard]] RecordPlace place_of(const PartFile& file, const RecordReader& reader);

/// A fault of a cell.
struct FieldFault {
    Problem problem{};
    std::string_view column;
    std::string found;
    std::string expected;
    std::string mend;
};
void add_at(Report& report, const RecordPlace& place, CellSpan cell, FieldFault fault);

/// Nothing, with the reason in `report`, when the record is no heading of a ranking.
[[nodiscard]] std::optional<RankingHeading> read_heading(const RecordPlace& place, Report& report);

/// Says where `place` differs from the heading that all parts must have.
void report_other_heading(const RankingHeading& heading, const RecordPlace& place, Report& report);

/// Nothing, with the reason in `report`, when the cells that merging needs cannot be read.
/// @param cells  the record cut at its commas
[[nodiscard]] std::optional<RankedRow> read_row(const RankingHeading& heading,
                                                const RecordPlace& place,
                                                const std::vector<CellSpan>& cells, Report& report);

/// A number of a ranking that is known to be one.
[[nodiscard]] double number_in(std::string_view cell);

}  // namespace lagline
