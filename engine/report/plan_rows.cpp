#include "report/plan_rows.h"

#include <cmath>

namespace lagline {
namespace {

using S = SegmentField;

// A text, or an empty cell.
void write_if(TableCells& cells, bool there, std::string_view text) {
    if (there) {
        cells.text(text);
    } else {
        cells.empty();
    }
}

}  // namespace

std::optional<double> PlanRow::cost_of_waiting() const {
    if (!segment.cost_of_waiting || !std::isfinite(*segment.cost_of_waiting)) return std::nullopt;
    return segment.cost_of_waiting;
}

PlanRow::ScaffoldPart PlanRow::scaffold(const Plan& plan, std::size_t window) const {
    const double chance = strategy.scaffold_in(window);
    const ScaffoldUse* use = plan.totals.scaffold(window, plan.groups.of_row[row]);
    if (use == nullptr || chance <= 0.0) return {};
    const double part = chance / use->needed;
    return {part * use->money, part * use->hours};
}

std::string_view PlanRow::action(const RuleSet& rules) const {
    if (!strategy.acts) return "leave";
    return rules.vocabulary("work_action").words[static_cast<std::size_t>(strategy.action)].key;
}

std::vector<OutputColumn> PlanRows::columns() const {
    std::vector<OutputColumn> all{{"segment"},
                                  {"line"},
                                  {"unit"},
                                  {"scaffold_group"},
                                  {"rank", CellKind::count},
                                  {"action"},
                                  {"window"},
                                  {"follow_window"},
                                  {"coating_system"},
                                  {"money", CellKind::money},
                                  {"follow_money", CellKind::money},
                                  {"follow_chance", CellKind::number}};
    for (const auto* when : {"", "follow_"}) {
        for (const Word& craft : rules_.vocabulary("craft").words) {
            all.push_back({when + craft.key + "_hours [h]", CellKind::number, "h"});
        }
    }
    for (const auto* when : {"", "follow_"}) {
        all.push_back({std::string{when} + "shared_scaffold_money", CellKind::money});
        all.push_back({std::string{when} + "shared_scaffold_hours [h]", CellKind::number, "h"});
    }
    for (const auto* money :
         {"work_cost", "loss_if_left", "loss_with_plan", "saves", "cost_of_waiting"}) {
        all.push_back({money, CellKind::money});
    }
    all.push_back({"due_date", CellKind::date});
    for (const auto* text : {"due_by", "engineer_now", "open_by", "cautions", "currency"})
        all.push_back({text});
    return all;
}

void PlanRows::write_row(std::size_t index, TableCells& cells) const {
    const PlanRow row{plan_, index};
    const std::uint32_t segment = row.segment.segment_row;
    cells.text(plant_.segments.texts(S::segment)[segment]);
    for (const S field : {S::line, S::unit, S::scaffold_group}) {
        const bool there = plant_.segments.has(field, segment);
        write_if(cells, there, there ? plant_.segments.texts(field)[segment] : std::string_view{});
    }
    cells.count(row.segment.rank);
    write_work(row, cells);
    cells.number(row.strategy.cost);
    cells.number(row.segment.loss_if_left);
    cells.number(row.strategy.loss);
    cells.number(row.saves());
    if (const auto cost = row.cost_of_waiting()) {
        cells.number(*cost);
    } else {
        cells.empty();
    }
    write_deadline(row, cells);
    cells.text(cautions(row.strategy));
    cells.text(plant_.description.currency);
}

void PlanRows::write_work(const PlanRow& row, TableCells& cells) const {
    const Strategy& strategy = row.strategy;
    const bool follows =
        strategy.acts && (strategy.follow_money > 0.0 || strategy.follow_chance > 0.0);
    cells.text(row.action(rules_));
    write_if(cells, strategy.acts, strategy.acts ? plan_.windows[strategy.window].name : "");
    write_if(cells, follows, follows ? plan_.windows[strategy.follow_window].name : "");
    write_if(cells, row.coats(),
             row.coats() ? rules_.vocabulary("coating_system").words[strategy.coating].key : "");
    cells.number(strategy.money);
    cells.number(strategy.follow_money);
    cells.number(strategy.follow_chance);
    for (const CraftHours& hours : {strategy.hours, strategy.follow_hours}) {
        for (const double each : hours) cells.number(each);
    }
    const auto own = row.scaffold(plan_, strategy.window);
    cells.number(own.money);
    cells.number(own.hours);
    const auto later = strategy.follows_later() ? row.scaffold(plan_, strategy.follow_window)
                                                : PlanRow::ScaffoldPart{};
    cells.number(later.money);
    cells.number(later.hours);
}

void PlanRows::write_deadline(const PlanRow& row, TableCells& cells) const {
    const Deadline& deadline = row.deadline;
    if (deadline.due) {
        cells.date(*deadline.due);
        cells.text(to_string(deadline.criterion));
    } else {
        cells.empty();
        cells.empty();
    }
    cells.text(reason_words(engineer_now_, row.segment.segment_row));
    write_if(cells, deadline.window.has_value(),
             deadline.window ? plan_.windows[*deadline.window].name : "");
}

std::string PlanRows::cautions(const Strategy& strategy) const {
    std::string text;
    for (std::size_t i = 0; strategy.acts && i < caution_count; ++i) {
        if (!holds(strategy.cautions, static_cast<Caution>(i))) continue;
        text += (text.empty() ? "" : " ") + rules_.vocabulary("work_caution").words[i].key;
    }
    return text;
}

}  // namespace lagline
