#include "report/merge/ranking_merge.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <utility>

#include "diagnostics/text.h"
#include "report/merge/part_check.h"
#include "report/merge/part_queue.h"

namespace lagline {
namespace {

constexpr std::size_t most_rows = std::numeric_limits<std::uint32_t>::max();
constexpr std::size_t scan_bytes = std::size_t{1} << 20U;

Diagnostic at_row(Problem problem, Place where, std::string column, std::string found,
                  std::string expected, std::string mend) {
    return {.problem = problem,
            .where = std::move(where),
            .subject = std::move(column),
            .found = std::move(found),
            .expected = std::move(expected),
            .mend = std::move(mend),
            .excerpt = {}};
}

void report_broken(const PartFile& file, const RecordReader& reader, Report& report) {
    report.add(at_row(Problem::csv_quote, {file.shown(), static_cast<int>(reader.line()), 1}, "",
                      std::string{reader.broken()}, "records as RFC 4180 has them",
                      "make this part again"));
}

}  // namespace

void RowKeys::add(const RankedRow& row, std::uint32_t line) {
    if (size() == most_rows) throw std::runtime_error("more rows than can be merged");
    risk_today.push_back(row.today ? row.today->risk : std::numeric_limits<double>::quiet_NaN());
    rank_today.push_back(row.today ? static_cast<std::uint32_t>(row.today->rank) : 0);
    lines.push_back(line);
    names += row.segment;
    name_begin.push_back(names.size());
}

RankingMerge::RankingMerge(std::span<const std::string> paths, Report& report) {
    for (const std::string& path : paths) {
        auto file = PartFile::open(path, scratch_.path(), report);
        if (!file) continue;
        files_.push_back(std::move(*file));
        read_file(files_.size() - 1, report);
    }
    if (!report.ok()) return;
    check_doubled(report);
    if (report.ok()) rank_today(report);
}

void RankingMerge::read_file(std::size_t number, Report& report) {
    const PartFile& file = files_[number];
    RecordReader reader{file, 0, file.size(), 1, scan_bytes};
    PartCheck check{file, report};
    if (!reader.next() && reader.broken().empty()) {
        report.add(at_row(Problem::empty_file, {file.shown(), 0, 0}, "", "an empty file",
                          "the heading of a ranking at least, which a part without segments has",
                          "make this part again: a command that failed leaves an empty file"));
        return;
    }
    if (!reader.broken().empty()) return report_broken(file, reader, report);
    if (!heading_) heading_ = read_heading(place_of(file, reader), report);
    if (!heading_) return;
    if (reader.record() != heading_->text) {
        return report_other_heading(*heading_, place_of(file, reader), report);
    }
    do {
        const RecordPlace place = place_of(file, reader);
        if (place.record == heading_->text) {
            parts_.push_back({number, reader.next_offset(), reader.next_offset(),
                              reader.next_line(), keys_.size(), 0});
            check.start();
            continue;
        }
        const auto row = check.read(*heading_, place);
        if (!row) continue;
        if (keys_.size() == 0) currency_ = row->currency;
        if (!check.is_next(*heading_, place, *row, currency_)) continue;
        keys_.add(*row, place.line);
        ++parts_.back().rows;
        parts_.back().end = reader.next_offset();
    } while (reader.next());
    if (!reader.broken().empty()) report_broken(file, reader, report);
}

const RankedPart& RankingMerge::part_of(std::size_t row) const {
    const auto after = std::ranges::upper_bound(parts_, row, {}, &RankedPart::first_row);
    return *std::prev(after);
}

Place RankingMerge::place_of_row(std::size_t row) const {
    return {files_[part_of(row).file].shown(), static_cast<int>(keys_.lines[row]), 1};
}

void RankingMerge::check_doubled(Report& report) const {
    struct Hashed {
        std::size_t hash = 0;
        std::uint32_t row = 0;
    };
    std::vector<Hashed> all(keys_.size());
    for (std::size_t row = 0; row < all.size(); ++row) {
        all[row] = {std::hash<std::string_view>{}(keys_.name(row)),
                    static_cast<std::uint32_t>(row)};
    }
    std::ranges::sort(all, {}, [](const Hashed& a) { return std::pair{a.hash, a.row}; });
    // Rows with the name of an earlier one, each with that one.
    std::vector<std::pair<std::uint32_t, std::uint32_t>> doubled;
    for (std::size_t i = 1; i < all.size(); ++i) {
        for (std::size_t j = i; j > 0 && all[j - 1].hash == all[i].hash; --j) {
            if (keys_.name(all[j - 1].row) != keys_.name(all[i].row)) continue;
            doubled.emplace_back(all[i].row, all[j - 1].row);
            break;
        }
    }
    std::ranges::sort(doubled);
    for (const auto& [row, earlier] : doubled) {
        report.add(at_row(Problem::duplicate_key, place_of_row(row), "segment",
                          "segment '" + printable(keys_.name(row)) + "', which stands already in " +
                              to_string(place_of_row(earlier)),
                          "each segment in one part",
                          "cut the plant so that no two parts share a segment, and give each "
                          "part once"));
    }
}

void RankingMerge::rank_today(Report& report) {
    std::vector<std::uint32_t> order(keys_.size());
    std::iota(order.begin(), order.end(), 0U);
    std::erase_if(order, [&](std::uint32_t row) { return std::isnan(keys_.risk_today[row]); });
    std::ranges::sort(order, [&](std::uint32_t a, std::uint32_t b) {
        if (keys_.risk_today[a] != keys_.risk_today[b]) {
            return keys_.risk_today[a] > keys_.risk_today[b];
        }
        return keys_.name(a) < keys_.name(b);
    });
    std::vector<std::uint32_t> counted(parts_.size(), 0);
    std::vector<bool> told(parts_.size(), false);
    std::uint32_t rank = 0;
    for (const std::uint32_t row : order) {
        const auto part = static_cast<std::size_t>(&part_of(row) - parts_.data());
        const std::uint32_t within = ++counted[part];
        const std::uint32_t given = std::exchange(keys_.rank_today[row], ++rank);
        if (given == within || told[part]) continue;
        told[part] = true;
        report.add(at_row(
            Problem::contradiction, place_of_row(row), "rank_today",
            std::to_string(given) + ", while the rows that are here make it " +
                std::to_string(within),
            "all rows of the part",
            "make this part again without --top; `lagline merge --top N` cuts the whole. If it "
            "was not cut, a segment without a risk at the date of the ranking has one today: "
            "rank the plant in one process"));
    }
}

bool RankingMerge::write(std::size_t top, const TakeText& take) const {
    const std::size_t wanted = top == 0 ? rows() : std::min(top, rows());
    PartQueue queue{*heading_, files_, parts_, keys_};
    std::string text = heading_->text + "\n";
    constexpr std::size_t piece_bytes = std::size_t{1} << 20U;
    for (std::size_t rank = 1; rank <= wanted; ++rank) {
        queue.append_first(rank, text);
        if (text.size() < piece_bytes) continue;
        if (!take(text)) return false;
        text.clear();
    }
    return text.empty() || take(text);
}

}  // namespace lagline
