#include "intake/gaps.h"

#include <algorithm>
#include <array>

#include "intake/cell_place.h"

namespace lagline {
namespace {

constexpr std::array assumption_states{CellState::imprecise, CellState::derived,
                                       CellState::plant_default, CellState::rule_default};

std::string_view word_of(const Plant& plant, const RuleSet& rules, std::size_t field,
                         std::size_t row) {
    const FieldInfo& info = segment_fields()[field];
    if (info.kind != FieldKind::word) return "";
    return rules.vocabulary(info.words).words[plant.segments.Sheet::column(field).codes[row]].key;
}

void tell_rule(Gap& gap, const RuleSet& rules) {
    const FieldInfo& info = segment_fields()[gap.field];
    const auto by = rules.lookups.find(info.key);
    if (const auto rule = rules.defaults.find(info.key); rule != rules.defaults.end()) {
        gap.taken = rule->second.text;
        gap.reason = rule->second.reason;
        gap.place = rule->second.place;
        gap.basis = to_string(rule->second.basis);
        if (by != rules.lookups.end()) {
            gap.taken = "by " + by->second.info.by + ", table " + by->second.info.name + ", else " +
                        gap.taken;
        }
    } else if (by != rules.lookups.end()) {
        gap.taken = "by " + by->second.info.by + ", table " + by->second.info.name;
        gap.reason = by->second.info.meaning;
        gap.place = by->second.info.place;
        gap.basis = to_string(by->second.info.basis);
    }
}

// A coating dated after the start of service stands on one that nobody recorded.
void add_earlier_coats(const Plant& plant, const RuleSet& rules, std::vector<Gap>& gaps) {
    using S = SegmentField;
    const auto rule = rules.values.find("earlier_coat");
    if (rule == rules.values.end() || rule->second.word() != "like_present") return;
    Gap gap;
    gap.field = index_of(S::coating_date);
    gap.state = CellState::derived;
    for (std::size_t row = 0; row < plant.segments.rows(); ++row) {
        if (!plant.segments.has(S::coating_date, row) || !plant.segments.has(S::in_service, row)) {
            continue;
        }
        if (plant.segments.days(S::coating_date)[row] > plant.segments.days(S::in_service)[row]) {
            ++gap.count;
        }
    }
    if (gap.count == 0) return;
    gap.taken = "before it, a coat like the present one from the first day";
    gap.reason = rule->second.info.meaning;
    gap.place = rule->second.info.place;
    gap.basis = to_string(rule->second.info.basis);
    gaps.push_back(std::move(gap));
}

}  // namespace

std::vector<Gap> find_gaps(const Plant& plant, const RuleSet& rules,
                           const std::vector<std::size_t>& fields) {
    std::vector<Gap> gaps;
    for (const std::size_t field : fields) {
        const auto& states = plant.segments.Sheet::column(field).states;
        for (const CellState state : assumption_states) {
            const auto first = std::ranges::find(states, state);
            if (first == states.end()) continue;
            Gap gap;
            gap.field = field;
            gap.state = state;
            gap.count = static_cast<std::size_t>(std::ranges::count(states, state));
            const auto row = static_cast<std::size_t>(first - states.begin());
            if (state == CellState::plant_default) {
                gap.taken =
                    field == index_of(SegmentField::outage) && !plant.description.outages.empty()
                        ? "days of the unit, outage of plant.yaml"
                        : value_text(plant.segments, field, row, word_of(plant, rules, field, row));
            } else if (state == CellState::rule_default) {
                tell_rule(gap, rules);
                if (field == index_of(SegmentField::driver) &&
                    chooses(rules, "driver_model", "derived")) {
                    gap.taken = "derived from the site, else " + gap.taken;
                }
            } else if (state == CellState::derived) {
                gap.taken = segment_fields()[field].absent;
            } else {
                gap.taken = "first day of the year or month given";
            }
            gaps.push_back(std::move(gap));
        }
        if (field == index_of(SegmentField::coating_date)) add_earlier_coats(plant, rules, gaps);
    }
    return gaps;
}

}  // namespace lagline
