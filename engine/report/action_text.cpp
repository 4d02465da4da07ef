#include "report/action_text.h"

#include <cmath>

#include "blocks/number_text.h"
#include "diagnostics/text.h"
#include "report/cautions.h"
#include "report/plan_text.h"
#include "report/tree_text.h"

namespace lagline {
namespace {

using S = SegmentField;

class ActionText {
  public:
    ActionText(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
               const Futures& ahead, std::span<const PlanWindow> windows, std::size_t row,
               const TextStyle& style)
        : plant_(plant),
          rules_(rules),
          ahead_(ahead),
          windows_(windows),
          segment_(ahead.segment_rows[row]),
          style_(style),
          planner_(plant, rules, ranking, ahead, windows) {
        planner_.start(row);
        for (std::size_t window = 0; window < windows.size(); ++window) {
            for (std::size_t action = 0; action < work_actions; ++action) {
                const auto each = static_cast<WorkAction>(action);
                studies_.push_back(planner_.study(each, window));
                if (studies_.back().refusal != ActionRefusal::none) continue;
                if (planner_.can_follow_later(each, window)) {
                    studies_.push_back(planner_.study(each, window, true));
                }
            }
        }
    }

    [[nodiscard]] std::string write(std::optional<WorkAction> shown) const {
        std::string text = head() + table() + "\n";
        if (const ActionStudy* study = chosen(shown)) {
            text += in_full(*study);
        } else {
            text += "Not to be had in any window.\n\n";
        }
        return text + coloured(wrapped(screening_caution, style_.width, 0), Tone::quiet, style_) +
               "\n";
    }

  private:
    [[nodiscard]] std::string head() const {
        const std::string name = printable(plant_.segments.texts(S::segment)[segment_], 40);
        return coloured("What can be done with " + name, Tone::strong, style_) + "\n" +
               wrapped("Present values from " + to_string(ahead_.today) + " over " +
                           std::to_string(ahead_.horizon.years) + " years at " +
                           short_number(100.0 * ahead_.horizon.discount_rate_per_year, 3) +
                           " % a year; money in " + plant_.description.currency +
                           ". Left alone, its leaks cost " + grouped(planner_.loss_if_left()) + ".",
                       style_.width, 0) +
               "\n\n";
    }

    [[nodiscard]] static std::string action_name(const ActionStudy& study) {
        std::string name{short_name(study.action)};
        if (study.follow_window > study.window && study.action != WorkAction::screen) {
            name += ", act later";
        }
        return name;
    }

    [[nodiscard]] std::string table() const {
        const std::vector<TableColumn> columns{{"window", false, 12},    {"action", false, 0},
                                               {"work", true, 0},        {"leaks", true, 0},
                                               {"total", true, 0},       {"gain", true, 0},
                                               {"or why not", false, 44}};
        std::vector<std::vector<std::string>> rows;
        for (const ActionStudy& study : studies_) {
            std::vector<std::string> cells{printable(windows_[study.window].name, 12),
                                           action_name(study)};
            if (study.refusal != ActionRefusal::none) {
                cells.insert(cells.end(), {"", "", "", "", std::string{describe(study.refusal)}});
            } else {
                const double gain = planner_.loss_if_left() - study.value();
                cells.insert(cells.end(),
                             {grouped(std::round(study.cost)), grouped(std::round(study.loss)),
                              grouped(std::round(study.value())), grouped(std::round(gain)), ""});
            }
            rows.push_back(std::move(cells));
        }
        return text_table(columns, rows, style_) +
               coloured(wrapped("gain: over leaving it alone, before a shared scaffold and before "
                                "what the money and hours are worth elsewhere.",
                                style_.width, 0),
                        Tone::quiet, style_) +
               "\n";
    }

    [[nodiscard]] const ActionStudy* chosen(std::optional<WorkAction> shown) const {
        const ActionStudy* best = nullptr;
        for (const ActionStudy& study : studies_) {
            if (study.refusal != ActionRefusal::none) continue;
            if (shown) {
                if (study.action == *shown) return &study;
            } else if (best == nullptr || study.value() < best->value()) {
                best = &study;
            }
        }
        return best;
    }

    [[nodiscard]] std::string in_full(const ActionStudy& study) const {
        const Word& action =
            rules_.vocabulary("work_action").words[static_cast<std::size_t>(study.action)];
        std::string text =
            coloured(action.meaning + ", in " + printable(windows_[study.window].name, 20),
                     Tone::strong, style_) +
            "\n" + build_up(study) + "\n";
        if (study.inspects) {
            std::vector<std::string> names;
            for (std::size_t r = 0; r < study.tree.reaction_count; ++r) {
                names.emplace_back(describe(study.follow_ups[r]));
            }
            text += tree_text(study.tree, names, plant_.description.currency, style_);
        }
        return text + "\n";
    }

    [[nodiscard]] std::string build_up(const ActionStudy& study) const {
        std::vector<std::vector<std::string>> rows;
        for (std::size_t part = 0; part < cost_parts; ++part) {
            const double money = study.committed.parts[part];
            if (money == 0.0) continue;
            rows.push_back(
                {std::string{describe(static_cast<CostPart>(part))}, grouped(std::round(money))});
        }
        rows.push_back({"whatever is found", grouped(std::round(study.committed.sum()))});
        if (study.expected_follow > 0.0) {
            rows.push_back(
                {"what follows, by its chance", grouped(std::round(study.expected_follow))});
        }
        rows.push_back({"present value", grouped(std::round(study.cost))});
        return text_table({{"cost, " + plant_.description.currency, false, 0}, {"", true, 0}}, rows,
                          style_);
    }

    const Plant& plant_;
    const RuleSet& rules_;
    const Futures& ahead_;
    std::span<const PlanWindow> windows_;
    std::uint32_t segment_;
    TextStyle style_;
    ActionPlanner planner_;
    std::vector<ActionStudy> studies_;
};

}  // namespace

std::optional<std::string> actions_text(const Plant& plant, const RuleSet& rules,
                                        const Ranking& ranking, std::uint32_t segment_row,
                                        std::optional<WorkAction> shown, const TextStyle& style) {
    const Futures ahead = futures(plant, rules, ranking);
    const auto row = ahead.find(segment_row);
    if (!row) return std::nullopt;
    const auto windows = plan_windows(plant, ahead.horizon.years);
    return ActionText{plant, rules, ranking, ahead, windows, *row, style}.write(shown);
}

}  // namespace lagline
