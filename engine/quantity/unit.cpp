#include "quantity/unit.h"

#include <algorithm>
#include <array>
#include <stdexcept>

#include "diagnostics/text.h"
#include "quantity/strong.h"

namespace lagline {
namespace {

constexpr std::size_t dimension_count = 16;

constexpr double mm_per_inch = 25.4;       // exact by definition
constexpr double mm_per_foot = 304.8;      // exact by definition
constexpr double m2_per_ft2 = 0.09290304;  // exact: (0.3048 m)^2
// One pound-force (4.4482216152605 N exactly) on one square inch (645.16 mm2 exactly), written out
// so that the compiler rounds once.
constexpr double mpa_per_psi = 0.00689475729316836133672267344535;
constexpr double mpa_per_ksi = 6.89475729316836133672267344535;
constexpr double mpa_per_kgf_cm2 = 0.0980665;  // exact: 9.80665 N on 100 mm2
constexpr double atmosphere_mpa = 0.101325;    // exact by definition
// The Julian year of 365.25 days, the mean over the leap years that a service life spans.
constexpr double days_per_year = 365.25;
constexpr double hours_per_year = 8766.0;

/// One spelling of a unit.  `offered` spellings are shown to people; the others are understood.
struct Row {
    Dimension dimension;
    std::string_view symbol;
    double scale = 1.0;
    double offset = 0.0;
    bool offered = true;
};

constexpr bool alias = false;

// Within a dimension the first row is the base unit.
// clang-format off
constexpr std::array rows{
    Row{Dimension::number, "", 1.0, 0.0, alias},
    Row{Dimension::number, "-"},
    Row{Dimension::number, "1"},
    Row{Dimension::number, "%", 0.01},

    Row{Dimension::temperature, "degC"},
    Row{Dimension::temperature, "degF", 5.0 / 9.0, -160.0 / 9.0},
    Row{Dimension::temperature, "K", 1.0, -273.15},
    Row{Dimension::temperature, "\u00B0C", 1.0, 0.0, alias},
    Row{Dimension::temperature, "C", 1.0, 0.0, alias},
    Row{Dimension::temperature, "\u00B0F", 5.0 / 9.0, -160.0 / 9.0, alias},
    Row{Dimension::temperature, "F", 5.0 / 9.0, -160.0 / 9.0, alias},

    Row{Dimension::temperature_difference, "K"},
    Row{Dimension::temperature_difference, "deltaC"},
    Row{Dimension::temperature_difference, "delta_degC"},
    Row{Dimension::temperature_difference, "delta_degF", 5.0 / 9.0},

    Row{Dimension::length, "mm"},
    Row{Dimension::length, "cm", 10.0},
    Row{Dimension::length, "um", 1e-3},
    Row{Dimension::length, "m", 1e3},
    Row{Dimension::length, "km", 1e6},
    Row{Dimension::length, "mil", mm_per_inch / 1e3},
    Row{Dimension::length, "in", mm_per_inch},
    Row{Dimension::length, "ft", mm_per_foot},
    Row{Dimension::length, "\u00B5m", 1e-3, 0.0, alias},  // micro sign
    Row{Dimension::length, "\u03BCm", 1e-3, 0.0, alias},  // Greek mu
    Row{Dimension::length, "thou", mm_per_inch / 1e3, 0.0, alias},

    Row{Dimension::area, "m2"},
    Row{Dimension::area, "ft2", m2_per_ft2},
    Row{Dimension::area, "m\u00B2", 1.0, 0.0, alias},
    Row{Dimension::area, "ft\u00B2", m2_per_ft2, 0.0, alias},

    Row{Dimension::corrosion_rate, "mm/y"},
    Row{Dimension::corrosion_rate, "um/y", 1e-3},
    Row{Dimension::corrosion_rate, "mpy", mm_per_inch / 1e3},
    Row{Dimension::corrosion_rate, "in/y", mm_per_inch},
    Row{Dimension::corrosion_rate, "mm/yr", 1.0, 0.0, alias},
    Row{Dimension::corrosion_rate, "mm/a", 1.0, 0.0, alias},
    Row{Dimension::corrosion_rate, "mm/year", 1.0, 0.0, alias},
    Row{Dimension::corrosion_rate, "um/yr", 1e-3, 0.0, alias},
    Row{Dimension::corrosion_rate, "um/a", 1e-3, 0.0, alias},
    Row{Dimension::corrosion_rate, "um/year", 1e-3, 0.0, alias},
    Row{Dimension::corrosion_rate, "\u00B5m/y", 1e-3, 0.0, alias},
    Row{Dimension::corrosion_rate, "\u03BCm/y", 1e-3, 0.0, alias},
    Row{Dimension::corrosion_rate, "\u00B5m/a", 1e-3, 0.0, alias},
    Row{Dimension::corrosion_rate, "\u03BCm/a", 1e-3, 0.0, alias},
    Row{Dimension::corrosion_rate, "mil/y", mm_per_inch / 1e3, 0.0, alias},
    Row{Dimension::corrosion_rate, "in/yr", mm_per_inch, 0.0, alias},

    // A pressure without a mark is read as a gauge pressure, as line lists and gauges give it.
    Row{Dimension::pressure, "MPa"},
    Row{Dimension::pressure, "MPag"},
    Row{Dimension::pressure, "kPag", 1e-3},
    Row{Dimension::pressure, "barg", 0.1},
    Row{Dimension::pressure, "psig", mpa_per_psi},
    Row{Dimension::pressure, "kgf/cm2", mpa_per_kgf_cm2},
    Row{Dimension::pressure, "MPaa", 1.0, -atmosphere_mpa},
    Row{Dimension::pressure, "kPaa", 1e-3, -atmosphere_mpa},
    Row{Dimension::pressure, "bara", 0.1, -atmosphere_mpa},
    Row{Dimension::pressure, "psia", mpa_per_psi, -atmosphere_mpa},
    Row{Dimension::pressure, "kPa", 1e-3, 0.0, alias},
    Row{Dimension::pressure, "bar", 0.1, 0.0, alias},
    Row{Dimension::pressure, "psi", mpa_per_psi, 0.0, alias},
    Row{Dimension::pressure, "kgf/cm\u00B2", mpa_per_kgf_cm2, 0.0, alias},

    Row{Dimension::stress, "MPa"},
    Row{Dimension::stress, "N/mm2"},
    Row{Dimension::stress, "kPa", 1e-3},
    Row{Dimension::stress, "GPa", 1e3},
    Row{Dimension::stress, "bar", 0.1},
    Row{Dimension::stress, "psi", mpa_per_psi},
    Row{Dimension::stress, "ksi", mpa_per_ksi},
    Row{Dimension::stress, "N/mm\u00B2", 1.0, 0.0, alias},

    Row{Dimension::time, "y"},
    Row{Dimension::time, "month", 1.0 / 12.0},
    Row{Dimension::time, "week", 7.0 / days_per_year},
    Row{Dimension::time, "day", 1.0 / days_per_year},
    Row{Dimension::time, "h", 1.0 / hours_per_year},
    Row{Dimension::time, "yr", 1.0, 0.0, alias},
    Row{Dimension::time, "year", 1.0, 0.0, alias},
    Row{Dimension::time, "a", 1.0, 0.0, alias},
    Row{Dimension::time, "d", 1.0 / days_per_year, 0.0, alias},

    Row{Dimension::frequency, "1/y"},
    Row{Dimension::frequency, "1/day", days_per_year},
    Row{Dimension::frequency, "1/h", hours_per_year},
    Row{Dimension::frequency, "1/yr", 1.0, 0.0, alias},

    // Any three capitals are a currency; these are the ones offered.
    Row{Dimension::money, "EUR"},
    Row{Dimension::money, "USD"},
    Row{Dimension::money, "kEUR", 1e3},
    Row{Dimension::money, "MEUR", 1e6},

    Row{Dimension::nominal_size, "NPS"},
    Row{Dimension::nominal_size, "DN"},

    Row{Dimension::work, "h"},
    Row{Dimension::work, "man-h"},

    Row{Dimension::deposition, "mg/m2/day"},
    Row{Dimension::deposition, "mg/m2/d", 1.0, 0.0, alias},
    Row{Dimension::deposition, "mg/m\u00B2/day", 1.0, 0.0, alias},

    Row{Dimension::conductivity, "W/m/K"},
    Row{Dimension::conductivity, "W/(m K)", 1.0, 0.0, alias},

    Row{Dimension::speed, "m/s"},
    Row{Dimension::speed, "km/h", 1.0 / 3.6},
};
// clang-format on

constexpr std::size_t index_of(Dimension dimension) { return static_cast<std::size_t>(dimension); }

std::string_view currency_of(std::string_view symbol) {
    return symbol.size() < 3 ? std::string_view{} : symbol.substr(symbol.size() - 3);
}

/// "EUR", "kEUR", "MEUR" for any code that is not the symbol of something else.
std::optional<Unit> money_unit(std::string_view symbol) {
    const auto code = currency_of(symbol);
    if (!is_currency_code(std::string(code))) return std::nullopt;
    const auto taken = [code](const Row& row) {
        return row.dimension != Dimension::money && row.symbol == code;
    };
    if (std::ranges::any_of(rows, taken)) return std::nullopt;
    const auto prefix = symbol.substr(0, symbol.size() - code.size());
    if (prefix.empty()) return Unit{std::string(symbol), Dimension::money, 1.0, 0.0};
    if (prefix == "k") return Unit{std::string(symbol), Dimension::money, 1e3, 0.0};
    if (prefix == "M") return Unit{std::string(symbol), Dimension::money, 1e6, 0.0};
    return std::nullopt;
}

using Units = std::array<Unit, dimension_count>;

Units base_units() {
    Units units;
    // Backwards, so that the first row of a dimension stays.
    for (std::size_t i = rows.size(); i-- > 0;) {
        const Row& row = rows[i];
        units[index_of(row.dimension)] = {std::string(row.symbol), row.dimension, row.scale,
                                          row.offset};
    }
    units[index_of(Dimension::money)].symbol.clear();  // the plant states its currency
    return units;
}

using Symbols = std::array<std::vector<std::string_view>, dimension_count>;

Symbols offered_symbols() {
    Symbols symbols;
    for (const Row& row : rows) {
        if (row.offered) symbols[index_of(row.dimension)].push_back(row.symbol);
    }
    return symbols;
}

/// Same dimension, and a fixed factor between the two.
bool convertible(const Unit& from, const Unit& to) {
    if (from.dimension != to.dimension) return false;
    // NPS and DN are matched by table, not by a factor.
    if (from.dimension == Dimension::nominal_size) return from.symbol == to.symbol;
    if (from.dimension != Dimension::money || from.symbol.empty() || to.symbol.empty()) return true;
    return currency_of(from.symbol) == currency_of(to.symbol);
}

}  // namespace

std::string_view describe(Dimension dimension) {
    switch (dimension) {
        case Dimension::number:
            return "a number";
        case Dimension::temperature:
            return "a temperature";
        case Dimension::temperature_difference:
            return "a temperature difference";
        case Dimension::length:
            return "a length";
        case Dimension::area:
            return "an area";
        case Dimension::corrosion_rate:
            return "a corrosion rate";
        case Dimension::pressure:
            return "a pressure";
        case Dimension::stress:
            return "a stress";
        case Dimension::time:
            return "a time";
        case Dimension::frequency:
            return "a frequency";
        case Dimension::money:
            return "an amount of money";
        case Dimension::nominal_size:
            return "a nominal size";
        case Dimension::work:
            return "an amount of work";
        case Dimension::deposition:
            return "a deposition rate";
        case Dimension::conductivity:
            return "a thermal conductivity";
        case Dimension::speed:
            return "a speed";
    }
    return "an unknown quantity";  // only a value cast from outside the enumeration gets here
}

const Unit& base_unit(Dimension dimension) {
    static const Units units = base_units();
    return units.at(index_of(dimension));
}

std::optional<Unit> parse_unit(std::string_view symbol, Dimension dimension) {
    const auto text = trimmed(symbol);
    if (dimension == Dimension::money) return money_unit(text);
    for (const Row& row : rows) {
        if (row.dimension == dimension && row.symbol == text) {
            return Unit{std::string(text), dimension, row.scale, row.offset};
        }
    }
    return std::nullopt;
}

std::vector<Dimension> dimensions_of(std::string_view symbol) {
    std::vector<Dimension> found;
    for (std::size_t i = 0; i < dimension_count; ++i) {
        const auto dimension = static_cast<Dimension>(i);
        if (parse_unit(symbol, dimension)) found.push_back(dimension);
    }
    return found;
}

std::span<const std::string_view> unit_symbols(Dimension dimension) {
    static const Symbols symbols = offered_symbols();
    return symbols.at(index_of(dimension));
}

double convert(double value, const Unit& from, const Unit& to) {
    if (!convertible(from, to)) {
        throw std::invalid_argument("no fixed factor from '" + from.symbol + "' to '" + to.symbol +
                                    "'");
    }
    if (from.scale == to.scale && from.offset == to.offset) return value;
    // The offset is taken off in the unit it was written in: 32 degF is then 0 degC exactly.
    const double base = (value + from.offset / from.scale) * from.scale;
    return base / to.scale - to.offset / to.scale;
}

}  // namespace lagline
