#include <doctest/doctest.h>

#include <array>
#include <string>

#include "hand_worked.h"
#include "report/layout.h"
#include "support/csv_records.h"
#include "support/printed.h"
#include "support/rules.h"

namespace lagline {
namespace {

// Numbers worked out with pencil and paper in docs/method.md, section 22.
struct Worked {
    double probability;
    std::array<double, 3> posterior;
    std::array<double, 3> expected;  ///< leave, recoat, replace
    std::size_t best;
};
constexpr std::array worked{
    Worked{0.43, {0.8140, 0.1395, 0.0465}, {30'465, 55'581, 92'000}, 0},
    Worked{0.35, {0.2857, 0.6000, 0.1143}, {73'143, 71'000, 92'000}, 1},
    Worked{0.22, {0.2273, 0.1364, 0.6364}, {201'364, 121'591, 92'000}, 2},
};

TEST_CASE("the tree worked by hand, docs/method.md, section 22") {
    const InspectionTree tree = hand_worked_tree();
    CHECK(tree.expected[0] == doctest::Approx(83'000));
    CHECK(tree.expected[1] == doctest::Approx(75'500));
    CHECK(tree.expected[2] == doctest::Approx(92'000));
    CHECK(tree.best == 1);
    for (std::size_t j = 0; j < worked.size(); ++j) {
        CAPTURE(j);
        const InspectionTree::Outcome& outcome = tree.outcomes[j];
        CHECK(outcome.probability == doctest::Approx(worked[j].probability).epsilon(1e-12));
        CHECK(outcome.best == worked[j].best);
        for (std::size_t k = 0; k < damage_states; ++k) {
            CHECK(std::abs(outcome.posterior[k] - worked[j].posterior[k]) < 0.5e-4);
            CHECK(std::abs(outcome.expected[k] - worked[j].expected[k]) < 0.5);
        }
    }
    CHECK(tree.loss_uninformed == doctest::Approx(75'500).epsilon(1e-12));
    CHECK(tree.loss_informed == doctest::Approx(58'190).epsilon(1e-12));
    CHECK(tree.value == doctest::Approx(17'310).epsilon(1e-12));
    CHECK(tree.value_of_knowing == doctest::Approx(34'100).epsilon(1e-12));
}

TEST_CASE("the outcome table of the tree worked by hand is that of the rules") {
    const OutcomeTable told = outcome_table(published_rules().grid("conditional_probability"),
                                            code_of(published_rules(), "effectiveness", "B"));
    const OutcomeTable by_hand = hand_worked_tree().outcome_given_state;
    for (std::size_t k = 0; k < damage_states; ++k) {
        for (std::size_t j = 0; j < inspection_outcomes; ++j) {
            CHECK(told[k][j] == doctest::Approx(by_hand[k][j]).epsilon(1e-14));
        }
    }
}

TEST_CASE("docs/method.md prints the numbers of the tree") {
    const std::string method = file_text(std::string{LAGLINE_SOURCE_DIR} + "/docs/method.md");
    const InspectionTree tree = hand_worked_tree();
    const auto names = hand_worked_names();
    for (std::size_t j = 0; j < inspection_outcomes; ++j) {
        const InspectionTree::Outcome& outcome = tree.outcomes[j];
        std::string row =
            "| " + std::to_string(j + 1) + " | " + printed_like(outcome.probability, "0.00");
        for (const double posterior : outcome.posterior) {
            row += " | " + printed_like(posterior, "0.0000");
        }
        for (std::size_t r = 0; r < names.size(); ++r) row += " | " + grouped(outcome.expected[r]);
        row += " | " + names[outcome.best] + " |";
        CAPTURE(row);
        CHECK(method.find(row) != std::string::npos);
    }
    for (const double total :
         {tree.loss_uninformed, tree.loss_informed, tree.value, tree.value_of_knowing}) {
        CAPTURE(grouped(total));
        CHECK(method.find("= " + grouped(total)) != std::string::npos);
    }
}

}  // namespace
}  // namespace lagline
