#include <array>

#include "degradation/degradation.h"

namespace lagline {
namespace {

using Key = std::string_view;

constexpr Key api_581 = "API RP 581, 3rd edition, Part 2, section 16";
constexpr Key api_581_recalled = "API RP 581, 3rd edition, Part 2, section 16 (recalled)";
constexpr Key life_source = "coating life model, docs/method.md";

constexpr std::array age_inputs{Key{"coating_date"}, Key{"coating_findings"}};
constexpr std::array age_tables{Key{"whole_coat_share"}};
constexpr std::array life_inputs{Key{"coating_quality"}};
constexpr std::array life_tables{Key{"coating_life"}};
constexpr std::array failed_inputs{Key{"rust_grade"}, Key{"coating_date"}, Key{"coating_findings"}};
constexpr std::array failed_tables{Key{"coating_failed_rust_grade"}, Key{"whole_coat_share"}};
constexpr std::array credit_inputs{
    Key{"coating_life"},   Key{"coating_age"}, Key{"time_since_wall"}, Key{"time_since_inspection"},
    Key{"coating_failed"}, Key{"in_service"},  Key{"coating_findings"}};
constexpr std::array credit_tables{Key{"coating_model"}, Key{"earlier_coat"},
                                   Key{"whole_coat_share"}, Key{"coating_failed_rust_grade"}};
constexpr std::array exposed_inputs{Key{"time_since_wall"}, Key{"time_since_inspection"},
                                    Key{"coating_credit"}};
constexpr std::array protected_inputs{Key{"time_since_wall"}, Key{"time_since_inspection"},
                                      Key{"exposed_time"}};
constexpr std::array base_inputs{Key{"coating_system"}, Key{"coating_quality"}, Key{"driver"}};
constexpr std::array base_tables{Key{"coating_scale"}, Key{"quality_scale"}};
constexpr std::array preparation_inputs{Key{"coating_substrate_prep"}};
constexpr std::array preparation_tables{Key{"preparation_factor"}};
constexpr std::array place_inputs{Key{"coating_date"}, Key{"in_service"}};
constexpr std::array place_tables{Key{"field_after"}, Key{"field_factor"}};
constexpr std::array application_inputs{Key{"coating_date"}, Key{"in_service"},
                                        Key{"coating_system"}, Key{"mean_temperature"},
                                        Key{"relative_humidity"}};
constexpr std::array application_tables{Key{"field_after"}, Key{"cure_temperature_least"},
                                        Key{"cold_cure_factor"}, Key{"dew_point_margin"},
                                        Key{"dew_factor"}};
constexpr std::array film_tables{Key{"coating_rigidity_of"}, Key{"yard_erosion"}};
constexpr std::array film_inputs{Key{"coating_thickness"}, Key{"yard_storage"},
                                 Key{"coating_system"}};
constexpr std::array thin_inputs{Key{"film_in_service"}, Key{"coating_system"}};
constexpr std::array thin_tables{Key{"film_least"}, Key{"thin_film_factor"}};
constexpr std::array crack_inputs{Key{"film_in_service"}, Key{"highest_temperature"},
                                  Key{"coating_system"}};
constexpr std::array crack_tables{Key{"coating_rigidity_of"}, Key{"thick_film_limit"},
                                  Key{"cracking_factor"}};
constexpr std::array temperature_inputs{Key{"highest_temperature"}, Key{"lowest_temperature"},
                                        Key{"coating_system"}};
constexpr std::array temperature_tables{Key{"coating_temperature_most"},
                                        Key{"over_temperature_factor"},
                                        Key{"coating_temperature_least"}, Key{"cold_factor"}};
constexpr std::array cycling_inputs{Key{"cycles_per_year"}, Key{"coating_system"}};
constexpr std::array cycling_tables{Key{"coating_rigidity_of"}, Key{"cycling_life_factor"}};
constexpr std::array wet_inputs{Key{"insulation_wet"}};
constexpr std::array wet_tables{Key{"wet_life_factor"}};
constexpr std::array scale_inputs{Key{"base_scale"},
                                  Key{"preparation_life_factor"},
                                  Key{"place_life_factor"},
                                  Key{"application_life_factor"},
                                  Key{"thin_film_life_factor"},
                                  Key{"cracking_life_factor"},
                                  Key{"temperature_life_factor"},
                                  Key{"cycling_life_factor"},
                                  Key{"wet_life_factor"}};
constexpr std::array shape_inputs{Key{"coating_system"}};
constexpr std::array shape_tables{Key{"coating_shape"}, Key{"quality_shape"}};
constexpr std::array broken_inputs{Key{"coating_scale"}, Key{"coating_shape"}, Key{"coating_age"}};
constexpr std::array exposed_life_inputs{
    Key{"coating_scale"},   Key{"coating_shape"},         Key{"coating_age"},
    Key{"time_since_wall"}, Key{"time_since_inspection"}, Key{"coating_findings"},
    Key{"in_service"},      Key{"place_life_factor"},     Key{"application_life_factor"}};
constexpr std::array exposed_life_tables{Key{"earlier_coat"}, Key{"whole_coat_share"},
                                         Key{"sound_rust_grade"}, Key{"coating_failed_rust_grade"}};
constexpr std::array model_tables{Key{"coating_model"}};

constexpr QuantityInfo number(Key key, Key unit, Key symbol, Key equation, Key formula, Key source,
                              Key meaning, std::span<const Key> inputs,
                              std::span<const Key> tables = {}) {
    return number_info(key, unit, symbol, equation, formula, source, meaning, Barrier::coating,
                       inputs, tables);
}

constexpr QuantityInfo factor(Key key, Key symbol, Key formula, Key meaning,
                              std::span<const Key> inputs, std::span<const Key> tables = {}) {
    return number(key, "", symbol, "eq. 33", formula, life_source, meaning, inputs, tables);
}

constexpr auto age_info = number("coating_age", "y", "age_coat", "eq. 5",
                                 "rank date - coating date, or day on which it was renewed",
                                 api_581, "age of the coating", age_inputs, age_tables);
constexpr auto life_info =
    number("coating_life", "y", "C_age", "eq. 5", "by quality of the coating", api_581,
           "expected life of the coating", life_inputs, life_tables);
constexpr auto failed_info = word_info("coating_failed", "yes_no", "failed", "eq. 6",
                                       "rust grade found at or below the failed grade",
                                       api_581_recalled, "an inspection found the coating failed",
                                       Barrier::coating, failed_inputs, failed_tables);
constexpr auto banded_credit_info = number(
    "coating_credit", "y", "Coat_adj", "eq. 6",
    "min(C_age, age_coat) - min(C_age, max(age_coat - age_tke, 0)); 0 when failed; "
    "coats before a recoat likewise",
    api_581_recalled, "time for which the coating is credited", credit_inputs, credit_tables);
constexpr auto banded_exposed_info = number(
    "exposed_time", "y", "age", "eq. 7",
    "wall loss: max(age_tke - Coat_adj, 0); cracking: max(age_crk - Coat_adj, 0)", api_581_recalled,
    "time the steel has corroded since its state was last known", exposed_inputs);

constexpr auto base_info =
    number("base_scale", "y", "eta_0", "eq. 33",
           "by system and driver; by quality where the "
           "system is not known",
           life_source, "Weibull scale before adjustment", base_inputs, base_tables);
constexpr auto preparation_info =
    factor("preparation_life_factor", "k_prep", "by surface preparation",
           "preparation under the coating", preparation_inputs, preparation_tables);
constexpr auto place_info =
    factor("place_life_factor", "k_place", "field when coated well after the start of service",
           "shop or field", place_inputs, place_tables);
constexpr auto application_info =
    factor("application_life_factor", "k_app", "too cold to cure; too near the dew point",
           "weather of the month of application", application_inputs, application_tables);
constexpr auto film_info = number(
    "film_in_service", "um", "f", "eq. 33", "applied film - erosion in the yard", life_source,
    "film that went under the insulation; -1 where not known", film_inputs, film_tables);
constexpr auto thin_info = factor("thin_film_life_factor", "k_thin", "by film / least film",
                                  "film too thin", thin_inputs, thin_tables);
constexpr auto crack_info = factor("cracking_life_factor", "k_crack",
                                   "film above the limit of its rigidity, by temperature",
                                   "thick film cracks when hot", crack_inputs, crack_tables);
constexpr auto temperature_info =
    factor("temperature_life_factor", "k_T", "by excess over the limit; below the least",
           "temperature outside the system's range", temperature_inputs, temperature_tables);
constexpr auto cycling_info = factor("cycling_life_factor", "k_cyc", "by cycles a year",
                                     "thermal cycling", cycling_inputs, cycling_tables);
constexpr auto wet_info =
    factor("wet_life_factor", "k_wet", "by whether the insulation was last found wet",
           "insulation found wet", wet_inputs, wet_tables);
constexpr auto scale_info =
    number("coating_scale", "y", "eta", "eq. 33",
           "eta = eta_0 k_prep k_place k_app k_thin k_crack k_T k_cyc k_wet", life_source,
           "Weibull scale of the time to breakdown", scale_inputs);
constexpr auto shape_info =
    number("coating_shape", "", "beta_c", "eq. 34", "by system", life_source,
           "Weibull shape of the time to breakdown", shape_inputs, shape_tables);
constexpr auto broken_info = number(
    "coating_broken", "", "F", "eq. 34", "F = 1 - exp(-(age_coat/eta)^beta_c)", life_source,
    "probability that the coating has broken down, before inspections are heeded", broken_inputs);
constexpr auto life_credit_info =
    number("coating_credit", "y", "Coat_adj", "eq. 36",
           "wall loss: max(age_tke - age, 0); cracking: max(age_crk - age, 0)", life_source,
           "time for which the coating protected", protected_inputs, model_tables);
constexpr auto life_exposed_info =
    number("exposed_time", "y", "age", "eq. 36",
           "integral of P(broken by t | inspections) since the state was last known", life_source,
           "expected time without protection since the state was last known", exposed_life_inputs,
           exposed_life_tables);

}  // namespace

void CoatingColumns::resize(Eigen::Index rows, bool life_model) {
    for (Numbers* column : {&age_years, &credit_years, &exposed_time_years})
        make_rows(*column, rows);
    make_rows(failed, rows);
    if (!life_model) {
        make_rows(life_years, rows);
        return;
    }
    for (Numbers* column :
         {&base_scale_years, &preparation_factor, &place_factor, &application_factor, &film_um,
          &thin_film_factor, &cracking_factor, &temperature_factor, &cycling_factor, &wet_factor,
          &scale_years, &shape, &broken_probability}) {
        make_rows(*column, rows);
    }
}

std::vector<ColumnView> CoatingColumns::views(bool life_model) const {
    if (!life_model) {
        return {view(age_info, age_years), view(life_info, life_years), view(failed_info, failed),
                view(banded_credit_info, credit_years),
                view(banded_exposed_info, exposed_time_years)};
    }
    return {view(age_info, age_years),
            view(failed_info, failed),
            view(base_info, base_scale_years),
            view(preparation_info, preparation_factor),
            view(place_info, place_factor),
            view(application_info, application_factor),
            view(film_info, film_um),
            view(thin_info, thin_film_factor),
            view(crack_info, cracking_factor),
            view(temperature_info, temperature_factor),
            view(cycling_info, cycling_factor),
            view(wet_info, wet_factor),
            view(scale_info, scale_years),
            view(shape_info, shape),
            view(broken_info, broken_probability),
            view(life_credit_info, credit_years),
            view(life_exposed_info, exposed_time_years)};
}

}  // namespace lagline
