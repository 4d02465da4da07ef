#include "report/recorded_text.h"

#include <map>
#include <vector>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"

namespace lagline {
namespace {

constexpr std::size_t segment_width = 20;

/// Where a segment stands in a ranking; nothing where it is not ranked.
struct RankPlace {
    std::size_t rank = 0;
    double leak_per_year = 0.0;
    double risk_per_year = 0.0;
};
using Places = std::map<std::string_view, RankPlace>;

Places places_of(const RankedPlant& side) {
    Places found;
    const auto names = side.plant.segments.texts(SegmentField::segment);
    for (std::size_t rank = 0; rank < side.ranking.order.size(); ++rank) {
        const std::uint32_t row = side.ranking.order[rank];
        found[names[side.ranking.segment_rows[row]]] = {
            rank + 1, side.ranking.likelihood.probability_of_failure_per_year[row],
            side.ranking.risk.risk_per_year[row]};
    }
    return found;
}

struct Cells {
    std::string rank = "none";
    std::string leak;
    std::string risk;
};
Cells cells_of(const Places& all, std::string_view segment) {
    const auto at = all.find(segment);
    if (at == all.end()) return {};
    return {std::to_string(at->second.rank), short_number(at->second.leak_per_year, 2),
            compact(at->second.risk_per_year)};
}

// Findings by segment, in the order of the sheet.
std::vector<std::pair<std::string_view, std::size_t>> findings(const InspectionSheet& sheet) {
    std::vector<std::pair<std::string_view, std::size_t>> found;
    std::map<std::string_view, std::size_t> place;
    for (const std::string_view name : sheet.texts(InspectionField::segment)) {
        const auto [at, fresh] = place.emplace(name, found.size());
        if (fresh) found.emplace_back(name, 0);
        ++found[at->second].second;
    }
    return found;
}

std::string table(const FilledSheet& filled, const RankedPlant& before, const RankedPlant& after,
                  const TextStyle& style) {
    const Places was = places_of(before);
    const Places is = places_of(after);
    std::vector<std::vector<std::string>> rows;
    for (const auto& [segment, count] : findings(filled.sheet)) {
        const Cells old = cells_of(was, segment);
        const Cells now = cells_of(is, segment);
        rows.push_back({printable(segment, segment_width), std::to_string(count), old.rank,
                        now.rank, old.leak, now.leak, old.risk, now.risk});
    }
    return text_table({{"segment", false, segment_width},
                       {"findings", true, 0},
                       {"rank", true, 0},
                       {"then", true, 0},
                       {"leak/y", true, 0},
                       {"then", true, 0},
                       {"risk/y", true, 0},
                       {"then", true, 0}},
                      rows, style) +
           wrapped("Before and with the findings, ranked at " + to_string(before.ranking.at.date) +
                       (after.ranking.at.date == before.ranking.at.date
                            ? ""
                            : " and " + to_string(after.ranking.at.date)) +
                       ". leak/y: probability of a leak in a year; risk/y: expected loss a year, " +
                       after.plant.description.currency + ".",
                   style.width, 0) +
           "\n";
}

std::string lines_to_add(const std::string& added, const TextStyle& style) {
    std::string text = "\n" + coloured("Lines to add", Tone::strong, style) + "\n";
    std::string_view rest = added;
    while (!rest.empty()) {
        const auto end = std::min(rest.find('\n'), rest.size());
        const std::string_view line = trimmed(rest.substr(0, end));
        if (!line.empty()) text += "  " + printable(line, style.width - 2) + "\n";
        rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    return text;
}

}  // namespace

std::string not_yet_recorded_text(const FilledSheet& filled, const TextStyle& style) {
    if (filled.blank.empty()) return "";
    std::string names;
    for (const BlankRow& row : filled.blank) {
        names += (names.empty() ? "" : ", ") + printable(row.segment, segment_width) + " (line " +
                 std::to_string(row.line) + ")";
    }
    return wrapped("Not yet recorded, " + counted(filled.blank.size(), "row") +
                       " without a finding: " + names + ".",
                   style.width, 2) +
           "\n";
}

std::string recorded_text(const FilledSheet& filled, const RankedPlant& before,
                          const RankedPlant& after, bool written, const TextStyle& style) {
    const std::string file = printable(after.plant.inspections.source.file, style.width);
    const std::string count = counted(filled.sheet.rows(), "inspection");
    std::string text = coloured(wrapped((written ? "Recorded: " : "Would be recorded: ") + count +
                                            " in " + file + ".",
                                        style.width, 0),
                                Tone::strong, style) +
                       "\n" + (written ? "" : "Nothing was written.\n") + "\n" +
                       table(filled, before, after, style);
    if (!written) text += lines_to_add(filled.added, style);
    const std::string blank = not_yet_recorded_text(filled, style);
    if (!blank.empty()) text += "\n" + blank;
    return text + "\n" + coloured(wrapped(screening_caution, style.width, 0), Tone::quiet, style) +
           "\n";
}

}  // namespace lagline
