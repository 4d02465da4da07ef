#include "ranking/explain_findings.h"

#include "exposure/findings.h"

namespace lagline {
namespace {

using I = InspectionField;

std::int32_t at_row(const std::vector<std::int32_t>& rows, std::uint32_t row) {
    return row < rows.size() ? rows[row] : History::nothing;
}

std::optional<std::uint32_t> inspection(std::int32_t row) {
    if (row == History::nothing) return std::nullopt;
    return static_cast<std::uint32_t>(row);
}

}  // namespace

std::int32_t reading_row(const Ranking& ranking, std::uint32_t row) {
    return at_row(ranking.wall_loss.reading, row);
}

std::int32_t failed_row(const Ranking& ranking, std::uint32_t row) {
    return at_row(ranking.wall_loss.found_failed, row);
}

std::optional<std::uint32_t> finding_row(const Plant& plant, const Ranking& ranking,
                                         std::uint32_t row, std::string_view key,
                                         std::string_view of) {
    const std::uint32_t segment = ranking.segment_rows[row];
    if (of == "coating_failed") return inspection(failed_row(ranking, row));
    if (of == "conflicting_readings") {
        const auto conflict = inspection(at_row(ranking.wall_loss.readings.conflict, row));
        if (conflict) return conflict;
    }
    if (key == "cracks_found" && row >= ranking.mechanism_rows.wall_loss) {
        const auto own = row - static_cast<std::uint32_t>(ranking.mechanism_rows.wall_loss);
        const auto cleared = inspection(at_row(ranking.cracking.cleared_by, own));
        return cleared ? cleared : inspection(at_row(ranking.cracking.found_by, own));
    }
    if (key == "insulation_wet") return wetness_finding(plant, segment, ranking.at.date);
    if (key == "jacket_damage") return jacket_finding(plant, segment, ranking.at.date);
    return inspection(reading_row(ranking, row));
}

std::optional<std::uint8_t> finding_code(const Plant& plant, const Ranking& ranking,
                                         std::uint32_t row, std::string_view words,
                                         std::string_view of) {
    const InspectionSheet& sheet = plant.inspections;
    if (words == "effectiveness") {
        // Of the reading that gave the wall: it decides whether the reading counts.
        const auto found = inspection(reading_row(ranking, row));
        return found ? std::optional{ranking.effectiveness[*found]} : std::nullopt;
    }
    if (words == "jacket_damage") {
        const auto found = finding_row(plant, ranking, row, words, of);
        return found ? std::optional{sheet.codes(I::jacket_damage)[*found]} : std::nullopt;
    }
    if (words == "technique") {
        const auto found = finding_row(plant, ranking, row, words, of);
        return found ? std::optional{sheet.codes(I::technique)[*found]} : std::nullopt;
    }
    return std::nullopt;
}

}  // namespace lagline
