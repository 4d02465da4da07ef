// A sample is a plant: written down as a plant folder it has the same risk.
#include <doctest/doctest.h>

#include <bit>

#include "blocks/number_text.h"
#include "quantity/pipe_size.h"
#include "ranking/sample_risks.h"
#include "ranking/uncertainty.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

std::string cell_of(const Sheet& sheet, const RuleSet& rules, std::size_t field, std::size_t row,
                    const std::string& currency) {
    const FieldInfo& info = sheet.fields()[field];
    const SheetColumn& column = sheet.column(field);
    switch (info.kind) {
        case FieldKind::text:
            return std::string{column.texts[row]};
        case FieldKind::word:
            return rules.vocabulary(info.words).words[column.codes[row]].key;
        case FieldKind::flag:
            return column.codes[row] == 0 ? "no" : "yes";
        case FieldKind::date:
            return to_string(Date{column.days[row]});
        case FieldKind::pipe_size:
            return to_string(pipe_sizes()[column.codes[row]]);
        case FieldKind::quantity:
            break;
    }
    const std::string unit = info.dimension == Dimension::money ? currency : std::string{info.unit};
    return exact_number(column.numbers[row]) + (unit.empty() ? "" : " " + unit);
}

// What the file would say: what was filled in is left empty, to be filled in again.
Cells cells_of(const Sheet& sheet, const RuleSet& rules, std::size_t row,
               const std::string& currency) {
    Cells cells;
    for (std::size_t field = 0; field < sheet.fields().size(); ++field) {
        const CellState state = sheet.state(field, row);
        const bool stated = state == CellState::given || state == CellState::overridden;
        if (stated) {
            cells[std::string{sheet.fields()[field].key}] =
                cell_of(sheet, rules, field, row, currency);
        }
    }
    return cells;
}

TEST_CASE("a drawn sample has the risk that ranking a plant folder with its values gives") {
    const RuleSet rules = rules_from(rules_root(), "extended");
    const Plant plant = sample_plant(rules);
    const InputDraws draws(plant, rules, fields_by_mechanism(rules));
    constexpr std::size_t samples = 16;
    const SobolPoints points(draws.dimensions(), samples);
    SampleRisks runner(plant, rules, draws, points);
    const Ranking ranking = rank(plant, rules);
    std::size_t compared = 0;
    std::size_t differing = 0;
    for (std::size_t k = 0; k < ranking.order.size(); k += 29) {
        const std::uint32_t row = ranking.order[k];
        const std::uint32_t segment = ranking.segment_rows[row];
        // A date without a day is written differently from a day.
        bool imprecise = false;
        for (std::size_t field = 0; field < plant.segments.fields().size(); ++field) {
            imprecise =
                imprecise || plant.segments.Sheet::state(field, segment) == CellState::imprecise;
        }
        std::vector<DrawnCell> cells;
        draws.add_cells(segment,
                        row < ranking.mechanism_rows.wall_loss ? reads_wall_loss : reads_cracking,
                        cells);
        if (cells.empty() || imprecise) continue;
        const SampledSegment sampled{segment, cells};
        runner.run({&sampled, 1});
        const Plant& many = runner.sampled().plant();
        for (std::size_t s = 0; s < samples; s += 5) {
            SmallPlant small;
            small.description = plant.description;
            small.at = plant.ranked_at.date;
            small.segments = {cells_of(many.segments, rules, s, plant.description.currency)};
            small.segments[0]["line"] = "L-1";  // a text that no sample carries
            for (std::uint32_t i = many.inspection_begin[s]; i < many.inspection_begin[s + 1];
                 ++i) {
                small.inspections.push_back(cells_of(
                    many.inspections, rules, many.inspection_order[i], plant.description.currency));
            }
            const Plant one = assemble(small, rules);
            const Ranking alone = rank(one, rules);
            REQUIRE(alone.order.size() == 1);
            const double risk = alone.risk.risk_per_year[alone.order[0]];
            CAPTURE(plant.segments.texts(SegmentField::segment)[segment]);
            CHECK(std::bit_cast<std::uint64_t>(risk) ==
                  std::bit_cast<std::uint64_t>(runner.outcome(0).risk_per_year[s]));
            if (risk != ranking.risk.risk_per_year[row]) ++differing;
            ++compared;
        }
    }
    CHECK(compared > 30);
    CHECK(differing > 10);  // draws that change nothing would prove nothing
}

}  // namespace
}  // namespace lagline
