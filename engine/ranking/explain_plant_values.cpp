#include "ranking/explain_plant_values.h"

#include <numeric>
#include <span>

#include "blocks/number_text.h"
#include "consequence/consequence.h"

namespace lagline {
namespace {

using S = SegmentField;

void tell_given(ExplainedInput& told, std::string value, std::string shown, const Place& place) {
    told.state = CellState::given;
    told.value = std::move(value);
    told.shown = std::move(shown);
    told.place = place;
}

void tell_rule(ExplainedInput& told, const ValueTable& table, const std::string& unit) {
    const RuleEntry& entry = table.entries.front();
    told.state = CellState::rule_default;
    told.value = exact_number(entry.printed) + " " + unit;
    told.place = entry.place;
    told.reason = entry.note;
}

void tell_management_score(const Plant& plant, const RuleSet& rules, ExplainedInput& told) {
    if (const auto& score = plant.description.management_score_percent) {
        const std::string text = exact_number(*score) + " %";
        tell_given(told, text, text, plant.description.management_score_place);
    } else {
        tell_rule(told, rules.value("management_score"), "%");
    }
}

void tell_lost_margin(const Plant& plant, const RuleSet& rules, std::uint32_t segment,
                      ExplainedInput& told) {
    if (const auto margin = lost_margin_per_day(plant, segment)) {
        const std::string unit = " " + plant.description.currency + "/day";
        tell_given(
            told, exact_number(*margin) + unit, short_number(*margin, 6) + unit,
            plant.description.outage_of(plant.segments.texts(S::unit)[segment])->lost_margin_place);
    } else {
        const ValueTable& table = rules.value("lost_margin");
        tell_rule(told, table, table.info.unit + "/day");
    }
}

void tell_replace_run(const Plant& plant, ExplainedInput& told) {
    const UnitCost* cost = replace_run_per_m(plant.description);
    if (cost == nullptr) return;
    const std::string unit = " " + plant.description.currency + "/m";
    tell_given(told, exact_number(cost->amount) + unit, short_number(cost->amount, 6) + unit,
               cost->place);
}

std::string joined(std::span<const double> numbers, std::string_view unit) {
    std::string text;
    for (const double number : numbers) text += exact_number(number) + " ";
    return text + std::string{unit};
}

std::string joined(const std::vector<std::string>& names) {
    std::string text;
    for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
    return text.empty() ? "no unit" : text;
}

// What plant.yaml says of the weather, where it says it.
void tell_climate(const Climate& climate, ExplainedInput& told) {
    const auto give = [&](const std::string& value, const std::string& shown) {
        tell_given(told, value, shown, climate.place);
    };
    const auto months = [&](std::span<const double> numbers, std::string_view unit) {
        const double sum = std::accumulate(numbers.begin(), numbers.end(), 0.0);
        const double mean = sum / static_cast<double>(numbers.size());
        give(joined(numbers, unit),
             "by month, mean " + short_number(mean, 4) + " " + std::string{unit});
    };
    if (told.key == "mean_temperature") months(climate.mean_temperature_degc, "degC");
    if (told.key == "relative_humidity") months(climate.relative_humidity_percent, "%");
    if (told.key == "rainfall") months(climate.rainfall_mm, "mm");
    if (told.key == "coast_distance" && climate.coast_distance_km) {
        const std::string text = exact_number(*climate.coast_distance_km) + " km";
        give(text, text);
    }
    if (told.key == "wind_speed" && climate.wind_speed_m_per_s) {
        const std::string text = exact_number(*climate.wind_speed_m_per_s) + " m/s";
        give(text, text);
    }
}

void tell_exchange(const PlantDescription& plant, ExplainedInput& told) {
    if (plant.currency == "USD" || !plant.exchange.contains("USD")) return;
    const std::string text = "1 USD = " + exact_number(plant_per_usd(plant)) + " " + plant.currency;
    tell_given(told, text, text, plant.place);
}

// The word that says where the cost of a leak comes from; empty without the money model.
std::string_view basis_of(const RuleSet& rules, const Ranking& ranking, std::uint32_t row) {
    const Codes& basis = ranking.consequence.consequence_basis;
    if (basis.size() == 0) return "";
    return rules.vocabulary("consequence_basis").words[basis[row]].key;
}

}  // namespace

void tell_plant_value(const Plant& plant, const RuleSet& rules, std::uint32_t segment,
                      ExplainedInput& told) {
    if (told.key == "management_score") tell_management_score(plant, rules, told);
    if (told.key == "lost_margin") tell_lost_margin(plant, rules, segment, told);
    if (told.key == "replace_run") tell_replace_run(plant, told);
    if (told.key == "exchange") tell_exchange(plant.description, told);
    if (told.key == "cooling_tower_drift" || told.key == "deluge_tests") {
        const auto& units = told.key == "deluge_tests" ? plant.description.deluge_tests
                                                       : plant.description.cooling_tower_drift;
        const std::string text = joined(units);
        tell_given(told, text, text, plant.description.place);
    }
    if (const auto& climate = plant.description.climate) tell_climate(*climate, told);
}

void tell_outage_of_unit(const Plant& plant, std::uint32_t segment, ExplainedInput& told) {
    if (told.state != CellState::plant_default) return;
    const UnitOutage* outage = plant.description.outage_of(plant.segments.texts(S::unit)[segment]);
    if (outage == nullptr || !outage->days) return;  // of `defaults`
    told.place = outage->days_place;
    told.reason = "outage of the unit";
}

bool table_in_use(std::string_view table, std::string_view of, const Plant& plant,
                  const RuleSet& rules, const Ranking& ranking, std::uint32_t row) {
    const std::uint32_t segment = ranking.segment_rows[row];
    if (table == "management_score") {
        return !plant.description.management_score_percent.has_value();
    }
    if (table == "lost_margin") return !lost_margin_per_day(plant, segment);
    if (table == "replace_cost") return replace_run_per_m(plant.description) == nullptr;
    const std::string_view basis = basis_of(rules, ranking, row);
    if (table == "consequence_cost") {
        return basis.empty() ? !plant.segments.has(S::leak_cost, segment) : basis == "category";
    }
    if (table != "consequence_category_of_cost") return true;
    // It gives a category where the site gave none, and limits the money where the site did.
    const bool given = plant.segments.has(S::consequence_category, segment);
    if (of == "consequence_category") return !given;
    return given && !basis.empty() && can_be_priced(plant.segments, segment);
}

}  // namespace lagline
