#include "rationale/exceptions.h"

#include <algorithm>
#include <array>

namespace lagline {
namespace {

constexpr std::array chosen{
    Exception{"temperature_model", "", "chooses columns; cited by metal_temperature"},
    Exception{"driver_model", "", "chooses columns; cited by driver"},
    Exception{"coating_model", "", "chooses columns; cited by coating_credit"},
    Exception{"rate_model", "", "chooses columns; cited by corrosion_rate"},
    Exception{"consequence_model", "", "chooses columns; cited by leak_cost"},
    Exception{"wall_loss_of_family", "", "chooses the rows: which mechanisms a segment has"},
    Exception{"default_probability_criterion", "",
              "of due dates, which are no column of a ranking"},
    Exception{"default_wall_criterion", "", "of due dates, which are no column of a ranking"},
    Exception{"service_hazard", "", "a line of its own in explain, no quantity"},
    Exception{"film_most", "", "read by nothing: known to the rules for recoating alone"},
};

constexpr std::array not_cited{
    Exception{"", "other_damage_factor",
              "of the segment's other row, which explain tells by itself"},
    Exception{"", "coating_credit",
              "difference of two listed times, held by its formula; where they "
              "nearly agree rounding shows in it first"},
};
constexpr std::array without_effect{
    Exception{"thick_film_limit", "", "of a coating that does not crack its factor is 1"},
    Exception{"insulation_conductivity", "", "ends that share almost nothing with the mean"},
    Exception{"material_family", "",
              "published cracks only one family; another word leaves no row"},
};
constexpr std::array never_cited{
    Exception{"allowable_stress", "", "entered, or of a mechanism without it"},
    Exception{"yield_strength", "", "entered, or of a mechanism without it"},
    Exception{"tensile_strength", "", "entered, or of a mechanism without it"},
    Exception{"coating_life", "", "of the banded credit, which extended does not choose"},
    Exception{"coating_scale", "", "of an unknown system the scale goes by quality"},
    Exception{"coating_shape", "", "of an unknown system the shape is quality_shape"},
    Exception{"conditional_probability", "", "an inspection of effectiveness E is not counted"},
    Exception{"cracking_factor", "", "no film drawn is above the limit at such a temperature"},
    Exception{"cycling_factor", "", "no line drawn has so few cycles"},
    Exception{"cycling_life_factor", "", "no line drawn has so few cycles"},
    Exception{"injury_value", "", "no fluid drawn injures so"},
    Exception{"insulation_conductivity", "", "no insulation drawn is so cold or so hot"},
    Exception{"material_family", "",
              "chooses the mechanism; ferritic steel has no cracking to cite it"},
    Exception{"release_cost", "", "a grid of one lookup; a few cells of it are not drawn"},
    Exception{"scc_base_damage_factor", "", "a grid of one lookup, by severity and inspections"},
};
constexpr std::array<Exception, 0> not_listed{};
constexpr std::array in_words{
    Exception{"insulation_factor", "", "a lookup: the cited entry is the number"},
    Exception{"complexity_factor", "", "a lookup: the cited entry is the number"},
    Exception{"condition_factor", "", "a lookup: the cited entry is the number"},
    Exception{"pooling_factor", "", "a lookup: the cited entry is the number"},
    Exception{"interface_factor", "", "a lookup: the cited entry is the number"},
    Exception{"cycling_factor", "", "a lookup: the cited entry is the number"},
    Exception{"coating_life", "", "a lookup: the cited entry is the number"},
    Exception{"structural_minimum", "", "a lookup: the cited entry is the number"},
    Exception{"base_scale", "", "a lookup: the cited entry is the number"},
    Exception{"coating_shape", "", "a lookup: the cited entry is the number"},
    Exception{"preparation_life_factor", "", "a lookup: the cited entry is the number"},
    Exception{"place_life_factor", "", "a lookup: the cited entry is the number"},
    Exception{"thin_film_life_factor", "", "a lookup: the cited entry is the number"},
    Exception{"cycling_life_factor", "", "a lookup: the cited entry is the number"},
    Exception{"wet_life_factor", "", "a lookup: the cited entry is the number"},
    Exception{"cracking_life_factor", "", "a lookup: the cited entry is the number"},
    Exception{"base_damage_factor", "", "a lookup: the cited entry is the number"},
    Exception{"release_cost", "", "a lookup: the cited entry is the number"},
    Exception{"base_rate", "", "a sum or product over cited entries, cells or months"},
    Exception{"generic_frequency", "", "a sum or product over cited entries, cells or months"},
    Exception{"state_probability_1", "", "a sum or product over cited entries, cells or months"},
    Exception{"state_probability_2", "", "a sum or product over cited entries, cells or months"},
    Exception{"state_probability_3", "", "a sum or product over cited entries, cells or months"},
    Exception{"susceptibility_steps", "", "a sum or product over cited entries, cells or months"},
    Exception{"site_factor", "", "a sum or product over cited entries, cells or months"},
    Exception{"susceptible_share", "", "a sum or product over cited entries, cells or months"},
    Exception{"application_life_factor", "",
              "a sum or product over cited entries, cells or months"},
    Exception{"temperature_life_factor", "",
              "a sum or product over cited entries, cells or months"},
    Exception{"measured_rate", "", "a sum or product over cited entries, cells or months"},
    Exception{"surface_factor", "", "a sum or product over cited entries, cells or months"},
    Exception{"film_in_service", "", "a sum or product over cited entries, cells or months"},
    Exception{"outage_cost", "", "a sum or product over cited entries, cells or months"},
    Exception{"repair_cost", "", "a sum or product over cited entries, cells or months"},
    Exception{"injury_cost", "", "a sum or product over cited entries, cells or months"},
    Exception{"coating_age", "", "by dates and readings, listed"},
    Exception{"time_since_wall", "", "by dates and readings, listed"},
    Exception{"time_since_inspection", "", "by dates and readings, listed"},
    Exception{"inspections_a", "", "by dates and readings, listed"},
    Exception{"inspections_b", "", "by dates and readings, listed"},
    Exception{"inspections_c", "", "by dates and readings, listed"},
    Exception{"inspections_d", "", "by dates and readings, listed"},
    Exception{"long_term_rate", "", "by dates and readings, listed"},
    Exception{"short_term_rate", "", "by dates and readings, listed"},
    Exception{"steel_sweating_months", "", "by dates and readings, listed"},
    Exception{"jacket_sweating_months", "", "by dates and readings, listed"},
    Exception{"metal_temperature", "", "a choice among listed numbers, told in words"},
    Exception{"highest_temperature", "", "a choice among listed numbers, told in words"},
    Exception{"lowest_temperature", "", "a choice among listed numbers, told in words"},
    Exception{"governing_temperature", "", "a choice among listed numbers, told in words"},
    Exception{"governing_share", "", "a choice among listed numbers, told in words"},
    Exception{"wall_thickness", "", "a choice among listed numbers, told in words"},
    Exception{"minimum_thickness", "", "a choice among listed numbers, told in words"},
    Exception{"corrosion_rate", "", "a choice among listed numbers, told in words"},
    Exception{"leak_cost", "", "a choice among listed numbers, told in words"},
    Exception{"other_damage_factor", "", "a choice among listed numbers, told in words"},
    Exception{"combined_damage_factor", "", "a choice among listed numbers, told in words"},
    Exception{"heat_loss", "", "solved by iteration or an integral"},
    Exception{"bare_heat_loss", "", "solved by iteration or an integral"},
    Exception{"jacket_temperature", "", "solved by iteration or an integral"},
    Exception{"transmittance", "", "solved by iteration or an integral"},
    Exception{"dead_leg_station", "", "solved by iteration or an integral"},
    Exception{"dead_leg_decay", "", "solved by iteration or an integral"},
    Exception{"exposed_time", "", "solved by iteration or an integral"},
    Exception{"coating_credit", "", "0 where the coating was found failed"},
    Exception{"pressure_minimum", "", "of thick pipe, from t = D/6, Y follows from the diameters"},
};

}  // namespace

std::span<const Exception> tables_not_changed() { return chosen; }
std::span<const Exception> values_not_cited() { return not_cited; }
std::span<const Exception> values_without_effect() { return without_effect; }
std::span<const Exception> values_never_cited() { return never_cited; }
std::span<const Exception> inputs_not_listed() { return not_listed; }
std::span<const Exception> formulas_in_words() { return in_words; }

bool excepted(std::span<const Exception> list, std::string_view subject, std::string_view quantity,
              std::set<const Exception*>& needed) {
    for (const Exception& each : list) {
        if (!each.subject.empty() && each.subject != subject) continue;
        if (!each.quantity.empty() && each.quantity != quantity) continue;
        needed.insert(&each);
        return true;
    }
    return false;
}

std::string not_needed(std::span<const Exception> list, const std::set<const Exception*>& needed) {
    std::string text;
    for (const Exception& each : list) {
        if (needed.contains(&each)) continue;
        text.append(each.subject).append(" ").append(each.quantity).append("\n");
    }
    return text;
}

}  // namespace lagline
