#include "planning/recoat_sheet.h"

#include <algorithm>

namespace lagline {
namespace {

RecoatChoice choice(const Plant& plant, const TakeOffRules& rules, const RecoatPlanner& planner,
                    const RecoatSheet& sheet, WorkState state) {
    RecoatChoice made;
    made.state = state;
    planner.options(sheet.segment, sheet.service, state, made.options);
    for (const RecoatOption& option : made.options) made.reasons.push_back(planner.reason(option));
    const RecoatOption* first = made.allowed() > 0 ? made.options.data() : nullptr;
    made.take_off =
        take_off(plant, rules, sheet.segment, sheet.surface, WorkAction::strip_recoat, first);
    return made;
}

}  // namespace

std::size_t RecoatChoice::allowed() const {
    return static_cast<std::size_t>(std::ranges::count_if(options, &RecoatOption::allowed));
}

void set_wall(const Ranking& ranking, std::uint32_t row, WorkOnSegment& work) {
    const std::size_t walls = ranking.mechanism_rows.wall_loss;
    std::uint32_t wall_row = row;
    if (row >= walls) {
        const auto other = ranking.other_mechanism(row);
        if (!other) return;
        wall_row = *other;
    }
    work.expected_wall_mm = ranking.likelihood.expected_wall_mm[wall_row];
    work.minimum_wall_mm = ranking.likelihood.minimum_thickness_mm[wall_row];
}

RecoatSheet recoat_sheet(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                         std::uint32_t row) {
    const RecoatPlanner planner{plant, rules};
    const TakeOffRules quantities = take_off_rules(rules);
    RecoatSheet sheet;
    sheet.segment = ranking.segment_rows[row];
    sheet.service = segment_service(plant, ranking, row);
    sheet.surface = segment_surface(plant, planner.surface_rules(), sheet.segment);
    sheet.shutdown = choice(plant, quantities, planner, sheet, WorkState::shutdown);
    sheet.on_stream = choice(plant, quantities, planner, sheet, WorkState::on_stream);
    sheet.terms = planner.rules().terms;
    sheet.price_level = planner.rules().price_level;
    sheet.climate_known = !planner.rules().month_degc.empty();
    sheet.life_model = planner.rules().life.has_value();
    // On stream everything holds that holds in a shutdown, and hot metal as well.
    sheet.work = {.action = WorkAction::strip_recoat,
                  .state = WorkState::on_stream,
                  .expected_wall_mm = {},
                  .minimum_wall_mm = {}};
    set_wall(ranking, row, sheet.work);
    const std::uint32_t set = cautions(plant, caution_rules(rules), sheet.segment, sheet.work);
    sheet.cautions = caution_lines(plant, rules, sheet.segment, sheet.work, set);
    return sheet;
}

}  // namespace lagline
