#include "report/plan_sections.h"

#include <algorithm>
#include <cmath>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/plan_text.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr std::size_t bar_width = 20;
// From this width on the work also shows coating and scaffold.
constexpr std::size_t wide = 112;

std::string money_or_none(double money) {
    return std::isfinite(money) ? grouped(money) : "no limit";
}

// "812 of 2400", or "812" where there is no limit.
std::string used_of(double used, double limit) {
    return grouped(std::round(used)) + (std::isfinite(limit) ? " of " + grouped(limit) : "");
}

std::string bar(double share) {
    const double filled = std::clamp(share, 0.0, 1.0) * static_cast<double>(bar_width);
    std::string text;
    for (std::size_t i = 0; i < bar_width; ++i) {
        text += static_cast<double>(i) + 0.5 < filled ? "█" : "░";
    }
    return text;
}

// Money of a sum that rounding can leave a little off 0.
std::string about(double money) {
    return std::abs(money) < 0.5 ? "0" : (money < 0.0 ? "-" : "") + compact(std::abs(money));
}

std::string action_of(const Strategy& strategy) {
    std::string name{short_name(strategy.action)};
    if (strategy.follows_later() && strategy.action != WorkAction::screen) name += ", act later";
    return name;
}

std::string_view kind_of(const PlanWindow& window) {
    return window.state == WorkState::shutdown ? "turnaround" : "on stream";
}

}  // namespace

std::string PlanSections::title(std::string_view text) const {
    return coloured(text, Tone::strong, style_) + "\n";
}

std::string PlanSections::small(const std::string& text) const {
    return coloured(wrapped(text, style_.width, 0), Tone::quiet, style_) + "\n";
}

std::string PlanSections::limit_text(const PlanResource& limit) const {
    return name_of_limit(rules_, limit.craft) + " of " + plan_.windows[limit.window].name;
}

std::string PlanSections::windows() const {
    std::vector<TableColumn> columns{
        {"window", false, 16},  {"", false, 0},     {"start", false, 0}, {"segments", true, 0},
        {"scaffolds", true, 0}, {"money", true, 0}, {"budget", true, 0}, {"used", true, 0}};
    std::vector<std::vector<std::string>> rows;
    for (std::size_t w = 0; w < plan_.windows.size(); ++w) {
        const PlanWindow& window = plan_.windows[w];
        const WindowTotals& totals = plan_.totals.windows[w];
        std::size_t segments = 0;
        for (const std::size_t count : totals.actions) segments += count;
        const bool limited = std::isfinite(window.budget) && window.budget > 0.0;
        rows.push_back(
            {printable(window.name, 16), std::string{kind_of(window)}, to_string(window.start),
             std::to_string(segments), std::to_string(totals.scaffolds),
             grouped(std::round(totals.money)), money_or_none(window.budget),
             limited ? short_number(100.0 * totals.money / window.budget, 3) + " %" : ""});
    }
    std::string text = title("Windows") + text_table(columns, rows, style_) + "\n";
    std::vector<TableColumn> craft_columns{{"hours", false, 16}};
    for (const Word& craft : rules_.vocabulary("craft").words) {
        craft_columns.push_back({craft.key, true, 0});
    }
    std::vector<std::vector<std::string>> craft_rows;
    for (std::size_t w = 0; w < plan_.windows.size(); ++w) {
        std::vector<std::string> cells{printable(plan_.windows[w].name, 16)};
        for (std::size_t craft = 0; craft < crafts; ++craft) {
            cells.push_back(
                used_of(plan_.totals.windows[w].hours[craft], plan_.windows[w].hours[craft]));
        }
        craft_rows.push_back(std::move(cells));
    }
    return text + text_table(craft_columns, craft_rows, style_) + "\n";
}

std::string PlanSections::money() const {
    std::vector<TableColumn> columns{{"the money spent", false, 40},
                                     {"segments", true, 0},
                                     {"spent", true, 0},
                                     {"work", true, 0},
                                     {"leaks", true, 0},
                                     {"total", true, 0},
                                     {"late", true, 0}};
    std::vector<std::vector<std::string>> rows;
    const auto add = [&](std::string_view name, const PlanTotals& totals) {
        rows.push_back({std::string{name}, std::to_string(totals.treated), compact(totals.spent()),
                        compact(totals.cost), compact(totals.loss), compact(totals.value()),
                        std::to_string(totals.late)});
    };
    add("not at all", plan_.left);
    add("by this plan", plan_.totals);
    for (const SpendingResult& other : plan_.others) add(describe(other.order), other.totals);
    return title("What the plan is worth") + text_table(columns, rows, style_) +
           small("spent: expected, prices of today. work, leaks, total: present value to " +
                 to_string(add_years(plan_.futures.today, plan_.futures.horizon.years)) +
                 ". late: segments that reach a criterion before they are opened.") +
           "\n";
}

