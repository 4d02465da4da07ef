#include "ranking/criteria.h"

#include "blocks/number_text.h"

namespace lagline {
namespace {

constexpr std::array needs{
    TableNeed{.name = "thin_wall_ratio", .kind = TableKind::value},
    TableNeed{.name = "default_wall_criterion", .kind = TableKind::value, .gives = "yes_no"},
    TableNeed{.name = "default_probability_criterion",
              .kind = TableKind::value,
              .dimension = Dimension::frequency},
};

}  // namespace

std::string_view to_string(Criterion criterion) {
    switch (criterion) {
        case Criterion::fact:
            return "fact";
        case Criterion::wall:
            return "wall";
        case Criterion::probability:
            return "probability";
        case Criterion::risk:
            return "risk";
    }
    return "";
}

bool Criteria::has(Criterion criterion) const {
    switch (criterion) {
        case Criterion::fact:
            return false;
        case Criterion::wall:
            return wall;
        case Criterion::probability:
            return probability_per_year.has_value();
        case Criterion::risk:
            return risk_per_year.has_value();
    }
    return false;
}

Criteria criteria_of(const Plant& plant, const RuleSet& rules) {
    const RiskCriteria& stated = plant.description.criteria;
    if (stated.any()) {
        return {stated.wall, stated.probability_per_year, stated.risk_per_year, true};
    }
    return {rules.value("default_wall_criterion").word() == "yes",
            rules.value("default_probability_criterion").value(), std::nullopt, false};
}

std::string describe(const Criteria& criteria, std::string_view currency) {
    std::string text;
    const auto add = [&](const std::string& part) { text += (text.empty() ? "" : ", ") + part; };
    if (criteria.wall) add("expected wall at the minimum");
    if (criteria.probability_per_year) {
        add("leak " + short_number(*criteria.probability_per_year, 3) + "/y");
    }
    if (criteria.risk_per_year) {
        add("risk " + short_number(*criteria.risk_per_year, 6) + " " + std::string{currency} +
            "/y");
    }
    return text + (criteria.of_the_plant ? " (plant.yaml)" : " (defaults of the rules)");
}

std::span<const TableNeed> criteria_needs() { return needs; }

}  // namespace lagline
