#include "ledger/stored_ranks.h"

#include <algorithm>
#include <charconv>
#include <vector>

#include "intake/csv.h"
#include "intake/source_file.h"

namespace lagline {
namespace {

std::optional<std::size_t> column_named(const std::vector<CsvCell>& heading,
                                        std::string_view name) {
    const auto found = std::ranges::find(heading, name, &CsvCell::text);
    if (found == heading.end()) return std::nullopt;
    return static_cast<std::size_t>(found - heading.begin());
}

std::optional<std::int64_t> whole_number(std::string_view text) {
    std::int64_t number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return number;
}

}  // namespace

std::optional<SegmentRanks> ranks_of(std::string csv) {
    Report report;
    const auto source = source_from_text(std::move(csv), ranking_path, report);
    if (!source) return std::nullopt;
    const CsvRecords records = find_records(*source, report);
    std::vector<CsvCell> cells;
    std::vector<CsvFault> faults;
    if (records.offsets.empty()) return std::nullopt;
    split_record(source->bytes, records.offsets.front(), cells, faults);
    const auto rank = column_named(cells, "rank");
    const auto segment = column_named(cells, "segment");
    if (!rank || !segment) return std::nullopt;
    SegmentRanks ranks;
    for (std::size_t i = 1; i < records.offsets.size(); ++i) {
        split_record(source->bytes, records.offsets[i], cells, faults);
        if (cells.size() <= std::max(*rank, *segment)) return std::nullopt;
        const auto number = whole_number(cells[*rank].text);
        const CsvCell& name = cells[*segment];
        if (!number) return std::nullopt;
        ranks.emplace(name.doubled ? undoubled(name.text) : std::string{name.text}, *number);
    }
    return ranks;
}

}  // namespace lagline
