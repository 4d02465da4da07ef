#include "report/scope_text.h"

#include <algorithm>
#include <map>
#include <set>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "planning/actions.h"
#include "ranking/hot_spots.h"
#include "report/cautions.h"
#include "report/plan_text.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::size_t places_told = 3;

std::string in(double value, std::string_view unit) {
    return short_number(value, 3) + " " + std::string{unit};
}

std::string coat_name(std::size_t coat) { return "of coat " + std::to_string(coat + 1); }

class ScopeSheets {
  public:
    ScopeSheets(const Plant& plant, const RuleSet& rules, const Ranking& ranking, const Plan& plan,
                const TextStyle& style)
        : plant_(plant),
          rules_(rules),
          ranking_(ranking),
          plan_(plan),
          style_(style),
          planner_(plant, rules, ranking, plan.futures, plan.windows) {}

    std::string write() {
        std::string text = coloured("Scope of work: " + printable(plant_.description.name, 60),
                                    Tone::strong, style_) +
                           "\n\n";
        for (const auto& [sheet, rows] : sheets()) text += write_sheet(sheet, rows);
        return text + wrapped(screening_caution, style_.width, 0) + "\n";
    }

  private:
    using Sheet = std::pair<std::size_t, std::string>;  // window, work area

    [[nodiscard]] std::string area_of(std::size_t row) const {
        const std::uint32_t group = plan_.groups.of_row[row];
        if (group != AccessGroups::none) {
            return "scaffold group " + printable(plan_.groups.names[group], 30);
        }
        const std::uint32_t segment = plan_.segments[row].segment_row;
        return "unit " + printable(plant_.segments.texts(S::unit)[segment], 30) +
               ", no scaffold group";
    }

    [[nodiscard]] std::map<Sheet, std::vector<std::size_t>> sheets() const {
        std::map<Sheet, std::vector<std::size_t>> found;
        for (std::size_t row = 0; row < plan_.segments.size(); ++row) {
            const Strategy& strategy = plan_.strategies.all[plan_.segments[row].strategy];
            if (strategy.acts) found[{strategy.window, area_of(row)}].push_back(row);
        }
        return found;
    }

    std::string write_sheet(const Sheet& sheet, const std::vector<std::size_t>& rows) {
        const PlanWindow& window = plan_.windows[sheet.first];
        std::string text =
            coloured(printable(window.name, 30) + ", " + sheet.second, Tone::strong, style_) +
            "\n" +
            wrapped(to_string(window.start) + " to " + to_string(window.end) +
                        (window.state == WorkState::shutdown ? ", plant shut down. "
                                                             : ", plant running. ") +
                        counted(rows.size(), "segment") + scaffold(rows.front()) + ".",
                    style_.width, 0) +
            "\n\n";
        std::set<std::string> warnings;
        for (const std::size_t row : rows) text += write_segment(row, warnings) + "\n";
        text += "  Cautions\n";
        for (const std::string& warning : warnings) {
            text += "  " + wrapped("- " + warning, style_.width - 2, 4) + "\n";
        }
        for (const std::string_view warning : field_cautions) {
            text += "  " + wrapped("- " + std::string{warning}, style_.width - 2, 4) + "\n";
        }
        return text + "\n";
    }

    [[nodiscard]] std::string scaffold(std::size_t row) const {
        const std::uint32_t group = plan_.groups.of_row[row];
        if (!plan_.groups.needs_scaffold(group)) return "";
        return "; scaffold to " + in(plan_.groups.elevation_m[group], "m") + ", " +
               in(plan_.groups.hours[group], "h");
    }

    std::string write_segment(std::size_t row, std::set<std::string>& warnings) {
        const PlannedSegment& planned = plan_.segments[row];
        const std::uint32_t segment = planned.segment_row;
        const Strategy& strategy = plan_.strategies.all[planned.strategy];
        planner_.start(row);
        const bool later =
            planner_.can_follow_later(strategy.action, strategy.window) && strategy.follows_later();
        const ActionStudy study = planner_.study(strategy.action, strategy.window, later);
        std::string text = "  [ ] " + printable(plant_.segments.texts(S::segment)[segment], 30) +
                           ", line " + printable(plant_.segments.texts(S::line)[segment], 30) +
                           ": " +
                           rules_.vocabulary("work_action")
                               .words[static_cast<std::size_t>(strategy.action)]
                               .meaning +
                           "\n";
        const auto line = [&](const std::string& what, const std::string& value) {
            if (value.empty()) return;
            text += "      " + wrapped(what + ": " + value, style_.width - 6, 8) + "\n";
        };
        line("look first at", hot_spots(row));
        line("inspection", inspection(study));
        line("coating", coating(study));
        line("take-off", take_off_text(study));
        line(study.follow_window == study.window
                 ? "may follow"
                 : "may follow in " + printable(plan_.windows[study.follow_window].name, 20),
             follow_ups(study));
        WorkOnSegment work{strategy.action, plan_.windows[strategy.window].state, {}, {}};
        fill_walls(row, work);
        for (const std::string& warning :
             caution_lines(plant_, rules_, segment, work, strategy.cautions)) {
            warnings.insert(warning);
        }
        return text;
    }

    void fill_walls(std::size_t row, WorkOnSegment& work) const {
        const std::uint32_t ranked = plan_.futures.ranking_rows[row];
        if (ranked >= ranking_.mechanism_rows.wall_loss) return;
        work.expected_wall_mm = ranking_.likelihood.expected_wall_mm[ranked];
        work.minimum_wall_mm = ranking_.likelihood.minimum_thickness_mm[ranked];
    }

    [[nodiscard]] std::string hot_spots(std::size_t row) const {
        std::string text;
        const auto spots =
            find_hot_spots(plant_, rules_, ranking_, plan_.futures.ranking_rows[row]);
        for (std::size_t i = 0; i < std::min(places_told, spots.size()); ++i) {
            text += (i > 0 ? "; " : "") + spots[i].place;
        }
        return text;
    }

    // What the plan counts on: a weaker inspection tells less.
    [[nodiscard]] std::string inspection(const ActionStudy& study) const {
        if (!study.inspects) return "";
        const auto code =
            rules_.lookup("action_effectiveness").code(static_cast<std::uint8_t>(study.action));
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
            text += (text.empty() ? "" : ", ") + in(value, unit) + " " + std::string{what};
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
    TextStyle style_;
    ActionPlanner planner_;
};

}  // namespace

std::string scope_text(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                       const Plan& plan, const TextStyle& style) {
    return ScopeSheets{plant, rules, ranking, plan, style}.write();
}

}  // namespace lagline
