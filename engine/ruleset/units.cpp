#include "ruleset/units.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "diagnostics/nearest.h"
#include "diagnostics/text.h"
#include "plant/field.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

constexpr int dimension_count = 16;

std::vector<std::string_view> all_symbols() {
    std::vector<std::string_view> all;
    for (int i = 0; i < dimension_count; ++i) {
        for (const auto symbol : unit_symbols(static_cast<Dimension>(i))) all.push_back(symbol);
    }
    return all;
}

std::string symbols_of(Dimension dimension) {
    return std::string(describe(dimension)) + " (" + listing(unit_symbols(dimension)) + ")";
}

void wrong_dimension(const YamlNode& node, std::string_view symbol, Dimension found,
                     Dimension wanted, const Scope& scope) {
    scope.error(Problem::unit_mismatch, node,
                std::string(describe(found)) + " (" + printable(symbol) + ")", symbols_of(wanted),
                "write a unit of " + std::string(describe(wanted)));
}

void unknown_unit(const YamlNode& node, std::string_view symbol, std::optional<Dimension> wanted,
                  const Scope& scope) {
    const auto candidates = all_symbols();
    auto hint = did_you_mean(symbol, candidates);
    scope.error(Problem::unknown_unit, node, "the unit '" + printable(symbol) + "'",
                wanted ? symbols_of(*wanted) : "a unit the tool knows, or \"-\" for a pure number",
                hint.empty() ? "see the list of units in docs/rule-format.md" : hint);
}

std::optional<Unit> checked_unit(const YamlNode& node, std::string_view symbol,
                                 std::optional<Dimension> wanted, const Scope& scope) {
    const auto dimensions = dimensions_of(symbol);
    if (dimensions.empty()) {
        unknown_unit(node, symbol, wanted, scope);
        return std::nullopt;
    }
    auto unit = parse_unit(symbol, wanted.value_or(dimensions.front()));
    if (!unit) wrong_dimension(node, symbol, dimensions.front(), *wanted, scope);
    return unit;
}

std::optional<double> nps_of_dn(double dn) {
    const auto sizes = pipe_sizes();
    const auto at = std::ranges::find_if(
        sizes, [dn](const PipeSize& size) { return static_cast<double>(size.dn) == dn; });
    if (at == sizes.end()) return std::nullopt;
    return at->nps_inches;
}

/// A pipe size as the table's system prints it.
TableNumber printed_size(const PipeSize& size, std::string_view symbol) {
    return {symbol == "DN" ? static_cast<double>(size.dn) : size.nps_inches, size.nps_inches};
}

std::optional<TableNumber> read_size(const YamlNode& node, const std::string& symbol,
                                     const Scope& scope) {
    const auto text = read_text(node, scope);
    if (!text) return std::nullopt;
    const auto system = symbol == "DN" ? SizeSystem::dn : SizeSystem::nps;
    if (const auto index = parse_pipe_size(*text, system)) {
        return printed_size(pipe_sizes()[*index], symbol);
    }
    // A bound may lie between two sizes, in inches.
    const auto reading = read_number(*text);
    if (reading.fault == NumberFault::none && system == SizeSystem::nps) {
        return TableNumber{reading.value, reading.value};
    }
    scope.error(reading.fault == NumberFault::none ? Problem::out_of_range : Problem::not_a_number,
                node, "'" + printable(*text) + "'", "a nominal pipe size, e.g. NPS 6 or DN 150",
                "write a size that pipe is made in");
    return std::nullopt;
}

std::optional<double> converted(double value, const Unit& from, const Unit& to) {
    try {
        return convert(value, from, to);
    } catch (const std::invalid_argument&) {  // two currencies
        return std::nullopt;
    }
}

std::optional<TableNumber> read_own_unit(const YamlNode& node, const NumberReading& reading,
                                         const std::string& symbol, Dimension dimension,
                                         const Scope& scope) {
    const auto own = checked_unit(node, reading.unit, dimension, scope);
    const auto table = parse_unit(symbol, dimension);
    if (!own || !table) return std::nullopt;
    const auto printed = converted(reading.value, *own, *table);
    const auto base = converted(reading.value, *own, base_unit(dimension));
    if (printed && base) return TableNumber{*printed, *base};
    scope.error(Problem::unit_mismatch, node, "'" + printable(node.text) + "'",
                "an amount in " + symbol, "convert it to " + symbol);
    return std::nullopt;
}

}  // namespace

std::optional<Unit> read_unit(const YamlNode& node, std::optional<Dimension> wanted,
                              const Scope& scope) {
    const auto text = read_text(node, scope);
    return text ? checked_unit(node, *text, wanted, scope) : std::nullopt;
}

std::optional<Dimension> dimension_of_axis(std::string_view quantity) {
    // Calculated by the engine, so in no file of the plant folder.
    if (quantity == "metal_temperature") return Dimension::temperature;
    if (quantity == "mean_temperature") return Dimension::temperature;
    if (quantity == "temperature_excess") return Dimension::temperature_difference;
    if (quantity == "probability_of_failure") return Dimension::frequency;
    if (quantity == "annual_rainfall" || quantity == "coast_distance") return Dimension::length;
    for (const auto fields : {segment_fields(), inspection_fields(), turnaround_fields()}) {
        const auto at = find_field(fields, quantity);
        if (!at) continue;
        if (fields[*at].kind == FieldKind::pipe_size) return Dimension::nominal_size;
        if (fields[*at].kind == FieldKind::quantity) return fields[*at].dimension;
    }
    return std::nullopt;
}

std::optional<double> to_base(double value, std::string_view symbol, Dimension dimension) {
    if (dimension == Dimension::nominal_size) {
        return symbol == "DN" ? nps_of_dn(value) : std::optional(value);
    }
    const auto unit = parse_unit(symbol, dimension);
    return unit ? converted(value, *unit, base_unit(dimension)) : std::nullopt;
}

std::optional<TableNumber> read_in_unit(const YamlNode& node, const std::string& symbol,
                                        Dimension dimension, const Scope& scope) {
    if (dimension == Dimension::nominal_size) return read_size(node, symbol, scope);
    const auto number = read_bare_number(node, scope);
    if (!number) return std::nullopt;
    const auto base = to_base(*number, symbol, dimension);
    if (base && std::isfinite(*base)) return TableNumber{*number, *base};
    scope.error(Problem::out_of_range, node, "'" + printable(node.text) + "'",
                "a number that can be converted", "write a smaller number");
    return std::nullopt;
}

std::optional<TableNumber> read_with_unit(const YamlNode& node, const std::string& symbol,
                                          Dimension dimension, const Scope& scope) {
    if (dimension == Dimension::nominal_size) return read_size(node, symbol, scope);
    const auto text = read_text(node, scope);
    if (!text) return std::nullopt;
    const auto reading = read_quantity(*text);
    if (reading.fault == NumberFault::none && !reading.unit.empty()) {
        return read_own_unit(node, reading, symbol, dimension, scope);
    }
    return read_in_unit(node, symbol, dimension, scope);
}

}  // namespace lagline