std::string PlanSections::does_not_fit() const {
    const auto found = overruns(plan_.totals, plan_.windows);
    if (plan_.solution.status != SolveStatus::overrun || found.empty()) return "";
    std::string text = title("The compulsory work does not fit");
    for (const Overrun& overrun : found) {
        text += "  " +
                wrapped(limit_text({overrun.window, overrun.craft}) + ": " +
                            grouped(std::ceil(overrun.by)) +
                            (overrun.craft ? " h" : " " + plant_.description.currency) +
                            " more than there is",
                        style_.width - 2, 4) +
                "\n";
    }
    return text +
           small("Counted beside work and leaks at a fixed charge for each " +
                 plant_.description.currency +
                 " (rule overrun_charge), an hour at its crew rate "
                 "with overtime: " +
                 compact(plan_.totals.overrun_charge) + " " + plant_.description.currency +
                 ", part of the total of this plan. Give these "
                 "limits more, move a window, or accept a later date for a segment by an override "
                 "or another criterion.") +
           "\n";
}

std::string PlanSections::limits() const {
    if (plan_.solution.status == SolveStatus::overrun) return "";  // what gave way has no price
    std::vector<TableColumn> columns{
        {"limit", false, 40}, {"one more", false, 0}, {"saves", true, 0}};
    std::vector<std::vector<std::string>> rows;
    for (std::size_t r = 0; r < plan_.solution.shadow_price.size(); ++r) {
        const double price = plan_.solution.shadow_price[r];
        if (price <= 0.0) continue;
        const PlanResource& limit = plan_.resources[r];
        rows.push_back({limit_text(limit), limit.craft ? "hour" : plant_.description.currency,
                        short_number(price, 3) + " " + plant_.description.currency});
    }
    if (rows.empty())
        return title("What limits the plan") +
               small("Nothing: more money or hours would change no action.") + "\n";
    return title("What limits the plan") + text_table(columns, rows, style_) +
           small(
               "At the margin; a large step buys less. Savings are of work and leaks together, "
               "present value. Other limits leave something over.") +
           "\n";
}

std::string PlanSections::budget_curve() const {
    if (plan_.sweep.empty()) return "";
    double most = 0.0;
    double gap = 0.0;
    for (const BudgetPoint& point : plan_.sweep) {
        most = std::max(most, point.loss);
        if (point.fits) gap = std::max(gap, point.gap);
    }
    std::vector<TableColumn> columns{{"budgets", true, 0}, {"money", true, 0}, {"spent", true, 0},
                                     {"leaks", true, 0},   {"", false, 0},     {"", false, 0}};
    std::vector<std::vector<std::string>> rows;
    for (const BudgetPoint& point : plan_.sweep) {
        rows.push_back({short_number(100.0 * point.factor, 3) + " %", compact(point.budget),
                        compact(point.spent), compact(point.loss),
                        bar(most > 0.0 ? point.loss / most : 0.0),
                        point.fits ? "" : "compulsory work does not fit"});
    }
    return title("What the budget buys") + text_table(columns, rows, style_) +
           small(
               "All budgets scaled alike, hours as they are. leaks: present value of what is "
               "left. Each total of work and leaks is within " +
               short_number(100.0 * gap, 2) + " % of the least.") +
           "\n";
}

std::string PlanSections::coating_of(const Strategy& strategy) const {
    const bool coats = strategy.action != WorkAction::renew_insulation;
    if (strategy.coating == Strategy::no_coating_code || !coats) return "";
    return rules_.vocabulary("coating_system").words[strategy.coating].key;
}

std::string PlanSections::waiting_of(std::size_t row) const {
    const auto& waiting = plan_.segments[row].cost_of_waiting;
    if (!waiting) return "";
    return std::isfinite(*waiting) ? about(std::max(0.0, *waiting)) : "cannot wait";
}

std::vector<std::string> PlanSections::work_row(std::size_t row) const {
    const PlannedSegment& segment = plan_.segments[row];
    const Strategy& strategy = plan_.strategies.all[segment.strategy];
    const Deadline& deadline = plan_.deadlines[row];
    const std::uint32_t group = plan_.groups.of_row[row];
    std::vector<std::string> cells{
        printable(plan_.windows[strategy.window].name, 12),
        printable(plant_.segments.texts(S::segment)[segment.segment_row], 14),
        std::to_string(segment.rank), action_of(strategy)};
    if (style_.width >= wide) {
        cells.push_back(coating_of(strategy));
        cells.push_back(group == AccessGroups::none ? ""
                                                    : printable(plan_.groups.names[group], 10));
    }
    cells.push_back(compact(strategy.money + strategy.follow_money));
    cells.push_back(about(segment.loss_if_left - strategy.loss));
    cells.push_back(waiting_of(row));
    cells.push_back(deadline.window ? std::string{to_string(deadline.criterion)} : "");
    return cells;
}

