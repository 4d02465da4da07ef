#include "report/scope_sheets.h"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "planning/actions.h"
#include "planning/recoat_sheet.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::size_t places_told = 3;
constexpr std::size_t name_width = 30;

std::string coat_name(std::size_t coat) { return "of coat " + std::to_string(coat + 1); }

class SheetMaker {
  public:
    SheetMaker(const Plant& plant, const RuleSet& rules, const Ranking& ranking, const Plan& plan)
        : plant_(plant),
          rules_(rules),
          ranking_(ranking),
          plan_(plan),
          planner_(plant, rules, ranking, plan.futures, plan.windows) {}

    std::vector<ScopeSheet> make(std::optional<std::size_t> window) {
        std::map<Key, ScopeSheet> found;
        for (std::size_t row = 0; row < plan_.segments.size(); ++row) {
            const Strategy& strategy = strategy_of(row);
            if (!strategy.acts || (window && strategy.window != *window)) continue;
            ScopeSheet sheet = sheet_of(row);
            Key key = key_of(sheet);
            const auto at = found.try_emplace(std::move(key), std::move(sheet)).first;
            add_segment(row, at->second);
        }
        std::vector<ScopeSheet> sheets;
        for (auto& [key, sheet] : found) {
            std::ranges::sort(sheet.cautions, {}, &ScopeCaution::text);
            sheets.push_back(std::move(sheet));
        }
        return sheets;
    }

  private:
    // Window; groups before units; name.
    using Key = std::tuple<std::size_t, bool, std::string>;
    [[nodiscard]] Key key_of(const ScopeSheet& sheet) const {
        if (sheet.group) return {sheet.window, false, plan_.groups.names[*sheet.group]};
        return {sheet.window, true, sheet.unit};
    }

    [[nodiscard]] const Strategy& strategy_of(std::size_t row) const {
        return plan_.strategies.all[plan_.segments[row].strategy];
    }

    [[nodiscard]] ScopeSheet sheet_of(std::size_t row) const {
        ScopeSheet sheet;
        sheet.window = strategy_of(row).window;
        const std::uint32_t group = plan_.groups.of_row[row];
        if (group != AccessGroups::none) {
            sheet.group = group;
        } else {
            sheet.unit = plant_.segments.texts(S::unit)[plan_.segments[row].segment_row];
        }
        return sheet;
    }

    void add_segment(std::size_t row, ScopeSheet& sheet) {
        const Strategy& strategy = strategy_of(row);
        ScopeSegment told;
        told.row = row;
        told.segment = plan_.segments[row].segment_row;
        told.action = strategy.action;
        told.hours = strategy.hours;
        told.follow_hours = strategy.follow_hours;
        planner_.start(row);
        const bool later =
            planner_.can_follow_later(strategy.action, strategy.window) && strategy.follows_later();
        const ActionStudy study = planner_.study(strategy.action, strategy.window, later);
        told.inspects = study.inspects;
        told.hot_spots = find_hot_spots(plant_, rules_, ranking_, plan_.futures.ranking_rows[row]);
        if (told.hot_spots.size() > places_told) told.hot_spots.resize(places_told);
        told.inspection = inspection(study);
        told.coating = coating(study);
        told.take_off = take_off_text(study);
        told.follow_ups = follow_ups(study);
        if (study.follow_window != study.window) told.follow_window = study.follow_window;
        add_cautions(row, sheet);
        sheet.segments.push_back(std::move(told));
    }

    void add_cautions(std::size_t row, ScopeSheet& sheet) const {
        const Strategy& strategy = strategy_of(row);
        const std::uint32_t segment = plan_.segments[row].segment_row;
        WorkOnSegment work{strategy.action, plan_.windows[strategy.window].state, {}, {}};
        set_wall(ranking_, plan_.futures.ranking_rows[row], work);
        for (std::string& text : caution_lines(plant_, rules_, segment, work, strategy.cautions)) {
            const auto known = std::ranges::find(sheet.cautions, text, &ScopeCaution::text);
            if (known == sheet.cautions.end()) {
                sheet.cautions.push_back({std::move(text), {segment}});
            } else {
                known->segments.push_back(segment);
            }
        }
    }

