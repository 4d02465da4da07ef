#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "blocks/parallel.h"
#include "blocks/row_vector.h"
#include "diagnostics/diagnostic.h"
#include "plant/sheet.h"

namespace lagline {

// RFC 4180: fields apart by commas, records by LF or CRLF; a field in double quotes may hold
// commas, line breaks and doubled quotes.

/// One field of a record.
struct CsvCell {
    std::string_view text;   ///< content without the outer quotes
    std::size_t offset = 0;  ///< byte of the field in the source, at its quote if it has one
    bool quoted = false;
    bool doubled = false;  ///< content holds doubled quotes: see undoubled()
};

/// Where the records of a source stand.
struct CsvRecords {
    RowVector<std::uint64_t> offsets;  ///< first byte of each record
    RowVector<std::uint32_t> lines;    ///< line of that byte, or row of a sheet, from 1
    bool torn = false;                 ///< the last record was lost to an open quote
};

/// Finds the records of `source`, quotes respected; records without any content are left out.
/// A quote that is never closed is reported; the record it stands in is left out, with all that
/// follows.
/// @param plan  threads that look through a large source; the result does not depend on them
[[nodiscard]] CsvRecords find_records(const SourceText& source, Report& report,
                                      const WorkPlan& plan = {});

/// A fault inside a record.
struct CsvFault {
    std::size_t offset = 0;
    std::string found;
    std::string mend;
};

/// Splits the record that starts at `offset` into `cells` (cleared first).
/// @return one past the record's last byte, line break included
std::size_t split_record(std::string_view bytes, std::size_t offset, std::vector<CsvCell>& cells,
                         std::vector<CsvFault>& faults);

/// The same for a record without any quote, which is nearly every one, and only for such: cells are
/// what split_record() makes of them, trimmed.  False where there is a quote.
[[nodiscard]] bool split_plain_record(std::string_view bytes, std::size_t offset,
                                      std::vector<CsvCell>& cells);

/// Content of a cell with its doubled quotes made single.
[[nodiscard]] std::string undoubled(std::string_view text);

}  // namespace lagline
