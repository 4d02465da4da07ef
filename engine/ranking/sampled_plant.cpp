#include "ranking/sampled_plant.h"

#include <algorithm>
#include <numeric>

#include "intake/cell_place.h"
#include "intake/defaults.h"
#include "ranking/draw_cell.h"
#include "ranking/sensitivity.h"

namespace lagline {
namespace {

using S = SegmentField;
using I = InspectionField;

/// Rows of a source sheet and how often each is copied.
struct Copies {
    std::uint32_t row = 0;
    std::size_t count = 1;
};

template <class Value>
void copy_values(const RowVector<Value>& from, std::span<const Copies> copies,
                 RowVector<Value>& into) {
    into.clear();
    if (from.empty()) return;
    for (const Copies& each : copies) into.insert(into.end(), each.count, from[each.row]);
}

void copy_column(const SheetColumn& from, std::span<const Copies> copies, SheetColumn& into) {
    copy_values(from.numbers, copies, into.numbers);
    copy_values(from.codes, copies, into.codes);
    copy_values(from.days, copies, into.days);
    copy_values(from.texts, copies, into.texts);
    copy_values(from.states, copies, into.states);
}

void copy_sheet(const Sheet& from, std::span<const Copies> copies,
                std::span<const std::size_t> fields, Sheet& into) {
    std::size_t rows = 0;
    for (const Copies& each : copies) rows += each.count;
    into.set_rows(rows);
    for (const std::size_t field : fields) {
        copy_column(from.column(field), copies, into.column(field));
    }
    into.site_columns.resize(from.site_columns.size());
    for (std::size_t i = 0; i < from.site_columns.size(); ++i) {
        into.site_columns[i].key = from.site_columns[i].key;
        copy_values(from.site_columns[i].texts, copies, into.site_columns[i].texts);
    }
}

// The year or month that a date without a day stands for, in days; it is stored as its first day.
std::int32_t period_days(const Sheet& sheet, std::size_t field, std::uint32_t row) {
    const Date first{sheet.column(field).days[row]};
    constexpr std::size_t year_and_month = 7;
    const bool a_year =
        month_of(first) == 1 && cell_text(sheet, field, row).size() < year_and_month;
    if (a_year) return add_years(first, 1).days - first.days;
    const unsigned month = month_of(first);
    const Date next =
        month == 12 ? make_date(year_of(first) + 1, 1, 1) : make_date(year_of(first), month + 1, 1);
    return next.days - first.days;
}

bool has_readings(const InputDraws& draws, std::span<const DrawnCell> cells) {
    return std::ranges::any_of(cells, [&](const DrawnCell& cell) {
        return draws.draws()[cell.draw].from->file == DistributionFile::inspections;
    });
}

}  // namespace

SampledPlant::SampledPlant(const Plant& source, const RuleSet& rules, const InputDraws& draws,
                           const SobolPoints& points)
    : source_(source), rules_(rules), draws_(draws), points_(points) {
    plant_.folder = source.folder;
    plant_.description = source.description;
    plant_.turnarounds = source.turnarounds;
    plant_.ranked_at = source.ranked_at;
    order_.resize(points.samples());
    uniform_.resize(points.samples());
    for (const InputDraw& draw : draws.draws()) {
        if (draw.from->file != DistributionFile::segments) continue;
        drawn_by_.push_back(draw.from->field);
        const auto first = needed_first(draw);
        drawn_by_.insert(drawn_by_.end(), first.begin(), first.end());
    }
    drawn_by_.push_back(index_of(S::temperature_low));
    drawn_by_.push_back(index_of(S::temperature_high));
    drawn_by_.push_back(index_of(S::standby_fraction));
    std::ranges::sort(drawn_by_);
    drawn_by_.erase(std::unique(drawn_by_.begin(), drawn_by_.end()), drawn_by_.end());
    // Of the texts the method reads the name and the process unit.
    for (std::size_t field = 0; field < source.segments.fields().size(); ++field) {
        const bool text = source.segments.fields()[field].kind == FieldKind::text;
        if (!text || field == index_of(S::segment) || field == index_of(S::unit)) {
            read_fields_.push_back(field);
        }
    }
    inspection_fields_.resize(source.inspections.fields().size());
    std::iota(inspection_fields_.begin(), inspection_fields_.end(), std::size_t{0});
}

void SampledPlant::make(std::span<const SampledSegment> segments, Wanted wanted) {
    copy_segments(segments, wanted);
    copy_inspections(segments);
    classes_.clear();
    first_class_.clear();
    for (std::size_t i = 0; i < segments.size(); ++i) {
        first_class_.push_back(classes_.size());
        if (!segments[i].cells.empty()) draw_cells(segments[i], i);
    }
}

std::span<const std::uint8_t> SampledPlant::classes(std::size_t segment, std::size_t cell) const {
    const std::size_t samples = points_.samples();
    return {classes_.data() + first_class_[segment] + cell * samples, samples};
}

void SampledPlant::copy_segments(std::span<const SampledSegment> segments, Wanted wanted) {
    std::vector<Copies> copies;
    rows_.clear();
    std::size_t first = 0;
    for (const SampledSegment& each : segments) {
        const std::size_t count = each.cells.empty() ? 1 : points_.samples();
        copies.push_back({each.segment, count});
        rows_.push_back({first, count});
        first += count;
    }
    copy_sheet(source_.segments, copies, wanted == Wanted::all ? read_fields_ : drawn_by_,
               plant_.segments);
    // What is drawn may stand in a column that the file does not have.
    for (const InputDraw& draw : draws_.draws()) {
        if (draw.from->file == DistributionFile::segments) {
            plant_.segments.allocate(draw.from->field);
        }
    }
    plant_.segments.allocate(index_of(S::temperature_low));
    plant_.segments.allocate(index_of(S::temperature_high));
    plant_.segments.allocate(index_of(S::standby_fraction));
}

// Where no reading is drawn all samples of a segment point to the same inspections.
void SampledPlant::copy_inspections(std::span<const SampledSegment> segments) {
    std::vector<Copies> copies;
    plant_.inspection_begin.assign(1, 0);
    plant_.inspection_order.clear();
    inspections_.clear();
    for (std::size_t i = 0; i < segments.size(); ++i) {
        const std::uint32_t segment = segments[i].segment;
        const std::span<const std::uint32_t> own{
            source_.inspection_order.data() + source_.inspection_begin[segment],
            source_.inspection_order.data() + source_.inspection_begin[segment + 1]};
        const bool apart = has_readings(draws_, segments[i].cells);
        auto base = static_cast<std::uint32_t>(inspections_.size());
        first_inspection_.resize(i + 1);
        first_inspection_[i] = base;
        for (std::size_t s = 0; s < rows_[i].count; ++s) {
            if (s == 0 || apart) {
                base = static_cast<std::uint32_t>(inspections_.size());
                for (const std::uint32_t row : own) copies.push_back({row, 1});
                inspections_.insert(inspections_.end(), own.begin(), own.end());
            }
            for (std::uint32_t k = 0; k < own.size(); ++k) {
                plant_.inspection_order.push_back(base + k);
            }
            plant_.inspection_begin.push_back(
                static_cast<std::uint32_t>(plant_.inspection_order.size()));
        }
    }
    copy_sheet(source_.inspections, copies, inspection_fields_, plant_.inspections);
}

void SampledPlant::draw_cells(const SampledSegment& segment, std::size_t index) {
    const std::size_t samples = points_.samples();
    const std::uint64_t name = draw_key(source_.segments.texts(S::segment)[segment.segment]);
    keyed_permutation(name, order_);
    classes_.resize(classes_.size() + samples * segment.cells.size());
    std::uint8_t* classes = classes_.data() + first_class_[index];
    for (const DrawnCell& cell : segment.cells) {
        const InputDraw& draw = draws_.draws()[cell.draw];
        const auto coordinate = points_.coordinate(cell.dimension);
        for (std::size_t s = 0; s < samples; ++s) {
            uniform_[s] = unit_interval(owen_scrambled(coordinate[order_[s]], cell.seed));
        }
        CellSamples place{.sheet = plant_.segments,
                          .first = rows_[index].first,
                          .step = 1,
                          .uniform = uniform_,
                          .classes = {classes, samples},
                          .intervals = FirstOrderIndex::classes_for(samples)};
        if (draw.from->file == DistributionFile::inspections) {
            draw_reading(draw, cell, segment, index, place);
        } else {
            if (draw.from->kind == DistributionKind::period) {
                place.period_days =
                    period_days(source_.segments, draw.from->field, segment.segment);
            }
            draw_cell(draw, place);
            if (draw.from->field == index_of(S::service)) derive_cycles(segment, rows_[index]);
        }
        classes += samples;
    }
}

void SampledPlant::draw_reading(const InputDraw& draw, const DrawnCell& cell,
                                const SampledSegment& segment, std::size_t index,
                                CellSamples place) {
    const std::uint32_t begin = source_.inspection_begin[segment.segment];
    const std::uint32_t end = source_.inspection_begin[segment.segment + 1];
    const auto own = std::span{source_.inspection_order}.subspan(begin, end - begin);
    const auto at = std::ranges::find(own, cell.row);
    CellSamples reading{
        .sheet = plant_.inspections,
        .first = first_inspection_[index] + static_cast<std::size_t>(at - own.begin()),
        .step = own.size(),
        .uniform = place.uniform,
        .classes = place.classes,
        .intervals = place.intervals};
    draw_cell(draw, reading);
}

// A line that is drawn as cyclic takes its ends as one that is known to be.
void SampledPlant::derive_cycles(const SampledSegment& segment, Rows rows) {
    const auto cyclic = rules_.vocabulary("service").code("cyclic");
    const auto air = mean_air_degc(source_, rules_);
    if (!cyclic || !air) return;
    const SegmentSheet& known = source_.segments;
    const auto given = [&](S field) -> std::optional<double> {
        const CellState state = known.state(field, segment.segment);
        if (state == CellState::absent || state == CellState::derived) return std::nullopt;
        return known.numbers(field)[segment.segment];
    };
    const CycleEnds ends = cycle_ends(known.numbers(S::operating_temperature)[segment.segment],
                                      *air, given(S::temperature_low), given(S::temperature_high));
    const auto derive = [&](S field, std::optional<double> stated, double value) {
        if (stated) return;
        SheetColumn& column = plant_.segments.column(field);
        for (std::size_t row = rows.first; row < rows.first + rows.count; ++row) {
            const bool cycles = plant_.segments.codes(S::service)[row] == *cyclic;
            column.numbers[row] = value;
            column.states[row] = cycles ? CellState::derived : CellState::absent;
        }
    };
    derive(S::temperature_low, given(S::temperature_low), ends.low_degc);
    derive(S::temperature_high, given(S::temperature_high), ends.high_degc);
    const auto share = standby_share(rules_, ends.low_degc, *air);
    if (share && *share > 0.0) derive(S::standby_fraction, given(S::standby_fraction), *share);
}

}  // namespace lagline
