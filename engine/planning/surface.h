#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// The rules by which a segment is measured.
struct SurfaceRules {
    double fitting_diameters = 0.0;  ///< length that stands for a fitting, in outside diameters
    double assumed_length_m = 0.0;   ///< of a segment without a recorded length
    double assumed_fitting_spacing_m =
        0.0;  ///< run of pipe to one fitting, where none are recorded
    double assumed_elevation_m = 0.0;
    const BandTable* access_cost = nullptr;  ///< by nominal_size: strip and renew a metre [USD]
    // Rates of plant.yaml, in its currency, stand before it:
    std::optional<double> site_access_per_m;
    std::optional<double> site_access_per_fitting;
    double plant_per_usd = 1.0;
};
[[nodiscard]] SurfaceRules surface_rules(const RuleSet& rules, const Plant& plant);
[[nodiscard]] std::span<const TableNeed> surface_needs();

/// A segment measured for work on its outside.
struct SegmentSurface {
    double length_m = 0.0;  ///< run of pipe
    double fittings = 0.0;
    double equivalent_m = 0.0;  ///< run and fittings as length of pipe (recoat.md, eq. 1)
    double elevation_m = 0.0;
    double steel_m2 = 0.0;   ///< outside of the steel (eq. 2)
    double jacket_m2 = 0.0;  ///< outside of the insulation (eq. 3)
    bool length_assumed = false;
    bool fittings_assumed = false;
    bool insulation_assumed = false;
    bool elevation_assumed = false;
};
[[nodiscard]] SegmentSurface segment_surface(const Plant& plant, const SurfaceRules& rules,
                                             std::uint32_t segment);

/// Insulation and jacket taken off and renewed over the whole segment [plant currency]: by the
/// site's rates a metre and a fitting, or a metre alone, else by that of the rules.
[[nodiscard]] double access_cost(const Plant& plant, const SurfaceRules& rules,
                                 std::uint32_t segment, const SegmentSurface& surface);

/// Area of a cylinder [m2].
[[nodiscard]] double cylinder_m2(double diameter_mm, double length_m);

}  // namespace lagline
