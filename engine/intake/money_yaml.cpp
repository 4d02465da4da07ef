#include "intake/money_yaml.h"

#include <algorithm>
#include <array>
#include <set>
#include <utility>
#include <vector>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"

namespace lagline {
namespace {

constexpr std::array<std::string_view, 6> cost_bases{"m", "m2", "fitting", "each", "hour", "day"};
constexpr std::array<std::string_view, 1> a_year{"year"};
constexpr std::array<std::string_view, 2> a_day_or_hour{"day", "hour"};
constexpr double most_money = 1e12;
constexpr double hours_per_day = 24.0;
constexpr double most_outage_days = 3650.0;  // as of the column `outage`
// A criterion of nothing could never be met.
constexpr double least_risk_per_year = 1e-6;
constexpr double least_probability_per_year = 1e-12;

template <class T>
void set(T& into, std::optional<T> value) {
    if (value) into = std::move(*value);
}

void read_risk(YamlMapReader& maps, const YamlNode& node, RiskCriteria& into) {
    const std::string chain = "criteria -> risk";
    const auto amount = read_amount(maps, node, chain, a_year);
    if (!amount) return;
    if (amount->amount >= least_risk_per_year) {
        into.risk_per_year = amount->amount;
        return;
    }
    maps.add(Problem::out_of_range, node, chain, "no money", "an amount above 0",
             "correct the amount, or leave the criterion out");
}

bool read_wall(YamlMapReader& maps, const YamlNode& node) {
    const auto word = maps.text(node, "criteria -> wall");
    if (!word || *word == wall_criterion) return word.has_value();
    maps.add(Problem::unknown_word, node, "criteria -> wall", "'" + printable(*word) + "'",
             std::string{wall_criterion} + ", the only limit there is for the wall",
             "correct the word, or leave the criterion out");
    return false;
}

UnitOutage read_outage(YamlMapReader& maps, const YamlNode& key, const YamlNode& node) {
    const std::string chain = "outage -> " + printable(key.text);
    UnitOutage outage;
    outage.place = place_of(key);
    maps.read_map(node, chain,
                  {{"days",
                    [&](const YamlNode& n) {
                        outage.days_place = place_of(n);
                        outage.days = maps.number(n, chain + " -> days", 0, most_outage_days);
                    }},
                   {"lost_margin", [&](const YamlNode& n) {
                        const auto margin =
                            read_amount(maps, n, chain + " -> lost_margin", a_day_or_hour);
                        if (!margin) return;
                        outage.lost_margin_place = margin->place;
                        outage.lost_margin_per_day =
                            margin->amount * (margin->per == "hour" ? hours_per_day : 1.0);
                    }}});
    if (node.is_map() && node.keys.empty()) {
        maps.add(Problem::missing_key, node, chain, "neither days nor lost_margin",
                 "{days: NUMBER, lost_margin: {value: NUMBER, per: day}}, or one of them",
                 "add what is known, or remove the unit");
    }
    return outage;
}

}  // namespace

std::optional<UnitCost> read_amount(YamlMapReader& maps, const YamlNode& node,
                                    const std::string& chain,
                                    std::span<const std::string_view> bases) {
    UnitCost cost;
    cost.place = place_of(node);
    bool has_value = false;
    maps.read_map(node, chain,
                  {{"value",
                    [&](const YamlNode& n) {
                        const auto value = maps.number(n, chain, 0, most_money);
                        has_value = value.has_value();
                        set(cost.amount, value);
                    }},
                   {"per", [&](const YamlNode& n) { set(cost.per, maps.text(n, chain)); }}});
    if (!node.is_map()) return std::nullopt;
    if (std::ranges::find(bases, cost.per) != bases.end() && node.find("value") != nullptr) {
        return has_value ? std::optional{cost} : std::nullopt;
    }
    maps.add(Problem::yaml_shape, node, chain,
             cost.per.empty() ? "no amount per something" : "'" + printable(cost.per) + "'",
             "{value: NUMBER, per: " + listing(bases) + "}",
             "give the amount in the plant's currency and what it is for");
    return std::nullopt;
}

void read_costs(YamlMapReader& maps, const YamlNode& node, const std::string& chain,
                std::map<std::string, UnitCost>& into) {
    maps.read_any_map(node, chain, [&](const YamlNode& key, const YamlNode& value) {
        const auto cost = read_amount(maps, value, chain + " -> " + key.text, cost_bases);
        if (cost) into[key.text] = *cost;
    });
}

RiskCriteria read_criteria(YamlMapReader& maps, const YamlNode& node) {
    RiskCriteria criteria;
    criteria.place = place_of(node);
    maps.read_map(node, "criteria",
                  {{"risk", [&](const YamlNode& n) { read_risk(maps, n, criteria); }},
                   {"probability",
                    [&](const YamlNode& n) {
                        criteria.probability_per_year =
                            maps.quantity(n, "criteria -> probability", Dimension::frequency, "1/y",
                                          least_probability_per_year, 1);
                    }},
                   {"wall", [&](const YamlNode& n) { criteria.wall = read_wall(maps, n); }}});
    return criteria;
}

std::map<std::string, UnitOutage, std::less<>> read_outages(YamlMapReader& maps,
                                                            const YamlNode& node) {
    std::map<std::string, UnitOutage, std::less<>> outages;
    maps.read_any_map(node, "outage", [&](const YamlNode& key, const YamlNode& value) {
        outages[key.text] = read_outage(maps, key, value);
    });
    return outages;
}

void check_outage_units(const Plant& plant, Report& report) {
    if (plant.description.outages.empty() || plant.segments.rows() == 0) return;
    std::set<std::string_view> units;
    std::string_view last;
    for (const std::string_view unit : plant.segments.texts(SegmentField::unit)) {
        if (unit != last || units.empty()) units.insert(last = unit);  // most repeat the one above
    }
    const std::vector<std::string_view> names(units.begin(), units.end());
    for (const auto& [unit, outage] : plant.description.outages) {
        if (units.contains(unit)) continue;
        const std::string meant = did_you_mean(unit, names);
        report.add({.severity = Severity::warning,
                    .problem = Problem::unknown_word,
                    .where = outage.place,
                    .subject = "outage",
                    .found = "unit '" + printable(unit) + "', which has no segment",
                    .expected = "a unit of segments.csv: " + listing(names),
                    .mend = meant.empty() ? "correct the name, or leave it if its segments are "
                                            "still to come"
                                          : meant,
                    .excerpt = {}});
    }
}

}  // namespace lagline
