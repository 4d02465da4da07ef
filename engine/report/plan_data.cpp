#include "report/plan_data.h"

#include <cmath>

#include "report/cautions.h"
#include "report/engineer_text.h"
#include "report/json_writer.h"
#include "report/plan_rows.h"
#include "report/plan_text.h"

namespace lagline {
namespace {

using S = SegmentField;

std::string_view word(const RuleSet& rules, std::string_view vocabulary, std::size_t code) {
    return rules.vocabulary(vocabulary).words[code].key;
}

void write_totals(JsonWriter& json, const PlanTotals& totals) {
    json.begin_object();
    json.member_count("segments", totals.treated);
    json.member("spent", totals.spent());
    json.member("work", totals.cost);
    json.member("leaks", totals.loss);
    json.member("beyond_limits", totals.overrun_charge);
    json.member("total", totals.value());
    json.member_count("late", totals.late);
    json.end_object();
}

void write_windows(JsonWriter& json, const RuleSet& rules, const Plan& plan) {
    json.key("windows");
    json.begin_array();
    for (std::size_t w = 0; w < plan.windows.size(); ++w) {
        const PlanWindow& window = plan.windows[w];
        const WindowTotals& totals = plan.totals.windows[w];
        json.begin_object();
        json.member("name", window.name);
        json.member("start", to_string(window.start));
        json.member("end", to_string(window.end));
        json.member("kind",
                    word(rules, "window_kind", window.state == WorkState::shutdown ? 0 : 1));
        json.member("money", totals.money);
        if (std::isfinite(window.budget)) json.member("budget", window.budget);
        json.member_count("scaffolds", totals.scaffolds);
        json.member("scaffold_money", totals.scaffold_money);
        json.key("actions");
        json.begin_object();
        for (std::size_t action = 0; action < work_actions; ++action) {
            json.member_count(word(rules, "work_action", action), totals.actions[action]);
        }
        json.end_object();
        json.key("hours");
        json.begin_object();
        for (std::size_t craft = 0; craft < crafts; ++craft) {
            json.key(word(rules, "craft", craft));
            json.begin_object();
            json.member("used", totals.hours[craft]);
            if (std::isfinite(window.hours[craft])) json.member("limit", window.hours[craft]);
            json.end_object();
        }
        json.end_object();
        json.end_object();
    }
    json.end_array();
}

void write_scaffolds(JsonWriter& json, const Plan& plan) {
    json.key("scaffolds");
    json.begin_array();
    for (const ScaffoldUse& use : plan.totals.scaffolds) {
        json.begin_object();
        json.member("window", plan.windows[use.window].name);
        json.member("scaffold_group", plan.groups.names[use.group]);
        json.member("share", use.share);
        json.member("money", use.money);
        json.member("scaffold_hours", use.hours);
        json.end_object();
    }
    json.end_array();
}

void write_limits(JsonWriter& json, const RuleSet& rules, const Plan& plan) {
    json.key("limits");
    json.begin_array();
    for (std::size_t r = 0; r < plan.solution.shadow_price.size(); ++r) {
        json.begin_object();
        json.member("window", plan.windows[plan.resources[r].window].name);
        json.member("limit", name_of_limit(rules, plan.resources[r].craft));
        if (plan.solution.status == SolveStatus::overrun) {
            json.member("missing", plan.solution.overrun[r]);
        } else {
            json.member("one_more_saves", plan.solution.shadow_price[r]);
        }
        json.end_object();
    }
    json.end_array();
}

void write_others(JsonWriter& json, const Plan& plan) {
    json.key("spending");
    json.begin_object();
    json.key("nothing done");
    write_totals(json, plan.left);
    json.key("this plan");
    write_totals(json, plan.totals);
    for (const SpendingResult& other : plan.others) {
        json.key(describe(other.order));
        write_totals(json, other.totals);
    }
    json.end_object();
}

void write_curve(JsonWriter& json, const Plan& plan) {
    json.key("budget_curve");
    json.begin_array();
    for (const BudgetPoint& point : plan.sweep) {
        json.begin_object();
        json.member("factor", point.factor);
        json.member("budget", point.budget);
        json.member("spent", point.spent);
        json.member("leaks", point.loss);
        json.member("work_and_leaks", point.value);
        json.member("beyond_limits", point.overrun_charge);
        json.member("gap", point.gap);
        json.member_flag("fits", point.fits);
        json.end_object();
    }
    json.end_array();
}

void write_misses(JsonWriter& json, const Plant& plant, const RuleSet& rules, const Plan& plan) {
    json.key("just_missed");
    json.begin_array();
    for (const NearMiss& miss : plan.near_misses) {
        const Strategy& strategy = plan.strategies.all[miss.strategy];
        json.begin_object();
        json.member("segment",
                    plant.segments.texts(S::segment)[plan.segments[miss.row].segment_row]);
        json.member("action",
                    word(rules, "work_action", static_cast<std::size_t>(strategy.action)));
        json.member("window", plan.windows[strategy.window].name);
        json.member("saves", miss.saves);
        json.member("cost", miss.cost);
        json.member("scarce", miss.scarce);
        json.member("short_by", miss.short_by);
        json.end_object();
    }
    json.end_array();
}

void write_row(JsonWriter& json, const Plant& plant, const RuleSet& rules, const Plan& plan,
               std::size_t index) {
    const PlanRow row{plan, index};
    const Strategy& strategy = row.strategy;
    json.begin_object();
    json.member("segment", plant.segments.texts(S::segment)[row.segment.segment_row]);
    json.member_count("rank", row.segment.rank);
    json.member("action", row.action(rules));
    json.member("loss_if_left", row.segment.loss_if_left);
    if (strategy.acts) {
        json.member("window", plan.windows[strategy.window].name);
        if (row.coats())
            json.member("coating_system", word(rules, "coating_system", strategy.coating));
        json.member("money", strategy.money);
        json.member("follow_window", plan.windows[strategy.follow_window].name);
        json.member("follow_money", strategy.follow_money);
        json.member("follow_chance", strategy.follow_chance);
        json.member("work_cost", strategy.cost);
        json.member("loss_with_plan", strategy.loss);
    }
    if (const auto cost = row.cost_of_waiting()) json.member("cost_of_waiting", *cost);
    if (row.deadline.due) json.member("due_date", to_string(*row.deadline.due));
    if (row.deadline.window) json.member("open_by", plan.windows[*row.deadline.window].name);
    json.end_object();
}

}  // namespace

std::string plan_csv(const Plant& plant, const RuleSet& rules, const Plan& plan) {
    return csv_of(PlanRows{plant, rules, plan});
}

std::string plan_json(const Plant& plant, const RuleSet& rules, const Plan& plan) {
    JsonWriter json;
    json.begin_document();
    json.member("plant", plant.description.name);
    json.member("currency", plant.description.currency);
    json.member("today", to_string(plan.futures.today));
    json.member_count("horizon_years", static_cast<std::size_t>(plan.futures.horizon.years));
    json.member("discount_rate", plan.futures.horizon.discount_rate_per_year);
    json.member_flag("fits", plan.solution.status != SolveStatus::overrun);
    json.member("objective", plan.solution.objective);
    json.member("bound", plan.solution.bound);
    json.member("gap", plan.solution.gap);
    write_engineer_list(json, engineer_texts(plant, rules, plan.engineer_now));
    write_windows(json, rules, plan);
    write_scaffolds(json, plan);
    write_limits(json, rules, plan);
    write_others(json, plan);
    write_curve(json, plan);
    write_misses(json, plant, rules, plan);
    json.key("segments");
    json.begin_array();
    for (std::size_t row = 0; row < plan.segments.size(); ++row) {
        write_row(json, plant, rules, plan, row);
    }
    json.end_array();
    json.member("caution", screening_caution);
    json.end_object();
    return json.take() + "\n";
}

}  // namespace lagline
