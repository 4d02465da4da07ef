#pragma once

#include <compare>
#include <string>

namespace lagline {

// Strong types for places where people hand us numbers.  Inside the engine numbers travel as bare
// doubles in columns whose names end in the unit.

struct DegCelsius {  ///< a temperature
    double value{};
    friend constexpr auto operator<=>(DegCelsius, DegCelsius) = default;
};
struct KelvinStep {  ///< a temperature difference
    double value{};
    friend constexpr auto operator<=>(KelvinStep, KelvinStep) = default;
};
constexpr KelvinStep operator-(DegCelsius a, DegCelsius b) { return {a.value - b.value}; }
constexpr DegCelsius operator+(DegCelsius a, KelvinStep b) { return {a.value + b.value}; }
constexpr DegCelsius operator-(DegCelsius a, KelvinStep b) { return {a.value - b.value}; }
// No operator+(DegCelsius, DegCelsius): the sum of two temperatures has no meaning.

struct Millimetres {
    double value{};
    friend constexpr auto operator<=>(Millimetres, Millimetres) = default;
};
struct MillimetresPerYear {
    double value{};
    friend constexpr auto operator<=>(MillimetresPerYear, MillimetresPerYear) = default;
};
struct MegaPascals {  ///< a stress
    double value{};
    friend constexpr auto operator<=>(MegaPascals, MegaPascals) = default;
};
struct GaugeMegaPascals {  ///< a gauge pressure
    double value{};
    friend constexpr auto operator<=>(GaugeMegaPascals, GaugeMegaPascals) = default;
};
struct Years {
    double value{};
    friend constexpr auto operator<=>(Years, Years) = default;
};

constexpr Millimetres operator*(MillimetresPerYear rate, Years time) {
    return {rate.value * time.value};
}
constexpr Years operator/(Millimetres wall, MillimetresPerYear rate) {
    return {wall.value / rate.value};
}

/// An amount in the currency of an ISO 4217 code.
struct Money {
    double amount{};
    std::string currency;
    friend bool operator==(const Money&, const Money&) = default;
};

/// True for three capital letters, the form of an ISO 4217 code.
[[nodiscard]] bool is_currency_code(const std::string& text);

}  // namespace lagline
