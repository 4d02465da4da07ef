#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

#include "rationale/exceptions.h"
#include "rationale/formula.h"
#include "rationale/world.h"
#include "support/rules.h"

namespace lagline {
namespace {

/// Symbols of a formula that stand for a cell or a rule value; quantities say their own.
struct Symbol {
    std::string_view symbol;
    std::string_view key;  ///< of a cell, a value of plant.yaml or a table
};
constexpr std::array symbols{
    Symbol{"S", "allowable_stress"},         Symbol{"E", "joint_efficiency"},
    Symbol{"P", "design_pressure"},          Symbol{"D", "outside_diameter"},
    Symbol{"YS", "yield_strength"},          Symbol{"TS", "tensile_strength"},
    Symbol{"t_nom", "nominal_wall"},         Symbol{"Y", "pressure_coefficient_y"},
    Symbol{"alpha", "strength_ratio_shape"}, Symbol{"slope", "management_slope"},
    Symbol{"offset", "management_offset"},   Symbol{"score", "management_score"},
    Symbol{"cap", "probability_cap"},        Symbol{"COV_t", "cov_thinning"},
    Symbol{"COV_Sf", "cov_flow_stress"},     Symbol{"COV_P", "cov_pressure"},
    Symbol{"floor", "measured_rate_floor"},  Symbol{"C_fix", "repair_fixed"},
    Symbol{"L_rep", "repair_length"}};

/// The numbers that explain prints with one quantity of a row.
class Printed {
  public:
    Printed(const ToldRow& row, const ExplainedQuantity& quantity) : row_(row), of_(quantity) {}

    std::optional<double> operator()(std::string_view symbol) const {
        for (const ExplainedInput& input : of_.inputs) {
            if (!input.is_quantity) continue;
            const ExplainedQuantity& other = *row_.by_key.at(input.key).quantity;
            if (other.info->symbol == symbol && other.number) return other.number;
        }
        if (symbol.starts_with("D_")) return state_factor(symbol);
        const auto known = std::ranges::find(symbols, symbol, &Symbol::symbol);
        if (known == symbols.end()) return std::nullopt;
        for (const ExplainedInput& input : of_.inputs) {
            if (input.key == known->key && !input.value.empty()) {
                return std::strtod(input.value.c_str(), nullptr);
            }
        }
        for (const ExplainedRule& rule : of_.rules) {
            if (rule.table->name == known->key) return rule.entry->printed;
        }
        return std::nullopt;
    }

  private:
    // D_k: the factor of the state that the quantity, or the term of its sum, belongs to.
    [[nodiscard]] std::optional<double> state_factor(std::string_view symbol) const {
        const char state = symbol.back() == 'k' ? of_.info->key.back() : symbol.back();
        for (const ExplainedRule& rule : of_.rules) {
            if (rule.table->name == "damage_state_factor" && rule.entry->key.back() == state) {
                return rule.entry->printed;
            }
        }
        return std::nullopt;
    }

    const ToldRow& row_;
    const ExplainedQuantity& of_;
};

// A formula that is another for each mechanism says so: "wall loss: ...; cracking: ...".
std::string_view of_mechanism(std::string_view formula, std::string_view mechanism) {
    const std::string_view name = mechanism == wall_loss_mechanism ? "wall loss: " : "cracking: ";
    const auto from = formula.find(name);
    if (from == std::string_view::npos) return formula;
    formula.remove_prefix(from + name.size());
    return formula.substr(0, formula.find(';'));
}

struct Tally {
    std::size_t evaluated = 0;
    std::map<std::string, std::string> wrong;  ///< quantity and an example
    std::set<std::string> in_words;
};

void try_row(const ToldRow& row, Tally& tally, std::set<const Exception*>& needed) {
    for (const ExplainedQuantity& quantity : row.explanation.quantities) {
        if (!quantity.number || std::isnan(*quantity.number)) continue;
        const std::string key{quantity.info->key};
        const auto value = value_of(of_mechanism(quantity.formula, row.explanation.mechanism),
                                    Printed{row, quantity});
        if (!value) {
            if (!excepted(formulas_in_words(), key, "", needed)) tally.in_words.insert(key);
            continue;
        }
        ++tally.evaluated;
        const double scale = std::max(1.0, std::abs(*quantity.number));
        if (std::abs(*value - *quantity.number) <= 1e-9 * scale) continue;
        if (excepted(formulas_in_words(), key, "", needed)) continue;
        tally.wrong.try_emplace(key, "segment " + row.explanation.segment + ": printed " +
                                         std::to_string(*quantity.number) + ", formula gives " +
                                         std::to_string(*value));
    }
}

TEST_CASE("a printed formula gives the printed number from the printed inputs") {
    std::set<const Exception*> needed;
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        CAPTURE(rules->name);
        const World world{*rules, full_description(), 400};
        Tally tally;
        for (std::size_t row = 0; row < world.numbers().rows().size(); ++row) {
            try_row(world.told(row), tally, needed);
        }
        std::string wrong;
        for (const auto& [key, example] : tally.wrong) wrong += key + ", " + example + "\n";
        CHECK(wrong == "");
        std::string words;
        for (const std::string& key : tally.in_words) words += key + "\n";
        CHECK(words == "");
        MESSAGE(tally.evaluated << " formulas evaluated");
    }
    CHECK(not_needed(formulas_in_words(), needed) == "");
}

TEST_CASE("the evaluator of formulas reads what explain prints") {
    const auto symbol = [](std::string_view name) -> std::optional<double> {
        if (name == "A_1") return 2.0;
        if (name == "A_2") return 3.0;
        if (name == "A_3") return 5.0;
        if (name == "B") return 7.0;
        return std::nullopt;
    };
    CHECK(value_of("B = (1 + 2)/2 B 2", symbol) == doctest::Approx(21.0));
    CHECK(value_of("A_1 x B / (2 (A_2 - 1))", symbol) == doctest::Approx(3.5));
    CHECK(value_of("max(A_1, B) - min(A_1, 1e-1, B)", symbol) == doctest::Approx(6.9));
    CHECK(value_of("sum of A_k^2 / 2", symbol) == doctest::Approx(19.0));
    CHECK(value_of("10^(-A_1) + exp(0) + sqrt(4) + Phi(0)", symbol) == doctest::Approx(3.51));
    CHECK_FALSE(value_of("by the nominal size", symbol).has_value());
    CHECK_FALSE(value_of("A_1 C", symbol).has_value());
}

}  // namespace
}  // namespace lagline
