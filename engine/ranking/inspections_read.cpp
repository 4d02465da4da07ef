#include "ranking/inspections_read.h"

#include <algorithm>
#include <array>

#include "intake/cell_place.h"

namespace lagline {
namespace {

using I = InspectionField;
using Rows = std::vector<std::uint32_t>;

/// Fields of an inspection that an input stands for; an inspection without any of those of `one_of`
/// is not among them.
struct Stand {
    std::string_view key;
    std::array<I, 2> one_of;
    std::array<I, 5> fields;  ///< repeated where there are fewer
    bool all = false;         ///< also those with none of `one_of`
    bool classed = true;      ///< by their effectiveness
};

constexpr std::array stands{
    Stand{"readings",
          {I::least_thickness, I::pit_depth},
          {I::date, I::technique, I::coverage, I::least_thickness, I::pit_depth}},
    Stand{.key = "coating_findings",
          .one_of = {I::rust_grade, I::coating_renewed},
          .fields = {I::date, I::rust_grade, I::coating_renewed, I::date, I::date},
          .classed = false},
    Stand{.key = "inspections",
          .one_of = {I::date, I::date},
          .fields = {I::date, I::technique, I::coverage, I::date, I::date},
          .all = true},
    Stand{.key = "crack_findings",
          .one_of = {I::date, I::date},
          .fields = {I::date, I::technique, I::coverage, I::cracks_found, I::date},
          .all = true}};

const Stand* find_stand(std::string_view key) {
    const auto found = std::ranges::find(stands, key, &Stand::key);
    return found == stands.end() ? nullptr : &*found;
}

Rows rows_of(const Plant& plant, const Ranking& ranking, std::uint32_t row, const Stand& stand) {
    const std::uint32_t segment = ranking.segment_rows[row];
    Rows rows;
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t each = plant.inspection_order[i];
        if (Date{plant.inspections.days(I::date)[each]} > ranking.at.date) break;
        const bool among = std::ranges::any_of(
            stand.one_of, [&](I field) { return plant.inspections.has(field, each); });
        if (stand.all || among) rows.push_back(each);
    }
    return rows;
}

std::string cell_text(const Plant& plant, const RuleSet& rules, I field, std::uint32_t row) {
    const std::size_t index = index_of(field);
    const FieldInfo& info = inspection_fields()[index];
    std::string_view word;
    if (info.kind == FieldKind::word) {
        word = rules.vocabulary(info.words)
                   .words[plant.inspections.Sheet::column(index).codes[row]]
                   .key;
    }
    return value_text(plant.inspections, index, row, word);
}

ExplainedInput tell_one(const Plant& plant, const RuleSet& rules, const Stand& stand,
                        std::uint32_t row) {
    ExplainedInput told;
    told.key = "inspection";
    told.state = CellState::given;
    told.place = cell_place(plant.inspections, index_of(I::segment), row);
    for (std::size_t i = 0; i < stand.fields.size(); ++i) {
        const I field = stand.fields[i];
        if (i > 0 && field == I::date) break;
        if (!plant.inspections.has(field, row)) continue;
        if (!told.value.empty()) told.value += ' ';
        const bool says_itself = field == I::date || field == I::technique;
        if (!says_itself) told.value.append(inspection_fields()[index_of(field)].key).append(" ");
        told.value += cell_text(plant, rules, field, row);
    }
    told.shown = told.value;
    return told;
}

template <class Read>
std::vector<std::uint8_t> each_once(const Rows& rows, Read read) {
    std::vector<std::uint8_t> codes;
    for (const std::uint32_t row : rows) codes.push_back(read(row));
    std::ranges::sort(codes);
    codes.erase(std::unique(codes.begin(), codes.end()), codes.end());
    return codes;
}

}  // namespace

bool stands_for_inspections(std::string_view key) { return find_stand(key) != nullptr; }

std::vector<ExplainedInput> inspections_told(const Plant& plant, const RuleSet& rules,
                                             const Ranking& ranking, std::uint32_t row,
                                             std::string_view key) {
    const Stand& stand = *find_stand(key);
    std::vector<ExplainedInput> told;
    for (const std::uint32_t each : rows_of(plant, ranking, row, stand)) {
        told.push_back(tell_one(plant, rules, stand, each));
    }
    return told;
}

Rows inspections_classed(const Plant& plant, const Ranking& ranking, std::uint32_t row,
                         const QuantityInfo& of) {
    Rows rows;
    for (const std::string_view key : of.inputs) {
        const Stand* stand = find_stand(key);
        if (stand == nullptr || !stand->classed) continue;
        const Rows more = rows_of(plant, ranking, row, *stand);
        rows.insert(rows.end(), more.begin(), more.end());
    }
    return rows;
}

std::vector<std::uint8_t> effectiveness_read(const Plant& plant, const Ranking& ranking,
                                             std::uint32_t row, const QuantityInfo& of) {
    return each_once(inspections_classed(plant, ranking, row, of),
                     [&](std::uint32_t each) { return ranking.effectiveness_for(row)[each]; });
}

std::vector<std::uint8_t> techniques_read(const Plant& plant, const Ranking& ranking,
                                          std::uint32_t row, const QuantityInfo& of) {
    return each_once(inspections_classed(plant, ranking, row, of), [&](std::uint32_t each) {
        return plant.inspections.codes(I::technique)[each];
    });
}

}  // namespace lagline