std::string PlanSections::work(std::size_t top) const {
    std::vector<std::size_t> rows;
    for (std::size_t row = 0; row < plan_.segments.size(); ++row) {
        if (plan_.strategies.all[plan_.segments[row].strategy].acts) rows.push_back(row);
    }
    std::ranges::stable_sort(rows, {}, [&](std::size_t row) {
        const Strategy& strategy = plan_.strategies.all[plan_.segments[row].strategy];
        return std::pair{strategy.window, plan_.segments[row].rank};
    });
    const std::size_t shown = top == 0 ? rows.size() : std::min(top, rows.size());
    std::vector<TableColumn> columns{
        {"window", false, 12}, {"segment", false, 14}, {"rank", true, 0}, {"action", false, 0}};
    if (style_.width >= wide) {
        columns.push_back({"coating", false, 18});
        columns.push_back({"scaffold", false, 10});
    }
    columns.push_back({"money", true, 0});
    columns.push_back({"saves", true, 0});
    columns.push_back({"waiting", true, 0});
    columns.push_back({"must, by", false, 0});
    std::vector<std::vector<std::string>> cells;
    for (std::size_t i = 0; i < shown; ++i) cells.push_back(work_row(rows[i]));
    std::string text = title("Work") + text_table(columns, cells, style_);
    if (shown < rows.size()) {
        text += small(counted(rows.size() - shown, "segment") +
                      " more: --top N for more, --format csv for all.");
    }
    return text +
           small(
               "money: expected, with what may follow the inspection, without a shared scaffold. "
               "saves: present value of leaks. waiting: what the plan loses if the work waits "
               "for the next window that has it. must, by: criterion reached before the chance "
               "after that window.") +
           "\n";
}

std::string PlanSections::near_misses() const {
    if (plan_.near_misses.empty()) return "";
    std::vector<TableColumn> columns{
        {"segment", false, 14}, {"rank", true, 0},     {"nearest", false, 0},
        {"in", false, 12},      {"saves", true, 0},    {"costs", true, 0},
        {"scarce", true, 0},    {"short by", true, 0}, {"most of it", false, 30}};
    if (style_.width < 100) columns.pop_back();
    std::vector<std::vector<std::string>> rows;
    for (const NearMiss& miss : plan_.near_misses) {
        const Strategy& strategy = plan_.strategies.all[miss.strategy];
        const PlannedSegment& segment = plan_.segments[miss.row];
        rows.push_back({printable(plant_.segments.texts(S::segment)[segment.segment_row], 14),
                        std::to_string(segment.rank), action_of(strategy),
                        printable(plan_.windows[strategy.window].name, 12), about(miss.saves),
                        compact(miss.cost), about(miss.scarce),
                        about(std::max(0.0, miss.short_by))});
        if (style_.width >= 100) {
            rows.back().push_back(miss.scarcest ? limit_text(*miss.scarcest) : "");
        }
    }
    return title("Just missed") + text_table(columns, rows, style_) +
           small(
               "saves: leaks taken off. costs: of the work. scarce: what the money and hours it "
               "takes are worth elsewhere in the plan. short by: with its share of a scaffold, "
               "by so much it does not pay.") +
           "\n";
}

std::string PlanSections::notes() const {
    std::string text;
    const auto add = [&](const std::string& line) {
        text += wrapped("- " + line, style_.width, 2) + "\n";
    };
    if (!plan_.rule_prices.empty()) {
        std::string names;
        for (const std::string_view name : plan_.rule_prices) {
            names += (names.empty() ? "" : ", ") + std::string{name};
        }
        add("Prices of the rules, common practice, since plant.yaml gives none: " + names + ".");
    }
    std::size_t unmet = 0;
    for (const Deadline& deadline : plan_.deadlines) unmet += deadline.can_be_met ? 0U : 1U;
    if (unmet > 0) {
        add(counted(unmet, "segment") +
            " must be opened by a window in which nothing that opens them can be had; they are "
            "left free and count as late.");
    }
    for (const std::string& pack : plan_.packs_apart) {
        add("Test pack " + printable(pack, 20) +
            ": its segments have no window in common and are planned apart.");
    }
    add("Reactions to what is found are chosen by money without regard to what they take from "
        "others; their cost and hours are counted by their chance.");
    return text.empty() ? "" : title("To know") + text + "\n";
}

}  // namespace lagline
