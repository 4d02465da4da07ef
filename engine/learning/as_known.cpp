#include "learning/as_known.h"

#include <array>
#include <utility>

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;
using Rows = std::vector<std::uint32_t>;

constexpr int longest_year_days = 366;

constexpr std::array coating_cells{S::coating_system,         S::coating_quality,
                                   S::coating_date,           S::coating_thickness,
                                   S::coating_substrate_prep, S::yard_storage};
constexpr std::array insulation_cells{S::insulation_thickness, S::insulation_installed,
                                      S::insulation_condition, S::jacket};

/// Takes back what came after a day.
class Forgetter {
  public:
    Forgetter(const RuleSet& rules, Date at)
        : at_(at), unknown_(rules.vocabulary("insulation_type").code("unknown")) {}

    void forget(Plant& plant) {
        SegmentSheet& segments = plant.segments;
        for (std::size_t row = 0; row < segments.rows(); ++row) {
            if (!is_past(segments.column(S::in_service), row, at_)) continue;  // is left out
            const auto coated = came_later(segments, S::coating_date, row);
            const auto insulated = came_later(segments, S::insulation_installed, row);
            if (coated.value_or(insulated.value_or(false))) forget_coating(segments, row);
            if (insulated.value_or(coated.value_or(false))) forget_insulation(segments, row);
        }
    }

    std::size_t coatings = 0;
    std::size_t insulation = 0;

  private:
    // Nothing where no day is on record.
    [[nodiscard]] std::optional<bool> came_later(const SegmentSheet& segments, S field,
                                                 std::size_t row) const {
        if (!segments.has(field, row)) return std::nullopt;
        return !is_past(segments.column(field), row, at_);
    }

    // What an override in force says was known.
    static void empty(SegmentSheet& segments, S field, std::size_t row) {
        auto& states = segments.column(field).states;
        if (!states.empty() && states[row] != CellState::overridden) {
            states[row] = CellState::absent;
        }
    }

    void forget_coating(SegmentSheet& segments, std::size_t row) {
        for (const S field : coating_cells) empty(segments, field, row);
        ++coatings;
    }

    void forget_insulation(SegmentSheet& segments, std::size_t row) {
        for (const S field : insulation_cells) empty(segments, field, row);
        ++insulation;
        SheetColumn& type = segments.column(S::insulation_type);
        // Every row needs a type; rules without a word for it leave the one of today.
        if (!unknown_ || type.states[row] == CellState::overridden) return;
        type.codes[row] = *unknown_;
        type.states[row] = CellState::rule_default;
    }

    Date at_;
    std::optional<std::uint8_t> unknown_;
};

template <class Value>
void keep(RowVector<Value>& values, const Rows& rows) {
    if (values.empty()) return;
    RowVector<Value> kept;
    kept.reserve(rows.size());
    for (const std::uint32_t row : rows) kept.push_back(values[row]);
    values = std::move(kept);
}

void keep_rows(Sheet& sheet, const Rows& rows) {
    for (std::size_t field = 0; field < sheet.fields().size(); ++field) {
        SheetColumn& column = sheet.column(field);
        keep(column.numbers, rows);
        keep(column.codes, rows);
        keep(column.days, rows);
        keep(column.texts, rows);
        keep(column.states, rows);
    }
    for (SiteColumn& column : sheet.site_columns) keep(column.texts, rows);
    keep(sheet.row_offsets, rows);
    keep(sheet.row_lines, rows);
    sheet.set_rows(rows.size());
}

Rows segments_in_service(const Plant& plant, Date at) {
    Rows rows;
    for (std::uint32_t row = 0; row < plant.segments.rows(); ++row) {
        if (is_past(plant.segments.column(S::in_service), row, at)) rows.push_back(row);
    }
    return rows;
}

// Inspections of the segments `kept` up to `at`, one segment after the other, by date.
void keep_inspections(Plant& plant, const Rows& kept, Date at) {
    std::vector<std::uint32_t> begin{0};
    Rows rows;
    for (const std::uint32_t segment : kept) {
        for (std::uint32_t i = plant.inspection_begin[segment];
             i < plant.inspection_begin[segment + 1]; ++i) {
            const std::uint32_t row = plant.inspection_order[i];
            if (is_past(plant.inspections.column(I::date), row, at)) rows.push_back(row);
        }
        begin.push_back(static_cast<std::uint32_t>(rows.size()));
    }
    keep_rows(plant.inspections, rows);
    plant.inspection_begin = std::move(begin);
    plant.inspection_order.resize(rows.size());
    for (std::uint32_t i = 0; i < rows.size(); ++i) plant.inspection_order[i] = i;
}

void keep_overrides(Plant& plant, const Rows& kept) {
    std::vector<std::optional<std::uint32_t>> row_now(plant.segments.rows());
    for (std::uint32_t i = 0; i < kept.size(); ++i) row_now[kept[i]] = i;
    std::vector<AppliedOverride> applied;
    for (AppliedOverride each : plant.applied_overrides) {
        if (!row_now[each.segment_row]) continue;
        each.segment_row = *row_now[each.segment_row];
        applied.push_back(std::move(each));
    }
    plant.applied_overrides = std::move(applied);
}

}  // namespace

bool is_past(const SheetColumn& column, std::size_t row, Date at) {
    const bool day_known = column.states[row] != CellState::imprecise;
    return column.days[row] + (day_known ? 0 : longest_year_days) <= at.days;
}

std::optional<KnownPlant> plant_as_known(const PlantSources& sources, const RuleSet& rules, Date at,
                                         Report& report, const WorkPlan& plan) {
    Forgetter forgetter{rules, at};
    LoadOptions options{at, at, plan};
    options.days = DaysChecked::not_at_all;
    options.forget = [&](Plant& plant) { forgetter.forget(plant); };
    LoadedPlant loaded = assemble_plant(sources, rules, options, {});
    report.merge(std::move(loaded.report));
    if (!loaded.plant) return std::nullopt;
    KnownPlant known{std::move(*loaded.plant), {}};
    known.plant.ranked_at.reason = "a past date, with what was known then";
    known.row_today = segments_in_service(known.plant, at);
    known.not_in_service = known.plant.segments.rows() - known.row_today.size();
    known.coatings_later = forgetter.coatings;
    known.insulation_later = forgetter.insulation;
    keep_inspections(known.plant, known.row_today, at);
    keep_overrides(known.plant, known.row_today);
    keep_rows(known.plant.segments, known.row_today);
    return known;
}

RuleSet rules_as_known(const RuleSet& rules, Date at) {
    RuleSet known = rules;
    std::erase_if(known.site_factors, [&](const auto& named) {
        return named.second.learned && *named.second.learned > at;
    });
    return known;
}

}  // namespace lagline
