#include "report/engineer_text.h"

#include <algorithm>
#include <filesystem>

#include "diagnostics/text.h"
#include "intake/cell_place.h"

namespace lagline {
namespace {

using S = SegmentField;

// A screen keeps room for the ranking.
constexpr std::size_t rows_on_screen = 10;

// Without its folder: results name none.
std::string place_of(const Plant& plant, const EngineerNeed& need) {
    Place place =
        cell_place(plant.inspections, index_of(InspectionField::segment), need.inspection);
    place.file = std::filesystem::path{place.file}.filename().string();
    return to_string(place);
}

}  // namespace

std::string engineer_block(const Plant& plant, const RuleSet& rules,
                           std::span<const EngineerNeed> needs, const TextStyle& style) {
    if (needs.empty()) return "";
    std::string text = coloured(engineer_title, Tone::bad, style) + "\n";
    const auto first = needs.first(std::min(rows_on_screen, needs.size()));
    for (const EngineerText& each : engineer_texts(plant, rules, first)) {
        text += wrapped(printable(each.segment, 40) + "  " + each.what + ", found " +
                            to_string(each.need.found) + ", " + each.place,
                        style.width, 4) +
                "\n";
    }
    if (needs.size() > rows_on_screen) {
        text += "and " + std::to_string(needs.size() - rows_on_screen) +
                " more: --format json lists all\n";
    }
    return text + coloured(wrapped(engineer_note, style.width, 0), Tone::quiet, style) + "\n\n";
}

std::vector<EngineerText> engineer_texts(const Plant& plant, const RuleSet& rules,
                                         std::span<const EngineerNeed> needs) {
    std::vector<EngineerText> texts;
    for (const EngineerNeed& need : needs) {
        texts.push_back({std::string{plant.segments.texts(S::segment)[need.segment_row]}, need,
                         describe(need, plant, rules), place_of(plant, need)});
    }
    return texts;
}

std::vector<OutputColumn> EngineerRows::columns() const {
    return {{"segment"},
            {"line"},
            {"unit"},
            {"reason"},
            {"what"},
            {"found", CellKind::date},
            {"reading [mm]", CellKind::number, "mm"},
            {"minimum_thickness [mm]", CellKind::number, "mm"},
            {"place"}};
}

void EngineerRows::write_row(std::size_t row, TableCells& cells) const {
    const EngineerNeed& need = needs_[row];
    for (const S field : {S::segment, S::line, S::unit}) {
        cells.text(plant_.segments.texts(field)[need.segment_row]);
    }
    cells.text(to_string(need.reason));
    cells.text(describe(need, plant_, rules_));
    cells.date(need.found);
    if (need.reason == EngineerReason::thin_wall) {
        cells.number(need.read_mm);
        cells.number(need.minimum_mm);
    } else {
        cells.empty();
        cells.empty();
    }
    cells.text(place_of(plant_, need));
}

}  // namespace lagline
