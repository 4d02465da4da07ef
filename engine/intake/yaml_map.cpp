#include "intake/yaml_map.h"

#include <algorithm>

#include "blocks/number_text.h"
#include "diagnostics/nearest.h"
#include "diagnostics/text.h"

namespace lagline {
namespace {

std::string kind_of(const YamlNode& node) {
    switch (node.kind) {
        case YamlNode::Kind::nothing:
            return "nothing";
        case YamlNode::Kind::scalar:
            return "'" + printable(node.text) + "'";
        case YamlNode::Kind::list:
            return "a list";
        case YamlNode::Kind::map:
            return "a map";
    }
    return "";
}

std::string between(double least, double most, std::string_view unit) {
    std::string text = "between " + exact_number(least) + " and " + exact_number(most);
    if (!unit.empty()) text.append(" ").append(unit);
    return text;
}

}  // namespace

void YamlMapReader::add(Problem problem, const YamlNode& node, std::string_view chain,
                        std::string found, std::string expected, std::string mend) {
    report_.add({.problem = problem,
                 .where = place_of(node),
                 .subject = std::string{chain},
                 .found = std::move(found),
                 .expected = std::move(expected),
                 .mend = std::move(mend),
                 .excerpt = report_.full() ? Excerpt{} : excerpt_of(node)});
}

void YamlMapReader::read_any_map(
    const YamlNode& map, std::string_view chain,
    const std::function<void(const YamlNode& key, const YamlNode& value)>& read) {
    if (!map.is_map()) {
        add(Problem::yaml_shape, map, chain, kind_of(map), "a map of keys and values",
            "write `key: value` lines, indented below it");
        return;
    }
    for (std::size_t i = 0; i < map.keys.size(); ++i) read(map.keys[i], map.items[i]);
}

void YamlMapReader::read_map(const YamlNode& map, std::string_view chain,
                             const std::vector<Key>& keys) {
    read_any_map(map, chain, [&](const YamlNode& key, const YamlNode& value) {
        const auto known = std::ranges::find(keys, key.text, &Key::name);
        if (known != keys.end()) {
            known->read(value);
            return;
        }
        std::vector<std::string_view> names;
        for (const Key& each : keys) names.push_back(each.name);
        const std::string meant = report_.full() ? "" : did_you_mean(key.text, names);
        add(Problem::unknown_key, key, chain, "a key '" + printable(key.text) + "'",
            "one of: " + listing(names, 20), meant.empty() ? "correct or remove the key" : meant);
    });
}

std::optional<std::string> YamlMapReader::text(const YamlNode& node, std::string_view chain) {
    if (node.is_scalar() && !trimmed(node.text).empty()) return std::string{trimmed(node.text)};
    add(Problem::yaml_shape, node, chain, kind_of(node), "a text", "write it behind the colon");
    return std::nullopt;
}

std::optional<double> YamlMapReader::number(const YamlNode& node, std::string_view chain,
                                            double least, double most) {
    const NumberReading reading =
        node.is_scalar() ? read_number(trimmed(node.text)) : NumberReading{};
    if (!node.is_scalar() || reading.fault != NumberFault::none) {
        add(Problem::not_a_number, node, chain, kind_of(node),
            "a number, " + between(least, most, ""),
            "write the number with a decimal point and no unit");
        return std::nullopt;
    }
    if (!(reading.value >= least && reading.value <= most)) {
        add(Problem::out_of_range, node, chain, kind_of(node), between(least, most, ""),
            "correct the number");
        return std::nullopt;
    }
    return reading.value;
}

std::optional<double> YamlMapReader::quantity(const YamlNode& node, std::string_view chain,
                                              Dimension dimension, std::string_view unit,
                                              double least, double most) {
    const std::string example = exact_number(most) + " " + std::string{unit};
    const NumberReading reading =
        node.is_scalar() ? read_quantity(trimmed(node.text)) : NumberReading{};
    if (!node.is_scalar() || reading.fault != NumberFault::none) {
        add(Problem::not_a_number, node, chain, kind_of(node),
            std::string{describe(dimension)} + " with its unit, e.g. " + example,
            "write a number and its unit");
        return std::nullopt;
    }
    const auto given = parse_unit(reading.unit, dimension);
    if (reading.unit.empty() || !given) {
        add(reading.unit.empty() ? Problem::missing_unit : Problem::unit_mismatch, node, chain,
            kind_of(node), std::string{describe(dimension)} + " with its unit, e.g. " + example,
            "give one of the units " + listing(unit_symbols(dimension)));
        return std::nullopt;
    }
    const double value = convert(reading.value, *given, parse_unit(unit, dimension).value());
    if (!(value >= least && value <= most)) {
        add(Problem::out_of_range, node, chain, kind_of(node), between(least, most, unit),
            "correct the number or the unit");
        return std::nullopt;
    }
    return value;
}

std::optional<Date> YamlMapReader::date(const YamlNode& node, std::string_view chain) {
    const auto reading = node.is_scalar() ? parse_date(trimmed(node.text)) : std::nullopt;
    if (reading) return reading->date;
    add(Problem::not_a_date, node, chain, kind_of(node), "a date as YYYY-MM-DD",
        "write the date as ISO 8601 has it");
    return std::nullopt;
}

}  // namespace lagline