    // What the plan counts on: a weaker inspection tells less.
    [[nodiscard]] std::string inspection(const ActionStudy& study) const {
        if (!study.inspects) return "";
        const auto code = rules_
                              .lookup(study.tree.by_states ? "action_effectiveness"
                                                           : "action_crack_effectiveness")
                              .code(static_cast<std::uint8_t>(study.action));
        const Word& word = rules_.vocabulary("effectiveness").words[code];
        const double share =
            study.action == WorkAction::open_part ? planner_.norms().opened_share : 1.0;
        return "effectiveness " + word.key + " or better (" + word.meaning + "), over " +
               short_number(100.0 * share, 3) + " % of the length";
    }

    [[nodiscard]] std::string coating(const ActionStudy& study) const {
        if (!study.coating || study.action == WorkAction::open_part) return "";
        const RecoatOption& option = *study.coating;
        std::string text =
            rules_.vocabulary("coating_system").words[option.system].meaning + " over " +
            rules_.vocabulary("surface_preparation").words[option.preparation].meaning;
        for (std::size_t coat = 0; coat < option.coats; ++coat) {
            text += (coat == 0 ? "; film " : " + ") + short_number(option.films[coat].least_um, 3) +
                    " to " + short_number(option.films[coat].most_um, 3) + " um";
        }
        return text;
    }

    [[nodiscard]] std::string take_off_text(const ActionStudy& study) {
        const bool coats = study.coating.has_value() &&
                           study.action != WorkAction::renew_insulation &&
                           study.action != WorkAction::open_part;
        const TakeOff found =
            take_off(plant_, planner_.norms(), plan_.futures.segment_rows[planner_.row()],
                     planner_.surface(), study.action, coats ? &*study.coating : nullptr);
        std::string text;
        const auto add = [&](double value, std::string_view unit, std::string_view what) {
            if (value <= 0.0) return;
            text.append(text.empty() ? "" : ", ").append(short_number(value, 3));
            text.append(" ").append(unit).append(" ").append(what);
        };
        add(found.stripped_m, "m", "stripped");
        add(found.inspected_m2, "m2", "inspected");
        add(found.coated_m2, "m2", "coated");
        for (std::size_t coat = 0; coats && coat < study.coating->coats; ++coat) {
            add(found.material[coat], study.coating->form == CoatingForm::wrap ? "m2" : "l",
                coat_name(coat));
        }
        add(found.insulated_m, "m", "insulated");
        add(found.jacket_m2, "m2", "jacket");
        add(found.pipe_m, "m", "pipe");
        return text;
    }

    [[nodiscard]] std::string follow_ups(const ActionStudy& study) const {
        if (!study.inspects) return "";
        std::string text;
        for (std::size_t j = 0; j < study.tree.outcome_count(); ++j) {
            const InspectionTree::Outcome& outcome = study.tree.outcomes[j];
            const std::string& found = rules_.vocabulary("damage_state").words[j].meaning;
            text += (j > 0 ? "; " : "") + (study.tree.by_states ? found : "no cracks") + ": " +
                    std::string{describe(study.follow_ups[outcome.best])};
        }
        return text;
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const Ranking& ranking_;
    const Plan& plan_;
    ActionPlanner planner_;
};

}  // namespace

std::vector<ScopeSheet> scope_sheets(const Plant& plant, const RuleSet& rules,
                                     const Ranking& ranking, const Plan& plan,
                                     std::optional<std::size_t> window) {
    return SheetMaker{plant, rules, ranking, plan}.make(window);
}

std::string area_of(const ScopeSheet& sheet, const Plan& plan) {
    if (sheet.group)
        return "scaffold group " + printable(plan.groups.names[*sheet.group], name_width);
    return "unit " + printable(sheet.unit, name_width) + ", no scaffold group";
}

}  // namespace lagline
