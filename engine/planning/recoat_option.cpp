#include "planning/recoat_option.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace lagline {
namespace {

using S = SegmentField;

constexpr double um_per_mm = 1e3;
constexpr double litres_per_um_m2 = 1e-3;  // a film of 1 um on 1 m2

std::uint8_t as_code(std::size_t number) { return static_cast<std::uint8_t>(number); }

}  // namespace

double SpecifiedFilms::target_um() const {
    double sum = 0.0;
    for (const CoatFilm& film : films) sum += film.target_um;
    return sum;
}

double RecoatOption::film_um() const { return SpecifiedFilms{films, coats}.target_um(); }

std::optional<SpecifiedFilms> specified_films(const RecoatRules& rules, std::uint8_t system,
                                              DegCelsius hottest) {
    SpecifiedFilms found;
    double least_um = 0.0;
    double most_um = 0.0;
    for (std::size_t coat = 0; coat < most_coats; ++coat) {
        CoatFilm& film = found.films[coat];
        film.least_um = rules.film_least->at(system, as_code(coat)).value * um_per_mm;
        film.most_um = rules.film_most->at(system, as_code(coat)).value * um_per_mm;
        if (film.most_um > 0.0) ++found.coats;
        least_um += film.least_um;
        most_um += film.most_um;
    }
    double kept = 1.0;  // of the room between the least and the greatest film
    const double limit_um = rules.thick_film_limit->value(rules.rigidity->code(system)) * um_per_mm;
    if (hottest.value > rules.hot_film_from_degc && most_um > limit_um) {
        if (least_um > limit_um) return std::nullopt;
        kept = (limit_um - least_um) / (most_um - least_um);
    }
    for (CoatFilm& film : found.films) {
        film.most_um = film.least_um + kept * (film.most_um - film.least_um);
        film.target_um = (film.least_um + film.most_um) / 2.0;
    }
    return found;
}

double coat_litres(double area_m2, double film_um, double solids, double loss) {
    return area_m2 * film_um * litres_per_um_m2 / solids / (1.0 - loss);  // eq. 4
}

std::array<double, most_coats> coat_material(const RecoatRules& rules, std::uint8_t system,
                                             const SpecifiedFilms& films, double area_m2) {
    const auto form = static_cast<CoatingForm>(rules.form->code(system));
    const double loss = rules.loss->value(system);
    std::array<double, most_coats> material{};
    for (std::size_t coat = 0; coat < films.coats; ++coat) {
        material[coat] = form == CoatingForm::wrap
                             ? area_m2 / (1.0 - loss)
                             : coat_litres(area_m2, films.films[coat].target_um,
                                           rules.volume_solids->value(system), loss);
    }
    return material;
}

double coating_usd_per_m2(const RecoatRules& rules, std::uint8_t system, std::uint8_t preparation,
                          const SpecifiedFilms& films) {
    double usd = rules.preparation_cost->value(preparation) +
                 films.coats * rules.application_cost->value(system);
    for (const double material : coat_material(rules, system, films, 1.0)) {
        usd += material * rules.material_cost->value(system);
    }
    return usd;  // eq. 6
}

bool follows_air(const Plant& plant, const RecoatRules& rules, std::uint32_t segment,
                 WorkState state) {
    if (state == WorkState::shutdown) return true;
    const SegmentSheet& segments = plant.segments;
    if (segments.has(S::service, segment) &&
        segments.codes(S::service)[segment] == rules.idle_service) {
        return true;
    }
    return segments.has(S::dead_leg_length, segment) &&
           segments.numbers(S::dead_leg_length)[segment] > 0.0;
}

SteelWhileWorked steel_while_worked(const Plant& plant, const RecoatRules& rules,
                                    std::uint32_t segment, WorkState state, std::size_t month) {
    const SegmentSheet& segments = plant.segments;
    const double air = rules.month_degc.empty() ? std::numeric_limits<double>::quiet_NaN()
                                                : rules.month_degc[month];
    const std::optional<std::uint8_t> service =
        segments.has(S::service, segment) ? std::optional{segments.codes(S::service)[segment]}
                                          : std::nullopt;
    if (state == WorkState::shutdown || service == rules.idle_service) return {air, air};
    const double operating = segments.numbers(S::operating_temperature)[segment];
    SteelWhileWorked steel{operating, operating};
    if (service == rules.cyclic_service) {
        if (segments.has(S::temperature_low, segment)) {
            steel.least_degc = segments.numbers(S::temperature_low)[segment];
        }
        if (segments.has(S::temperature_high, segment)) {
            steel.most_degc = segments.numbers(S::temperature_high)[segment];
        }
    }
    // The far end of a dead leg is near the air; fmin and fmax pass over air that is not known.
    if (follows_air(plant, rules, segment, state)) {
        steel.least_degc = std::fmin(steel.least_degc, air);
        steel.most_degc = std::fmax(steel.most_degc, air);
    }
    return steel;
}

}  // namespace lagline
