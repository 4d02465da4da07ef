#include "planning/surface.h"

#include <array>
#include <numbers>

#include "consequence/consequence.h"
#include "quantity/pipe_size.h"

namespace lagline {
namespace {

using S = SegmentField;

constexpr double mm_per_m = 1e3;

constexpr std::array needs{
    TableNeed{.name = "fitting_length", .kind = TableKind::value},
    TableNeed{.name = "assumed_length", .kind = TableKind::value, .dimension = Dimension::length},
    TableNeed{.name = "assumed_fitting_spacing",
              .kind = TableKind::value,
              .dimension = Dimension::length},
    TableNeed{
        .name = "assumed_elevation", .kind = TableKind::value, .dimension = Dimension::length},
    TableNeed{.name = "strip_renew_cost",
              .kind = TableKind::bands,
              .dimension = Dimension::money,
              .axis = "nominal_size"},
};

std::optional<double> site_rate(const Plant& plant, std::string_view name, std::string_view per) {
    const auto found = plant.description.unit_costs.find(std::string{name});
    if (found == plant.description.unit_costs.end() || found->second.per != per) {
        return std::nullopt;
    }
    return found->second.amount;
}

}  // namespace

std::span<const TableNeed> surface_needs() { return needs; }

SurfaceRules surface_rules(const RuleSet& rules, const Plant& plant) {
    SurfaceRules taken;
    taken.fitting_diameters = rules.value("fitting_length").value();
    taken.assumed_length_m = rules.value("assumed_length").value() / mm_per_m;
    taken.assumed_fitting_spacing_m = rules.value("assumed_fitting_spacing").value() / mm_per_m;
    taken.assumed_elevation_m = rules.value("assumed_elevation").value() / mm_per_m;
    taken.access_cost = &rules.band("strip_renew_cost");
    taken.site_access_per_m = site_rate(plant, "strip_and_reinsulate", "m");
    taken.site_access_per_fitting = site_rate(plant, "fitting", "fitting");
    taken.plant_per_usd = plant_per_usd(plant.description);
    return taken;
}

double cylinder_m2(double diameter_mm, double length_m) {
    return std::numbers::pi * diameter_mm / mm_per_m * length_m;
}

SegmentSurface segment_surface(const Plant& plant, const SurfaceRules& rules,
                               std::uint32_t segment) {
    const SegmentSheet& segments = plant.segments;
    SegmentSurface found;
    const auto number = [&](S field, double otherwise, bool& assumed) {
        assumed = !segments.has(field, segment) || is_assumption(segments.state(field, segment));
        return segments.has(field, segment) ? segments.numbers(field)[segment] : otherwise;
    };
    found.length_m = number(S::length, rules.assumed_length_m, found.length_assumed);
    found.fittings = number(S::fittings, found.length_m / rules.assumed_fitting_spacing_m,
                            found.fittings_assumed);
    found.elevation_m = number(S::elevation, rules.assumed_elevation_m, found.elevation_assumed);
    const double insulation_mm = number(S::insulation_thickness, 0.0, found.insulation_assumed);
    const double outside_mm = segments.numbers(S::outside_diameter)[segment];
    found.equivalent_m =
        found.length_m + found.fittings * rules.fitting_diameters * outside_mm / mm_per_m;  // eq. 1
    found.steel_m2 = cylinder_m2(outside_mm, found.equivalent_m);                           // eq. 2
    found.jacket_m2 = cylinder_m2(outside_mm + 2.0 * insulation_mm, found.equivalent_m);    // eq. 3
    return found;
}

double access_cost(const Plant& plant, const SurfaceRules& rules, std::uint32_t segment,
                   const SegmentSurface& surface) {
    if (!rules.site_access_per_m) {
        const double nps = pipe_sizes()[plant.segments.codes(S::nominal_size)[segment]].nps_inches;
        return rules.access_cost->find(0, nps).value * rules.plant_per_usd * surface.equivalent_m;
    }
    if (!rules.site_access_per_fitting) return *rules.site_access_per_m * surface.equivalent_m;
    return *rules.site_access_per_m * surface.length_m +
           *rules.site_access_per_fitting * surface.fittings;
}

}  // namespace lagline
