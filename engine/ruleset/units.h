#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "ruleset/scope.h"

namespace lagline {

/// The unit written at `node`, of dimension `wanted` when one is asked for.  A symbol of several
/// dimensions is read as the first of them.  Unknown units and wrong dimensions are reported.
std::optional<Unit> read_unit(const YamlNode& node, std::optional<Dimension> wanted,
                              const Scope& scope);

/// What the quantity of an axis measures, where the engine or a column of the plant folder knows
/// it; nothing for any other name.
[[nodiscard]] std::optional<Dimension> dimension_of_axis(std::string_view quantity);

/// `value` of unit `symbol` in the base unit of `dimension`.  A nominal size becomes its NPS in
/// inches.  Nothing when there is no such conversion (DN 77, an unknown symbol).
[[nodiscard]] std::optional<double> to_base(double value, std::string_view symbol,
                                            Dimension dimension);

/// A number read in two ways: as the table prints it and as the engine calculates.
struct TableNumber {
    double printed = 0.0;
    double base = 0.0;
};

/// A bare number in `symbol`; problems are reported.
std::optional<TableNumber> read_in_unit(const YamlNode& node, const std::string& symbol,
                                        Dimension dimension, const Scope& scope);

/// A number in `symbol`, or with a unit of its own of the same dimension, or a pipe size where
/// the dimension is nominal_size.  `printed` is in `symbol`.  Problems are reported.
std::optional<TableNumber> read_with_unit(const YamlNode& node, const std::string& symbol,
                                          Dimension dimension, const Scope& scope);

}  // namespace lagline
