#include "synthesis/character.h"

namespace lagline {
namespace {

using WeightedWord = Weighted<std::string_view>;

constexpr std::array<std::string_view, 4> steels{"carbon_steel", "low_alloy_steel",
                                                 "austenitic_stainless", "duplex_stainless"};
constexpr std::array<std::string_view, 4> services{"continuous", "cyclic", "intermittent", "idle"};

constexpr std::array<WeightedWord, 4> drivers(int severe, int moderate, int mild, int dry) {
    return {WeightedWord{"severe", severe}, WeightedWord{"moderate", moderate},
            WeightedWord{"mild", mild}, WeightedWord{"dry", dry}};
}
constexpr std::array<WeightedWord, 3> conditions(int below, int average, int above) {
    return {WeightedWord{"below_average", below}, WeightedWord{"average", average},
            WeightedWord{"above_average", above}};
}

// clang-format off
// Invented throughout.  The sea is in the west, the cooling tower upwind of U6.
constexpr auto units = std::to_array<UnitCharacter>({
    {"U1", 1971, 1985, 320, 40, {"boiler house", "pipe bridge 1", "pipe bridge 2", "deaerator deck"},
     drivers(1, 5, 3, 1), conditions(3, 6, 1), 6, 9},
    {"U2", 1988, 1996, 520, 40, {"reactor structure", "north rack", "south rack", "column deck"},
     drivers(1, 6, 3, 0), conditions(2, 6, 2), 14, 4},
    {"U3", 1999, 2006, 120, 260, {"cold box", "storage tank ring", "compressor shelter", "flare line"},
     drivers(4, 5, 1, 0), conditions(2, 5, 3), 10, 5},
    {"U4", 1979, 1992, 520, 260, {"batch hall", "solvent recovery", "drum store", "wash bay"},
     drivers(1, 3, 3, 3), conditions(4, 5, 1), 4, 8},
    {"U5", 1974, 1990, 10, 40, {"jetty head", "jetty trestle", "tank farm east", "tank farm west"},
     drivers(8, 2, 0, 0), conditions(5, 4, 1), 8, 6},
    {"U6", 1984, 2019, 320, 260, {"cooling tower", "chiller house", "dosing station", "pump row"},
     drivers(5, 4, 1, 0), conditions(3, 5, 2), 3, 3},
});

// unit, weight, code, text, class, steels, temperatures, services, pressures, traced, headers,
// purpose, consequence
constexpr auto fluids = std::to_array<FluidCharacter>({
    {0, 6, "LS", "low-pressure steam", "steam",
     {1, 0, 0, 0}, 135, 172, {7, 0, 2, 1}, 0.7, 1.2, 0, true, "heat_conservation", 1},
    {0, 4, "MS", "medium-pressure steam", "steam",
     {7, 3, 0, 0}, 180, 235, {8, 0, 2, 0}, 1.8, 2.6, 0, false, "heat_conservation", 1},
    {0, 2, "HS", "high-pressure steam", "steam",
     {1, 4, 0, 0}, 330, 420, {9, 1, 0, 0}, 5.0, 7.5, 0, false, "heat_conservation", 2},
    {0, 7, "SC", "steam condensate", "steam",
     {1, 0, 0, 0}, 72, 130, {5, 2, 2, 1}, 0.5, 1.0, 2, false, "personnel_protection", 0},
    {0, 3, "BW", "boiler feed water", "water",
     {1, 0, 0, 0}, 105, 148, {9, 0, 1, 0}, 3.0, 6.5, 3, false, "heat_conservation", 1},
    {0, 2, "HW", "heating water", "water",
     {1, 0, 0, 0}, 58, 88, {4, 3, 2, 1}, 0.6, 1.0, 0, false, "heat_conservation", 0},
    {1, 5, "RF", "reactor feed", "light_hydrocarbon",
     {8, 1, 1, 0}, 42, 158, {7, 2, 1, 0}, 2.0, 4.5, 3, false, "process", 3},
    {1, 4, "RE", "reactor effluent", "hydrocarbon_gas",
     {4, 5, 1, 0}, 245, 410, {7, 3, 0, 0}, 2.0, 3.8, 0, true, "heat_conservation", 3},
    {1, 4, "HR", "heavy recycle", "heavy_hydrocarbon",
     {6, 3, 1, 0}, 168, 288, {7, 2, 1, 0}, 1.0, 2.5, 20, false, "heat_conservation", 2},
    {1, 4, "QW", "quench water", "water",
     {8, 0, 2, 0}, 55, 96, {8, 1, 1, 0}, 0.6, 1.2, 0, true, "personnel_protection", 1},
    {1, 2, "CA", "caustic wash", "caustic",
     {4, 0, 4, 1}, 45, 78, {6, 2, 2, 0}, 0.6, 1.6, 25, false, "process", 2},
    {1, 1, "TG", "toxic tail gas", "toxic",
     {3, 0, 2, 1}, 60, 145, {9, 1, 0, 0}, 0.3, 1.0, 15, false, "process", 4},
    {2, 5, "LO", "light olefin", "light_hydrocarbon",
     {3, 0, 5, 0}, -102, -38, {8, 1, 1, 0}, 1.5, 3.0, 0, false, "condensation", 3},
    {2, 5, "RG", "refrigerant", "refrigerant",
     {8, 0, 2, 0}, -42, 8, {6, 4, 0, 0}, 1.0, 2.2, 0, false, "condensation", 1},
    {2, 3, "CB", "cold brine", "other",
     {8, 0, 0, 1}, -16, -4, {7, 2, 1, 0}, 0.5, 1.0, 0, false, "condensation", 0},
    {2, 4, "VR", "vapour return", "hydrocarbon_gas",
     {1, 0, 0, 0}, -28, 24, {3, 5, 2, 0}, 0.6, 1.8, 0, true, "condensation", 2},
    {3, 6, "SV", "solvent", "flammable_liquid",
     {7, 0, 2, 1}, 38, 128, {1, 7, 1, 1}, 0.6, 1.6, 5, false, "process", 2},
    {3, 4, "SR", "solvent vapour", "hydrocarbon_gas",
     {7, 0, 3, 0}, 78, 142, {1, 7, 1, 1}, 0.3, 1.0, 0, false, "heat_conservation", 2},
    {3, 3, "WW", "wash water", "water",
     {1, 0, 0, 0}, 45, 85, {0, 5, 4, 1}, 0.4, 1.0, 0, false, "personnel_protection", 0},
    {3, 1, "WH", "wash water, hot", "water",
     {9, 0, 1, 0}, 80, 96, {0, 5, 4, 1}, 0.4, 1.0, 0, false, "personnel_protection", 0},
    {3, 2, "AC", "weak acid", "acid",
     {0, 0, 4, 2}, 40, 92, {2, 4, 3, 1}, 0.4, 1.0, 10, false, "process", 2},
    {4, 6, "FO", "heavy oil", "heavy_hydrocarbon",
     {1, 0, 0, 0}, 48, 92, {5, 0, 4, 1}, 0.8, 1.6, 80, false, "process", 2},
    {4, 4, "LP", "flammable product", "flammable_liquid",
     {9, 0, 1, 0}, 14, 52, {3, 0, 6, 1}, 0.8, 1.6, 25, true, "process", 3},
    {4, 2, "SL", "slops", "heavy_hydrocarbon",
     {1, 0, 0, 0}, 30, 75, {1, 1, 5, 3}, 0.5, 1.0, 60, false, "process", 1},
    {4, 2, "NG", "nitrogen", "inert_gas",
     {1, 0, 0, 0}, 12, 60, {5, 0, 4, 1}, 0.5, 1.0, 0, false, "none", 0},
    {4, 2, "SS", "tracing steam", "steam",
     {1, 0, 0, 0}, 138, 165, {6, 2, 2, 0}, 0.7, 1.2, 0, false, "heat_conservation", 0},
    {5, 4, "CW", "cooling water return", "water",
     {1, 0, 0, 0}, 26, 44, {9, 0, 1, 0}, 0.5, 1.0, 0, true, "none", 1},
    {5, 4, "KW", "chilled water", "water",
     {9, 0, 1, 0}, 4, 12, {8, 1, 1, 0}, 0.5, 1.0, 0, false, "condensation", 0},
    {5, 3, "TW", "tempered water", "water",
     {1, 0, 0, 0}, 52, 92, {5, 3, 2, 0}, 0.6, 1.2, 0, false, "heat_conservation", 0},
    {5, 1, "DA", "dosing acid", "acid",
     {0, 0, 3, 2}, 20, 45, {3, 2, 4, 1}, 0.4, 1.0, 40, false, "process", 2},
    {5, 2, "PA", "process air", "inert_gas",
     {1, 0, 0, 0}, 40, 150, {6, 2, 2, 0}, 0.6, 1.2, 0, false, "personnel_protection", 0},
});
// clang-format on

}  // namespace

std::string_view word(Steel steel) { return steels[static_cast<std::size_t>(steel)]; }
std::string_view word(Service service) { return services[static_cast<std::size_t>(service)]; }

std::span<const UnitCharacter> unit_characters() { return units; }
std::span<const FluidCharacter> fluid_characters() { return fluids; }

}  // namespace lagline
