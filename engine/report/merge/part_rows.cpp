#include "report/merge/part_rows.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <system_error>

#include "diagnostics/text.h"
#include "intake/source_file.h"
#include "report/csv_text.h"

namespace lagline {
namespace {

constexpr std::string_view of_rank = "a row as `lagline rank --format csv` writes it";
constexpr std::string_view make_again = "make this part again; a ranking is not to be edited";

template <class Number>
bool reads_as(std::string_view text, Number& number) {
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    return error == std::errc{} && end == text.data() + text.size();
}

bool is_number(std::string_view text, double& number) {
    return reads_as(text, number) && std::isfinite(number);
}

bool is_rank(std::string_view text, std::size_t& rank) { return reads_as(text, rank) && rank > 0; }

std::string quoted(std::string_view text) { return "'" + printable(text) + "'"; }

std::optional<std::size_t> column_named(std::string_view record, const std::vector<CellSpan>& cells,
                                        std::string_view name) {
    const auto found =
        std::ranges::find_if(cells, [&](CellSpan cell) { return cell.of(record) == name; });
    if (found == cells.end()) return std::nullopt;
    return static_cast<std::size_t>(found - cells.begin());
}

// Today's rank and risk of a row; false when they cannot be read.
bool read_today(const RankingHeading::Today& columns, const RecordPlace& place,
                const std::vector<CellSpan>& cells, RankedRow& row, Report& report) {
    const std::string_view rank = cells[columns.rank].of(place.record);
    const std::string_view risk = cells[columns.risk].of(place.record);
    if (rank.empty() && risk.empty()) return true;
    RankedRow::Today today;
    const bool rank_fits = is_rank(rank, today.rank);
    if (rank_fits && is_number(risk, today.risk)) {
        row.today = today;
        return true;
    }
    add_at(report, place, cells[rank_fits ? columns.risk : columns.rank],
           {Problem::not_a_number, rank_fits ? "risk_today" : "rank_today",
            quoted(rank_fits ? risk : rank), "today's rank and risk, or two empty cells",
            std::string{make_again}});
    return false;
}

}  // namespace

void cut_at_commas(std::string_view record, std::vector<CellSpan>& cells) {
    cells.clear();
    std::size_t begin = 0;
    bool quoted = false;
    for (std::size_t at = 0; at < record.size(); ++at) {
        if (record[at] == '"') quoted = !quoted;
        if (record[at] != ',' || quoted) continue;
        cells.push_back({begin, at});
        begin = at + 1;
    }
    cells.push_back({begin, record.size()});
}

RecordPlace place_of(const PartFile& file, const RecordReader& reader) {
    return {file.shown(), reader.record(), reader.line()};
}

void add_at(Report& report, const RecordPlace& place, CellSpan cell, FieldFault fault) {
    Diagnostic diagnostic{.problem = fault.problem,
                          .where = {place.file, 0, 0},
                          .subject = std::string{fault.column},
                          .found = std::move(fault.found),
                          .expected = std::move(fault.expected),
                          .mend = std::move(fault.mend),
                          .excerpt = {}};
    if (!report.full()) {
        const SourceText source = source_of(std::string{place.record}, place.file);
        diagnostic.where = place_from(source, 0, static_cast<int>(place.line), cell.begin);
        diagnostic.excerpt = excerpt_at(source, cell.begin, display_width(cell.of(place.record)));
    }
    report.add(std::move(diagnostic));
}

std::optional<RankingHeading> read_heading(const RecordPlace& place, Report& report) {
    std::vector<CellSpan> cells;
    cut_at_commas(place.record, cells);
    const auto rank = column_named(place.record, cells, "rank");
    const auto segment = column_named(place.record, cells, "segment");
    const auto risk = column_named(place.record, cells, "risk");
    const auto currency = column_named(place.record, cells, "currency");
    const auto rank_today = column_named(place.record, cells, "rank_today");
    const auto risk_today = column_named(place.record, cells, "risk_today");
    const bool fits =
        rank && segment && risk && currency && rank_today.has_value() == risk_today.has_value();
    if (!fits || *rank != 0) {
        add_at(report, place, cells.front(),
               {Problem::missing_column, "", "no heading of a ranking",
                "a heading with rank, segment, risk and currency, and both or none of rank_today "
                "and risk_today",
                "give what `lagline rank PLANT --stdin --format csv` wrote, heading and all"});
        return std::nullopt;
    }
    RankingHeading heading{.text = std::string{place.record},
                           .file = place.file,
                           .line = place.line,
                           .columns = cells.size(),
                           .rank = *rank,
                           .segment = *segment,
                           .risk = *risk,
                           .currency = *currency};
    if (rank_today) heading.today = {*rank_today, *risk_today};
    return heading;
}

void report_other_heading(const RankingHeading& heading, const RecordPlace& place, Report& report) {
    std::vector<CellSpan> cells;
    std::vector<CellSpan> usual;
    cut_at_commas(place.record, cells);
    cut_at_commas(heading.text, usual);
    std::size_t at = 0;
    while (at < std::min(cells.size(), usual.size()) &&
           cells[at].of(place.record) == usual[at].of(heading.text)) {
        ++at;
    }
    const bool more = at < cells.size();
    const CellSpan end{place.record.size(), place.record.size()};
    const std::string where = heading.file + ":" + std::to_string(heading.line);
    add_at(report, place, more ? cells[at] : end,
           {Problem::contradiction, "",
            more ? "column " + quoted(cells[at].of(place.record)) : "no further column",
            at < usual.size() ? "column " + quoted(usual[at].of(heading.text)) + ", as in " + where
                              : "no further column, as in " + where,
            "rank all parts by the same --rules and the same version; a file that is no ranking "
            "is not to be among them"});
}

std::optional<RankedRow> read_row(const RankingHeading& heading, const RecordPlace& place,
                                  const std::vector<CellSpan>& cells, Report& report) {
    if (cells.size() != heading.columns) {
        add_at(report, place, cells.back(),
               {Problem::csv_field_count, "", std::to_string(cells.size()) + " cells",
                std::to_string(heading.columns) + " cells, as in the heading",
                "make this part again; a row that ends early is of a command that was stopped"});
        return std::nullopt;
    }
    const auto cell = [&](std::size_t column) { return cells[column].of(place.record); };
    RankedRow row;
    if (!is_rank(cell(heading.rank), row.rank)) {
        add_at(report, place, cells[heading.rank],
               {Problem::not_a_number, "rank", quoted(cell(heading.rank)),
                "a rank, or the heading of the next part: " + std::string{of_rank},
                std::string{make_again}});
        return std::nullopt;
    }
    if (!is_number(cell(heading.risk), row.risk)) {
        add_at(report, place, cells[heading.risk],
               {Problem::not_a_number, "risk", quoted(cell(heading.risk)),
                "a number: " + std::string{of_rank}, std::string{make_again}});
        return std::nullopt;
    }
    if (heading.today && !read_today(*heading.today, place, cells, row, report)) {
        return std::nullopt;
    }
    row.segment = text_of_csv(cell(heading.segment));
    row.currency = cell(heading.currency);
    return row;
}

double number_in(std::string_view cell) {
    double number = 0.0;
    std::from_chars(cell.data(), cell.data() + cell.size(), number);
    return number;
}

}  // namespace lagline
