#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>

#include "synthesis/dice.h"

namespace lagline {

enum class Steel : std::uint8_t { carbon, low_alloy, austenitic, duplex };
enum class Service : std::uint8_t { continuous, cyclic, intermittent, idle };

/// The word of the vocabulary.
[[nodiscard]] std::string_view word(Steel steel);
[[nodiscard]] std::string_view word(Service service);
[[nodiscard]] constexpr bool is_stainless(Steel steel) {
    return steel == Steel::austenitic || steel == Steel::duplex;
}

/// What makes one process unit unlike another.
struct UnitCharacter {
    std::string_view name;
    int first_year;  ///< lines of the first build went into service from this year
    int last_year;   ///< to this one; tie-ins came later
    double x_m;      ///< south-west corner on the plot plan
    double y_m;
    std::array<std::string_view, 4> areas;
    std::array<Weighted<std::string_view>, 4> drivers;  ///< what wets the insulation
    std::array<Weighted<std::string_view>, 3> conditions;
    int most_outage_days;  ///< after a leak
    int first_campaign;    ///< month of 1985 in which the unit's inspection campaigns begin
};
[[nodiscard]] std::span<const UnitCharacter> unit_characters();

/// A fluid of a unit and how its lines are built and run.
struct FluidCharacter {
    std::uint8_t unit;      ///< index into unit_characters()
    int weight;             ///< share of the unit's lines
    std::string_view code;  ///< first part of the line number
    std::string_view text;
    std::string_view fluid_class;
    std::array<int, 4> steels;  ///< weights in the order of Steel
    int least_degc;
    int most_degc;
    std::array<int, 4> services;  ///< weights in the order of Service
    double least_mpa;
    double most_mpa;
    int traced_percent;
    bool headers;              ///< mostly large bore
    std::string_view purpose;  ///< of the insulation
    int consequence;           ///< usual category of a leak, 0 (A) to 4 (E)
};
[[nodiscard]] std::span<const FluidCharacter> fluid_characters();

}  // namespace lagline
