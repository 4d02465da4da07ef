#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace lagline {

/// What a number measures.  Two dimensions never mix, even where SI would let them: a temperature
/// is not a temperature difference, and a gauge pressure is not a stress.
enum class Dimension : std::uint8_t {
    number,                  ///< pure number, share, factor; "%" allowed
    temperature,             ///< a point on the scale; degC
    temperature_difference,  ///< a step; K
    length,                  ///< mm
    area,                    ///< m2
    corrosion_rate,          ///< mm/y
    pressure,                ///< gauge pressure; MPa
    stress,                  ///< MPa
    time,                    ///< y
    frequency,               ///< 1/y
    money,                   ///< plant currency
    nominal_size,            ///< NPS or DN
    work,                    ///< craft hours; h
    deposition,              ///< mg/m2/day
    conductivity,            ///< W/m/K
    speed,                   ///< m/s
};

/// "a temperature", "a length", for messages.
[[nodiscard]] std::string_view describe(Dimension dimension);

/// A unit: value in base unit = value * scale + offset.
struct Unit {
    std::string symbol;
    Dimension dimension{};
    double scale = 1.0;
    double offset = 0.0;
};

/// The unit that `dimension` is calculated in, e.g. degC, mm, mm/y, MPa.
[[nodiscard]] const Unit& base_unit(Dimension dimension);

/// The unit written as `symbol` ("degF", "mil", "psig", "mm/y", "mpy", "%", "kEUR") read as a
/// `dimension`.  A symbol such as MPa is a stress or a pressure as asked.  Nothing when the symbol
/// is not a unit of that dimension.
[[nodiscard]] std::optional<Unit> parse_unit(std::string_view symbol, Dimension dimension);

/// Every dimension that has a unit of this symbol; empty when no such unit is known.
[[nodiscard]] std::vector<Dimension> dimensions_of(std::string_view symbol);

/// The unit symbols of a dimension, in the order they should be offered to a person.  Other
/// spellings that parse_unit understands ("C", "mm/yr", "psi" as a gauge pressure) are left out.
[[nodiscard]] std::span<const std::string_view> unit_symbols(Dimension dimension);

/// `value` of unit `from` as a value of unit `to`.  Exact (no arithmetic) when both are the same
/// unit, otherwise within a few units in the last place.  @throws std::invalid_argument when the
/// dimensions differ, or where no fixed factor exists: two currencies, NPS and DN
[[nodiscard]] double convert(double value, const Unit& from, const Unit& to);

/// A number as written by a person: "12.5", "-3", "1e-4", "+7".  No thousands separators, no comma
/// decimals, no hexadecimal, no "inf" or "nan", no white space inside.
enum class NumberFault : std::uint8_t { none, empty, not_a_number, comma_decimal, not_finite };
struct NumberReading {
    double value = 0.0;
    NumberFault fault = NumberFault::none;
    /// What stands behind the number, trimmed: "93 mm" gives "mm"; only filled by read_quantity.
    std::string_view unit;
};
/// The whole of `text` as a number.
[[nodiscard]] NumberReading read_number(std::string_view text);
/// A number with an optional unit behind it: "93", "93 mm", "93mm", "50 %", "0.5 mm/y".
[[nodiscard]] NumberReading read_quantity(std::string_view text);

}  // namespace lagline
