#include "report/tree_text.h"

#include <doctest/doctest.h>

#include <array>
#include <string>
#include <vector>

#include "diagnostics/text.h"
#include "hand_worked.h"

namespace lagline {
namespace {

std::size_t widest(const std::string& text) {
    std::size_t most = 0;
    for (std::size_t from = 0; from < text.size();) {
        const std::size_t to = text.find('\n', from);
        most = std::max(most, display_width(text.substr(from, to - from)));
        from = to + 1;
    }
    return most;
}

TEST_CASE("the text of a tree holds every number of it, in 80 columns") {
    const InspectionTree tree = hand_worked_tree();
    const std::string text = tree_text(tree, hand_worked_names(), "EUR", {.width = 80});
    CAPTURE(text);
    CHECK(widest(text) <= 80);
    for (const std::string_view shown :
         {"1        0.500      0.700      0.200      0.100",
          "recoat    40 000       8 000      25 000     120 000",
          "1   0.430    0.814    0.140    0.047  leave",
          "3   0.220    0.227    0.136    0.636  replace",
          "leave          83 000    30 465 *  73 143    201 364",
          "recoat         75 500 *  55 581    71 000 *  121 591",
          "replace        92 000    92 000    92 000     92 000 *"}) {
        CAPTURE(shown);
        CHECK(text.find(shown) != std::string::npos);
    }
    for (const std::string_view total : {"75 500", "58 190", "17 310", "34 100"}) {
        CHECK(text.find(total) != std::string::npos);
    }
    CHECK(text.find("it differs by report") != std::string::npos);
}

TEST_CASE("eight reactions of long names still fit") {
    std::vector<PricedReaction> reactions;
    std::vector<std::string> names;
    for (std::size_t r = 0; r < most_reactions; ++r) {
        const double loss = 1e8 / static_cast<double>(r + 1);
        reactions.push_back({1e7, {loss, 2.0 * loss, 4.0 * loss}});
        names.push_back("renew the insulation and the jacket of the whole run " +
                        std::to_string(r));
    }
    const OutcomeTable told{{{0.7, 0.2, 0.1}, {0.2, 0.7, 0.1}, {0.1, 0.2, 0.7}}};
    const InspectionTree tree = inspection_tree({0.5, 0.3, 0.2}, told, reactions);
    CHECK(widest(tree_text(tree, names, "EUR", {.width = 80})) <= 80);
}

TEST_CASE("without damage states the text says so and shows before and after") {
    const std::array as_is{PricedReaction{0.0, {900, 900, 900}}};
    const std::array credited{PricedReaction{0.0, {90, 90, 90}}};
    const std::vector<std::string> names{"leave"};
    const std::string text = tree_text(credit_tree(as_is, credited), names, "EUR", {.width = 80});
    CAPTURE(text);
    CHECK(text.find("published credit") != std::string::npos);
    CHECK(text.find("Inspected") != std::string::npos);
    CHECK(text.find("810") != std::string::npos);
    CHECK(text.find("the same whatever is found") != std::string::npos);
    CHECK(text.find("State 1") == std::string::npos);
    CHECK(widest(text) <= 80);
}

}  // namespace
}  // namespace lagline
