#include <array>

#include "degradation/degradation.h"

namespace lagline {
namespace {

using Key = std::string_view;

constexpr Key api_581 = "API RP 581, 3rd edition, Part 2, section 16";
constexpr Key api_581_recalled = "API RP 581, 3rd edition, Part 2, section 16 (recalled)";

// What a quantity is made of, and the tables it reads.
constexpr std::array base_rate_inputs{Key{"metal_temperature"}, Key{"driver"}};
constexpr std::array base_rate_tables{Key{"base_rate"}};
constexpr std::array insulation_inputs{Key{"insulation_type"}};
constexpr std::array insulation_tables{Key{"insulation_factor"}};
constexpr std::array complexity_inputs{Key{"complexity"}};
constexpr std::array complexity_tables{Key{"complexity_factor"}};
constexpr std::array condition_inputs{Key{"insulation_condition"}};
constexpr std::array condition_tables{Key{"condition_factor"}};
constexpr std::array pooling_inputs{Key{"pooling"}};
constexpr std::array pooling_tables{Key{"pooling_factor"}};
constexpr std::array interface_inputs{Key{"ground_or_water_interface"}};
constexpr std::array interface_tables{Key{"interface_factor"}};
constexpr std::array rate_inputs{Key{"base_rate"},         Key{"insulation_factor"},
                                 Key{"complexity_factor"}, Key{"condition_factor"},
                                 Key{"pooling_factor"},    Key{"interface_factor"},
                                 Key{"site_factor"}};
constexpr std::array wall_inputs{Key{"nominal_wall"}, Key{"least_thickness"}, Key{"pit_depth"}};
constexpr std::array wall_tables{Key{"reading_accepted"}};
constexpr std::array since_wall_inputs{Key{"in_service"}, Key{"date"}};
constexpr std::array coating_age_inputs{Key{"coating_date"}};
constexpr std::array coating_life_inputs{Key{"coating_quality"}};
constexpr std::array coating_life_tables{Key{"coating_life"}};
constexpr std::array failed_inputs{Key{"rust_grade"}, Key{"coating_date"}};
constexpr std::array failed_tables{Key{"coating_failed_rust_grade"}};
constexpr std::array credit_inputs{Key{"coating_life"}, Key{"coating_age"}, Key{"time_since_wall"},
                                   Key{"coating_failed"}};
constexpr std::array exposed_inputs{Key{"time_since_wall"}, Key{"coating_credit"}};

constexpr QuantityInfo factor_info(Key key, Key symbol, Key meaning, std::span<const Key> inputs,
                                   std::span<const Key> tables) {
    return {.key = key,
            .unit = "",
            .words = "",
            .symbol = symbol,
            .equation = "eq. 3",
            .formula = "factor by table",
            .source = api_581_recalled,
            .meaning = meaning,
            .inputs = inputs,
            .tables = tables};
}

constexpr QuantityInfo base_rate_info{
    .key = "base_rate",
    .unit = "mm/y",
    .words = "",
    .symbol = "C_rB",
    .equation = "eq. 2",
    .formula = "straight line between the printed temperatures",
    .source = "API RP 581, 3rd edition, Part 2, Table 16.2",
    .meaning = "corrosion rate by temperature and driver before adjustment",
    .inputs = base_rate_inputs,
    .tables = base_rate_tables};
constexpr auto insulation_info = factor_info("insulation_factor", "F_INS", "insulation material",
                                             insulation_inputs, insulation_tables);
constexpr auto complexity_info =
    factor_info("complexity_factor", "F_CM", "penetrations, branches and supports",
                complexity_inputs, complexity_tables);
constexpr auto condition_info =
    factor_info("condition_factor", "F_IC", "condition of insulation and jacket", condition_inputs,
                condition_tables);
constexpr auto pooling_info = factor_info("pooling_factor", "F_EQ", "water pools on the metal",
                                          pooling_inputs, pooling_tables);
constexpr auto interface_info = factor_info("interface_factor", "F_IF", "soil or water interface",
                                            interface_inputs, interface_tables);
constexpr QuantityInfo site_info{.key = "site_factor",
                                 .unit = "",
                                 .words = "",
                                 .symbol = "F_site",
                                 .equation = "eq. 3",
                                 .formula = "product of the site's own factors; 1 when it has none",
                                 .source = "site overlay",
                                 .meaning = "factors of the site's own",
                                 .inputs = {},
                                 .tables = {}};
constexpr QuantityInfo rate_info{
    .key = "corrosion_rate",
    .unit = "mm/y",
    .words = "",
    .symbol = "C_r",
    .equation = "eq. 3",
    .formula = "C_r = C_rB F_INS F_CM F_IC max(F_EQ, F_IF) F_site",
    .source = api_581,
    .meaning = "corrosion rate of unprotected steel under this insulation",
    .inputs = rate_inputs,
    .tables = {}};
constexpr QuantityInfo wall_info{.key = "wall_thickness",
                                 .unit = "mm",
                                 .words = "",
                                 .symbol = "t_rde",
                                 .equation = "eq. 4",
                                 .formula = "last reading that counts, else nominal wall",
                                 .source = api_581,
                                 .meaning = "wall when it was last known",
                                 .inputs = wall_inputs,
                                 .tables = wall_tables};
constexpr QuantityInfo since_wall_info{
    .key = "time_since_wall",
    .unit = "y",
    .words = "",
    .symbol = "age_tke",
    .equation = "eq. 4",
    .formula = "rank date - day of the reading, else - day in service",
    .source = api_581_recalled,
    .meaning = "time since the wall was last known",
    .inputs = since_wall_inputs,
    .tables = {}};
constexpr QuantityInfo coating_age_info{.key = "coating_age",
                                        .unit = "y",
                                        .words = "",
                                        .symbol = "age_coat",
                                        .equation = "eq. 5",
                                        .formula = "rank date - coating date",
                                        .source = api_581,
                                        .meaning = "age of the coating",
                                        .inputs = coating_age_inputs,
                                        .tables = {}};
constexpr QuantityInfo coating_life_info{.key = "coating_life",
                                         .unit = "y",
                                         .words = "",
                                         .symbol = "C_age",
                                         .equation = "eq. 5",
                                         .formula = "by quality of the coating",
                                         .source = api_581,
                                         .meaning = "expected life of the coating",
                                         .inputs = coating_life_inputs,
                                         .tables = coating_life_tables};
constexpr QuantityInfo failed_info{.key = "coating_failed",
                                   .unit = "",
                                   .words = "yes_no",
                                   .symbol = "failed",
                                   .equation = "eq. 6",
                                   .formula = "rust grade found at or below the failed grade",
                                   .source = api_581_recalled,
                                   .meaning = "an inspection found the coating failed",
                                   .inputs = failed_inputs,
                                   .tables = failed_tables};
constexpr QuantityInfo credit_info{
    .key = "coating_credit",
    .unit = "y",
    .words = "",
    .symbol = "Coat_adj",
    .equation = "eq. 6",
    .formula = "min(C_age, age_coat) - min(C_age, max(age_coat - age_tke, 0)); 0 when failed",
    .source = api_581_recalled,
    .meaning = "time for which the coating is credited",
    .inputs = credit_inputs,
    .tables = {}};
constexpr QuantityInfo exposed_info{
    .key = "exposed_time",
    .unit = "y",
    .words = "",
    .symbol = "age",
    .equation = "eq. 7",
    .formula = "age = max(age_tke - Coat_adj, 0)",
    .source = api_581_recalled,
    .meaning = "time the steel has corroded since the wall was last known",
    .inputs = exposed_inputs,
    .tables = {}};
constexpr QuantityInfo outside_info{
    .key = "outside_range",
    .unit = "",
    .words = "yes_no",
    .symbol = "outside",
    .equation = "section 9",
    .formula = "a table was used outside its validity",
    .source = "rule set, `valid` and `outside`",
    .meaning = "metal temperature outside the range of the base rate",
    .inputs = base_rate_inputs,
    .tables = base_rate_tables};

}  // namespace

void DegradationColumns::resize(Eigen::Index rows) {
    for (Numbers* column :
         {&base_rate_mm_per_year, &insulation_factor, &complexity_factor, &condition_factor,
          &pooling_factor, &interface_factor, &site_factor, &corrosion_rate_mm_per_year,
          &wall_thickness_mm, &time_since_wall_years, &coating_age_years, &coating_life_years,
          &coating_credit_years, &exposed_time_years}) {
        column->resize(rows);
    }
    coating_failed.resize(rows);
    outside_range.resize(rows);
    reading_assumed.resize(rows);
}

std::vector<ColumnView> DegradationColumns::views() const {
    return {view(base_rate_info, base_rate_mm_per_year),
            view(insulation_info, insulation_factor),
            view(complexity_info, complexity_factor),
            view(condition_info, condition_factor),
            view(pooling_info, pooling_factor),
            view(interface_info, interface_factor),
            view(site_info, site_factor),
            view(rate_info, corrosion_rate_mm_per_year),
            view(coating_age_info, coating_age_years),
            view(coating_life_info, coating_life_years),
            view(failed_info, coating_failed),
            view(wall_info, wall_thickness_mm),
            view(since_wall_info, time_since_wall_years),
            view(credit_info, coating_credit_years),
            view(exposed_info, exposed_time_years),
            view(outside_info, outside_range)};
}

}  // namespace lagline
