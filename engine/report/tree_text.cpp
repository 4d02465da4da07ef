#include "report/tree_text.h"

#include <array>
#include <charconv>

namespace lagline {
namespace {

using Rows = std::vector<std::vector<std::string>>;

constexpr std::size_t widest_reaction = 24;

std::string share(double probability) {
    std::array<char, 16> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(), probability,
                                   std::chars_format::fixed, 3)
                         .ptr;
    return {text.data(), end};
}

std::string number(std::size_t index) { return std::to_string(index + 1); }

TableColumn right(std::string heading) { return {.heading = std::move(heading), .right = true}; }
TableColumn reaction_column() { return {.heading = "Reaction", .most = widest_reaction}; }

/// Writes one tree.
class TreeWriter {
  public:
    TreeWriter(const InspectionTree& tree, std::span<const std::string> reactions,
               std::string_view currency, const TextStyle& style)
        : tree_(tree), names_(reactions), currency_(currency), style_(style) {}

    std::string text() {
        if (tree_.by_states) {
            states();
            losses();
            outcomes();
        } else {
            add(
                wrapped("This mechanism has no damage states: the inspection is taken to find no "
                        "cracks, and buys its published credit.",
                        style_.width, 0));
        }
        expected();
        conclusion();
        return out_;
    }

  private:
    void add(std::string_view text) { out_.append(text).append("\n"); }

    void table(std::string_view title, const std::vector<TableColumn>& columns, const Rows& rows) {
        if (!out_.empty()) out_ += "\n";
        add(coloured(title, Tone::strong, style_));
        out_ += text_table(columns, rows, style_);
    }

    void states() {
        Rows rows;
        for (std::size_t k = 0; k < damage_states; ++k) {
            const auto& reports = tree_.outcome_given_state[k];
            rows.push_back({number(k), share(tree_.states[k]), share(reports[0]), share(reports[1]),
                            share(reports[2])});
        }
        table("Damage states, and the chance that the inspection reports each",
              {right("State"), right("Probability"), right("Reports 1"), right("Reports 2"),
               right("Reports 3")},
              rows);
    }

    void losses() {
        Rows rows;
        for (std::size_t r = 0; r < tree_.reaction_count; ++r) {
            const PricedReaction& reaction = tree_.reactions[r];
            rows.push_back({names_[r], grouped(reaction.cost), grouped(reaction.losses[0]),
                            grouped(reaction.losses[1]), grouped(reaction.losses[2])});
        }
        table("Cost of each reaction and losses after it, " + currency_ + " today",
              {reaction_column(), right("Cost"), right("In state 1"), right("In state 2"),
               right("In state 3")},
              rows);
    }

    void outcomes() {
        Rows rows;
        for (std::size_t j = 0; j < tree_.outcome_count(); ++j) {
            const InspectionTree::Outcome& outcome = tree_.outcomes[j];
            rows.push_back({number(j), share(outcome.probability), share(outcome.posterior[0]),
                            share(outcome.posterior[1]), share(outcome.posterior[2]),
                            names_[outcome.best]});
        }
        table("What it may report, and what is then known",
              {right("Report"),
               right("Chance"),
               right("State 1"),
               right("State 2"),
               right("State 3"),
               {.heading = "Best reaction", .most = widest_reaction}},
              rows);
    }

    void expected() {
        std::vector<TableColumn> columns{reaction_column(), right("Not inspected")};
        for (std::size_t j = 0; j < tree_.outcome_count(); ++j) {
            columns.push_back(right(tree_.by_states ? "Report " + number(j) : "Inspected"));
        }
        Rows rows;
        for (std::size_t r = 0; r < tree_.reaction_count; ++r) {
            rows.push_back({names_[r], marked(tree_.expected[r], r == tree_.best)});
            for (std::size_t j = 0; j < tree_.outcome_count(); ++j) {
                const InspectionTree::Outcome& outcome = tree_.outcomes[j];
                rows.back().push_back(marked(outcome.expected[r], r == outcome.best));
            }
        }
        table("Cost and expected loss, " + currency_ + " today (* least)", columns, rows);
    }

    // A place for the star also where there is none, so that the digits stand in line.
    static std::string marked(double money, bool best) {
        return grouped(money) + (best ? " *" : "  ");
    }

    void conclusion() {
        out_ += "\n";
        Rows rows{
            {"Least without inspecting", grouped(tree_.loss_uninformed), names_[tree_.best]},
            {"Expected with the best reaction to each report", grouped(tree_.loss_informed),
             tree_.changes_reaction() ? "it differs by report" : "the same whatever is found"},
            {coloured("Value of inspecting, its own cost apart", Tone::strong, style_),
             coloured(grouped(tree_.value), Tone::strong, style_), ""}};
        if (tree_.by_states) {
            rows.push_back(
                {"Value of knowing the state for certain", grouped(tree_.value_of_knowing), ""});
        }
        out_ += text_table({{.heading = "In all"}, right(currency_), {.heading = "Reaction"}}, rows,
                           style_);
    }

    const InspectionTree& tree_;
    std::span<const std::string> names_;
    std::string currency_;
    TextStyle style_;
    std::string out_;
};

}  // namespace

std::string tree_text(const InspectionTree& tree, std::span<const std::string> reactions,
                      std::string_view currency, const TextStyle& style) {
    return TreeWriter{tree, reactions, currency, style}.text();
}

}  // namespace lagline
