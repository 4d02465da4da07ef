#include "report/plan_text.h"

#include <algorithm>
#include <cmath>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"
#include "report/engineer_text.h"
#include "report/plan_sections.h"

namespace lagline {
namespace {

using S = SegmentField;

std::string proof(const Plan& plan, const std::string& currency) {
    const Solution& solution = plan.solution;
    switch (solution.status) {
        case SolveStatus::proven:
        case SolveStatus::stopped: {
            std::string text = "Proven: no plan within these limits costs more than " +
                               short_number(100.0 * solution.gap, 2) + " % less (bound " +
                               grouped(solution.bound) + " " + currency + ").";
            if (solution.status == SolveStatus::stopped) {
                text += " The time limit struck before the gap asked for was reached.";
            }
            return text;
        }
        case SolveStatus::overrun:
            return "The compulsory work does not fit: see below. The plan is that of the least "
                   "total of work, leaks and what is counted for going beyond the limits, proven "
                   "to " +
                   short_number(100.0 * solution.gap, 2) + " %.";
        case SolveStatus::none_found:
            return "No plan was found within the time limit: give --seconds more.";
    }
    return "";
}

std::string head(const Plant& plant, const Plan& plan, const TextStyle& style) {
    const std::string& currency = plant.description.currency;
    const Horizon& horizon = plan.futures.horizon;
    return coloured(printable(plant.description.name, style.width - 2), Tone::strong, style) +
           "\n" +
           wrapped("Plan from " + to_string(plan.futures.today) + ": work in " +
                       counted(plan.windows.size(), "window") + ", leaks over " +
                       std::to_string(horizon.years) + " years, later money at " +
                       short_number(100.0 * horizon.discount_rate_per_year, 3) +
                       " % a year; money in " + currency + ". " + proof(plan, currency),
                   style.width, 0) +
           "\n\n";
}

}  // namespace

std::string_view short_name(WorkAction action) {
    switch (action) {
        case WorkAction::screen:
            return "screen";
        case WorkAction::open_part:
            return "open part";
        case WorkAction::strip_recoat:
            return "strip, recoat";
        case WorkAction::renew_insulation:
            return "renew insulation";
        case WorkAction::remove_insulation:
            return "remove insulation";
        case WorkAction::replace_run:
            return "replace run";
    }
    return "";
}

std::string name_of_limit(const RuleSet& rules, const std::optional<Craft>& craft) {
    if (!craft) return "budget";
    return rules.vocabulary("craft").words[static_cast<std::size_t>(*craft)].key + " hours";
}

std::string plan_text(const Plant& plant, const RuleSet& rules, const Plan& plan, std::size_t top,
                      const TextStyle& style) {
    const PlanSections sections{plant, rules, plan, style};
    return head(plant, plan, style) + engineer_block(plant, rules, plan.engineer_now, style) +
           sections.windows() + sections.money() + sections.does_not_fit() + sections.limits() +
           sections.budget_curve() + sections.work(top) + sections.near_misses() +
           sections.notes() +
           coloured(wrapped(screening_caution, style.width, 0), Tone::quiet, style) + "\n";
}

}  // namespace lagline
