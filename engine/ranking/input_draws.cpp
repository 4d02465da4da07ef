#include "ranking/input_draws.h"

#include <algorithm>
#include <array>
#include <limits>
#include <string>

namespace lagline {

std::vector<std::size_t> needed_first(const InputDraw& draw) {
    std::vector<std::size_t> fields = draw.from->year_of;
    if (draw.by_field) fields.push_back(*draw.by_field);
    if (draw.from->asked_by) fields.push_back(*draw.from->asked_by);
    if (draw.from->kind == DistributionKind::between) {
        fields.push_back(draw.from->from);
        fields.push_back(draw.from->to);
    }
    return fields;
}

namespace {

using S = SegmentField;
using I = InspectionField;

// Readings of one segment that have a dimension of their own; more share them, each scrambled by a
// seed of its own.
constexpr std::size_t most_reading_dimensions = 64;

std::optional<std::size_t> field_of_words(std::span<const FieldInfo> fields,
                                          std::string_view words) {
    for (std::size_t i = 0; i < fields.size(); ++i) {
        if (!words.empty() && fields[i].words == words) return i;
    }
    return std::nullopt;
}

std::vector<double> stored_numbers(const Distribution& from, const FieldInfo& info) {
    std::vector<double> numbers;
    const bool a_number =
        from.kind == DistributionKind::points || from.kind == DistributionKind::normal;
    for (const RuleEntry& entry : from.entries) {
        if (!a_number) {
            numbers.push_back(entry.value);
            continue;
        }
        // As a cell with the same text would be read, to the last bit.
        const auto written = parse_unit(from.info.unit, info.dimension);
        const auto stored = parse_unit(info.unit.empty() ? "-" : info.unit, info.dimension);
        numbers.push_back(written && stored ? convert(entry.printed, *written, *stored)
                                            : entry.value);
    }
    return numbers;
}

// By column, each behind those that it goes by.  Where columns go by each other in a circle, the
// first of them goes by what stands in the others before they are drawn.
std::vector<InputDraw> in_order(std::vector<InputDraw> waiting) {
    std::ranges::stable_sort(waiting, {}, [](const InputDraw& draw) { return draw.from->field; });
    std::vector<InputDraw> ordered;
    while (!waiting.empty()) {
        const auto is_ready = [&](const InputDraw& draw) {
            const auto first = needed_first(draw);
            return std::ranges::none_of(waiting, [&](const InputDraw& other) {
                return other.from->field != draw.from->field &&
                       std::ranges::find(first, other.from->field) != first.end();
            });
        };
        auto next = std::ranges::find_if(waiting, is_ready);
        if (next == waiting.end()) next = waiting.begin();
        ordered.push_back(std::move(*next));
        waiting.erase(next);
    }
    return ordered;
}

std::size_t most_inspections(const Plant& plant) {
    std::size_t most = 0;
    for (std::size_t s = 0; s + 1 < plant.inspection_begin.size(); ++s) {
        most =
            std::max<std::size_t>(most, plant.inspection_begin[s + 1] - plant.inspection_begin[s]);
    }
    return most;
}

bool has_default(const RuleSet& rules, std::string_view column) {
    return rules.defaults.contains(column) || rules.lookups.contains(column);
}

InputDraw make_draw(const Distribution& from, const RuleSet& rules,
                    const std::array<std::vector<std::size_t>, 2>& fields) {
    const bool of_segments = from.file == DistributionFile::segments;
    const auto infos = of_segments ? segment_fields() : inspection_fields();
    InputDraw draw;
    draw.from = &from;
    draw.info = &infos[from.field];
    draw.key = draw_key(draw.info->key);
    draw.stored = stored_numbers(from, *draw.info);
    draw.by_field = field_of_words(infos, from.info.by);
    if (draw.info->kind == FieldKind::word) {
        draw.unknown = rules.vocabulary(draw.info->words).code("unknown");
    }
    draw.absent_is_asked = from.asked_by.has_value() || !has_default(rules, draw.info->key);
    if (!of_segments) {
        draw.read_by = reads_wall_loss;  // what is read off the wall says nothing of cracks
        return draw;
    }
    const auto read = [&from](const std::vector<std::size_t>& by) {
        return std::ranges::find(by, from.field) != by.end();
    };
    if (read(fields[0])) draw.read_by |= reads_wall_loss;
    if (read(fields[1])) draw.read_by |= reads_cracking;
    return draw;
}

}  // namespace

InputDraws::InputDraws(const Plant& plant, const RuleSet& rules,
                       const std::array<std::vector<std::size_t>, 2>& fields)
    : plant_(plant) {
    std::vector<InputDraw> of_segments;
    std::vector<InputDraw> of_inspections;
    for (const auto& [name, from] : rules.distributions) {
        if (from.kind == DistributionKind::point) continue;
        auto& into = from.file == DistributionFile::segments ? of_segments : of_inspections;
        into.push_back(make_draw(from, rules, fields));
    }
    draws_ = in_order(std::move(of_segments));
    segment_draws_ = draws_.size();
    for (InputDraw& draw : of_inspections) draws_.push_back(std::move(draw));
    const std::size_t readings = most_inspections(plant) * of_inspections.size();
    dimensions_ = segment_draws_ + std::min(readings, most_reading_dimensions);
}

const InputDraw* InputDraws::draw_of_missing(std::size_t field, std::uint32_t segment) const {
    const auto end = draws_.begin() + static_cast<std::ptrdiff_t>(segment_draws_);
    const auto found = std::find_if(draws_.begin(), end, [&](const InputDraw& draw) {
        return draw.from->field == field && is_missing(draw, segment);
    });
    return found == end ? nullptr : &*found;
}

bool InputDraws::is_missing(const InputDraw& draw, std::uint32_t segment) const {
    const SheetColumn& column = plant_.segments.Sheet::column(draw.from->field);
    const CellState state = plant_.segments.Sheet::state(draw.from->field, segment);
    if (draw.from->cell == DoubtfulCell::imprecise) return state == CellState::imprecise;
    if (state == CellState::imprecise) return false;
    const bool unknown =
        draw.unknown && state != CellState::absent && column.codes[segment] == *draw.unknown;
    return is_assumption(state) || unknown || (state == CellState::absent && draw.absent_is_asked);
}

bool InputDraws::is_asked(const InputDraw& draw, std::uint32_t segment) const {
    const std::size_t asker = *draw.from->asked_by;
    if (plant_.segments.Sheet::state(asker, segment) == CellState::absent) return false;
    const std::uint8_t word = plant_.segments.Sheet::column(asker).codes[segment];
    return std::ranges::find(draw.from->asked_words, word) != draw.from->asked_words.end();
}

bool InputDraws::applies(const InputDraw& draw, std::uint32_t segment) const {
    if (!is_missing(draw, segment)) return false;
    // From a cell to the one that asks for it, to the one that asks for that; a cell whose asker is
    // drawn itself may be asked for in some of the draws.
    constexpr std::size_t longest = 8;
    std::array<const InputDraw*, longest> chain{&draw};
    std::size_t length = 1;
    while (length < longest && chain[length - 1]->from->asked_by) {
        const InputDraw* asker = draw_of_missing(*chain[length - 1]->from->asked_by, segment);
        if (asker == nullptr) break;
        chain[length++] = asker;
    }
    bool drawn = !chain[length - 1]->from->asked_by || is_asked(*chain[length - 1], segment);
    for (std::size_t i = length - 1; i-- > 0;) drawn = drawn || is_asked(*chain[i], segment);
    return drawn;
}

void InputDraws::add_cells(std::uint32_t segment, std::uint8_t mechanisms,
                           std::vector<DrawnCell>& cells) const {
    const std::uint64_t name = draw_key(plant_.segments.texts(S::segment)[segment]);
    for (std::size_t d = 0; d < segment_draws_; ++d) {
        const InputDraw& draw = draws_[d];
        if ((draw.read_by & mechanisms) == 0 || !applies(draw, segment)) continue;
        cells.push_back({static_cast<std::uint32_t>(d), segment, static_cast<std::uint32_t>(d),
                         static_cast<std::uint32_t>(draw_key(name, draw.key))});
    }
    if ((mechanisms & reads_wall_loss) != 0) add_readings(segment, name, cells);
}

void InputDraws::add_readings(std::uint32_t segment, std::uint64_t name,
                              std::vector<DrawnCell>& cells) const {
    std::size_t reading = 0;
    std::uint64_t same_day = 0;
    std::int32_t last_day = std::numeric_limits<std::int32_t>::min();
    for (std::uint32_t i = plant_.inspection_begin[segment];
         i < plant_.inspection_begin[segment + 1]; ++i) {
        const std::uint32_t row = plant_.inspection_order[i];
        const std::int32_t day = plant_.inspections.days(I::date)[row];
        if (Date{day} > plant_.ranked_at.date) break;
        same_day = day == last_day ? same_day + 1 : 0;
        last_day = day;
        const std::uint64_t inspection = draw_key(static_cast<std::uint32_t>(day), same_day);
        for (std::size_t d = segment_draws_; d < draws_.size(); ++d) {
            if (plant_.inspections.Sheet::state(draws_[d].from->field, row) != CellState::given) {
                continue;
            }
            const std::size_t dimension = segment_draws_ + reading++ % most_reading_dimensions;
            const std::uint64_t key = draw_key(draw_key(name, draws_[d].key), inspection);
            cells.push_back({static_cast<std::uint32_t>(d), row,
                             static_cast<std::uint32_t>(dimension),
                             static_cast<std::uint32_t>(key)});
        }
    }
}

}  // namespace lagline
