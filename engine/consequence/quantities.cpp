#include <array>

#include "consequence/consequence.h"

namespace lagline {
namespace {

using Key = std::string_view;

constexpr Key recalled_limits = "API RP 581, 3rd edition, Part 1, Table 4.2 (recalled)";
constexpr Key practice = "common practice, docs/method.md, eq. 50 to 55";

constexpr std::array category_inputs{Key{"consequence_category"}, Key{"leak_cost"},
                                     Key{"exchange"}};
constexpr std::array category_tables{Key{"consequence_category_of_cost"}};
constexpr std::array cost_inputs{Key{"leak_cost"}, Key{"consequence_category"}, Key{"exchange"}};
constexpr std::array cost_tables{Key{"consequence_model"}, Key{"consequence_cost"}};

constexpr auto category_info = word_info("consequence_category", "consequence_category", "category",
                                         "eq. 21", "as given, else by the cost of a leak",
                                         recalled_limits, "consequence of a leak, A (least) to E",
                                         Barrier::consequence, category_inputs, category_tables);
constexpr auto cost_info = number_info(
    "leak_cost", currency_sign, "CoF", "eq. 21", "as given, else what stands for the category",
    recalled_limits, "cost of a leak", Barrier::consequence, cost_inputs, cost_tables);

constexpr std::array repair_inputs{Key{"nominal_size"}, Key{"replace_run"}, Key{"exchange"}};
constexpr std::array repair_tables{Key{"repair_fixed"}, Key{"repair_length"}, Key{"replace_cost"}};
constexpr std::array outage_inputs{Key{"outage"}, Key{"lost_margin"}, Key{"exchange"}};
constexpr std::array outage_tables{Key{"lost_margin"}};
constexpr std::array size_inputs{Key{"nominal_size"}};
constexpr std::array size_tables{Key{"release_size"}};
constexpr std::array release_inputs{Key{"fluid_class"}, Key{"release_size"}, Key{"exchange"}};
constexpr std::array release_tables{Key{"release_cost"}};
constexpr std::array class_inputs{Key{"fluid_class"}};
constexpr std::array class_tables{Key{"injury_class_of"}};
constexpr std::array injury_inputs{Key{"fluid_class"}, Key{"injury_class"}, Key{"exchange"}};
constexpr std::array injury_tables{Key{"injury_chance"}, Key{"injury_value"}};
constexpr std::array sum_inputs{Key{"repair_cost"}, Key{"outage_cost"}, Key{"release_cost"},
                                Key{"injury_cost"}};
constexpr std::array basis_inputs{Key{"fluid_class"}, Key{"leak_cost"}, Key{"money_cost"},
                                  Key{"consequence_category"}, Key{"exchange"}};
constexpr std::array basis_tables{Key{"consequence_category_of_cost"}};
constexpr std::array money_inputs{Key{"leak_cost"}, Key{"money_cost"}, Key{"consequence_category"},
                                  Key{"exchange"}};
constexpr std::array money_tables{Key{"consequence_model"}, Key{"consequence_cost"},
                                  Key{"consequence_category_of_cost"}};

constexpr auto repair_info = number_info(
    "repair_cost", currency_sign, "C_rep", "eq. 50", "C_rep = C_fix + L_rep x cost of a metre",
    practice, "repair of a leak", Barrier::consequence, repair_inputs, repair_tables);
constexpr auto outage_info = number_info("outage_cost", currency_sign, "C_out", "eq. 51",
                                         "C_out = days down x margin lost a day", practice,
                                         "outage of the unit after a leak", Barrier::consequence,
                                         outage_inputs, outage_tables);
constexpr auto size_info =
    word_info("release_size", "release_size", "size", "eq. 52", "by the nominal size", practice,
              "size class of a release", Barrier::consequence, size_inputs, size_tables);
constexpr auto release_info = number_info(
    "release_cost", currency_sign, "C_rel", "eq. 52", "by fluid class and size class", practice,
    "what the leak lets out", Barrier::consequence, release_inputs, release_tables);
constexpr auto class_info =
    word_info("injury_class", "injury_class", "injury", "eq. 53", "by fluid class", practice,
              "injury that a leak can cause", Barrier::consequence, class_inputs, class_tables);
constexpr auto injury_info =
    number_info("injury_cost", currency_sign, "C_inj", "eq. 53",
                "C_inj = chance of an injury x value of preventing it", practice,
                "injury by a leak", Barrier::consequence, injury_inputs, injury_tables);
constexpr auto sum_info = number_info("money_cost", currency_sign, "C_sum", "eq. 54",
                                      "C_sum = C_rep + C_out + C_rel + C_inj", practice,
                                      "cost of a leak, added up", Barrier::consequence, sum_inputs);
constexpr auto basis_info = word_info(
    "consequence_basis", "consequence_basis", "basis", "eq. 55",
    "leak cost as given, else C_sum where the fluid class is known, else category", practice,
    "where the cost of a leak comes from", Barrier::consequence, basis_inputs, basis_tables);
constexpr auto money_info = number_info(
    "leak_cost", currency_sign, "CoF", "eq. 55",
    "as given, else C_sum within the category as given, else what stands for the category",
    practice, "cost of a leak", Barrier::consequence, money_inputs, money_tables);

}  // namespace

void ConsequenceColumns::resize(Eigen::Index rows, bool money) {
    make_rows(consequence_category, rows);
    make_rows(leak_cost, rows);
    if (!money) return;
    for (Codes* codes : {&consequence_basis, &priced, &release_size, &injury_class}) {
        make_rows(*codes, rows);
    }
    for (Numbers* numbers :
         {&repair_cost, &outage_cost, &release_cost, &injury_cost, &money_cost}) {
        make_rows(*numbers, rows);
    }
}

std::vector<ColumnView> ConsequenceColumns::views(bool money) const {
    if (!money) {
        return {view(category_info, consequence_category), view(cost_info, leak_cost)};
    }
    return {view(repair_info, repair_cost, priced),    view(outage_info, outage_cost, priced),
            view(size_info, release_size, priced),     view(release_info, release_cost, priced),
            view(class_info, injury_class, priced),    view(injury_info, injury_cost, priced),
            view(sum_info, money_cost, priced),        view(basis_info, consequence_basis),
            view(category_info, consequence_category), view(money_info, leak_cost)};
}

}  // namespace lagline
