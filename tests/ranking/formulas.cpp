// Formulas tell the rule values in force, and the thin wall has one threshold.
#include <doctest/doctest.h>

#include <array>
#include <string>
#include <string_view>

#include "blocks/number_text.h"
#include "ranking/explain.h"
#include "report/explain_text.h"
#include "ruleset/formula.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

/// Published rules in which a site changed a value.
RuleSet with_value(std::string_view name, double value) {
    RuleSet rules = published_rules();
    rules.values.find(name)->second.entries.front().value = value;
    return rules;
}

std::string all_formulas(const RuleSet& rules) {
    Ranking ranking;
    ranking.resize({1, 1}, models_of(rules));
    std::string text;
    for (const ColumnView& column : ranking.views()) {
        text += formula_in_force(*column.info, rules) + "\n";
    }
    return text;
}

bool has_number(std::string_view text, std::string_view number) {
    const auto is_part = [](char c) { return (c >= '0' && c <= '9') || c == '.'; };
    for (auto at = text.find(number); at != std::string_view::npos;
         at = text.find(number, at + 1)) {
        const auto end = at + number.size();
        if ((at == 0 || !is_part(text[at - 1])) && (end == text.size() || !is_part(text[end])))
            return true;
    }
    return false;
}

TEST_CASE("a formula tells the value of the overlay, and the shipped one no longer") {
    for (const auto* name :
         {"flow_stress_factor", "damage_factor_base", "scc_damage_cap", "scc_age_exponent"}) {
        CAPTURE(name);
        const double shipped = published_rules().value(name).value();
        const std::string before = all_formulas(published_rules());
        const double changed = 1.375 * shipped;
        const std::string after = all_formulas(with_value(name, changed));
        CHECK(has_number(before, short_number(shipped, 9)));
        CHECK(has_number(after, short_number(changed, 9)));
        CHECK(after != before);
        CHECK(after.find('{') == std::string::npos);
    }
}

TEST_CASE("no formula holds the number of a rule value that is not the one in force") {
    // Every value of the rules, changed at once to numbers that no formula has by itself.
    RuleSet rules = published_rules();
    double odd = 0.0;
    for (const auto* name :
         {"flow_stress_factor", "damage_factor_base", "scc_damage_cap", "scc_age_exponent"}) {
        odd += 7.0;
        rules.values.find(name)->second.entries.front().value = odd + 0.03125;
    }
    const std::string text = all_formulas(rules);
    for (const std::string_view number : {"1.1", "1.56e-4", "0.000156", "5000"}) {
        CAPTURE(number);
        CHECK(!has_number(text, number));
    }
}

TEST_CASE("the thin wall of an explanation is that of the rule") {
    const auto text = [](const RuleSet& rules) {
        const Plant plant =
            assemble({.segments = {segment_cells("one", {{"driver", "dry"}})}}, rules);
        const Ranking ranking = rank(plant, rules);
        return explain_text(explain(plant, rules, ranking, 0), {.width = 200, .colour = false});
    };
    constexpr std::string_view caution = "do not strip it in service";
    CHECK(text(published_rules()).find(caution) == std::string::npos);
    CHECK(text(with_value("thin_wall_ratio", 1e6)).find(caution) != std::string::npos);
}

}  // namespace
}  // namespace lagline
