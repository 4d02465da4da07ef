#include <array>

#include "degradation/history.h"
#include "degradation/reading_columns.h"

namespace lagline {
namespace {

using Key = std::string_view;

constexpr Key api_570 = "API 570, determination of corrosion rates";
constexpr Key own = "docs/method.md, section 4";
constexpr Key gumbel = "HSE Research Report 016, section 5.3.3; Kowaka et al. (recalled)";

constexpr std::array wall_inputs{
    Key{"nominal_wall"},           Key{"in_service"},       Key{"wall_thickness"},
    Key{"time_since_wall"},        Key{"readings"},         Key{"table_rate"},
    Key{"coating_scale"},          Key{"coating_shape"},    Key{"coating_life"},
    Key{"coating_date"},           Key{"coating_findings"}, Key{"place_life_factor"},
    Key{"application_life_factor"}};
constexpr std::array wall_by_table_inputs{
    Key{"nominal_wall"},           Key{"in_service"},       Key{"wall_thickness"},
    Key{"time_since_wall"},        Key{"readings"},         Key{"corrosion_rate"},
    Key{"coating_scale"},          Key{"coating_shape"},    Key{"coating_life"},
    Key{"coating_date"},           Key{"coating_findings"}, Key{"place_life_factor"},
    Key{"application_life_factor"}};
constexpr std::array wall_tables{Key{"rate_interval_least"},       Key{"inspection_effectiveness"},
                                 Key{"reading_accepted"},          Key{"reading_tolerance"},
                                 Key{"growing_reading"},           Key{"sound_rust_grade"},
                                 Key{"coating_failed_rust_grade"}, Key{"earlier_coat"},
                                 Key{"whole_coat_share"}};
constexpr std::array conflict_inputs{Key{"least_thickness"}, Key{"pit_depth"}, Key{"nominal_wall"},
                                     Key{"readings"}};
constexpr std::array conflict_tables{Key{"inspection_effectiveness"}, Key{"reading_accepted"},
                                     Key{"reading_tolerance"}};
constexpr std::array measured_inputs{Key{"long_term_rate"},    Key{"short_term_rate"},
                                     Key{"time_since_wall"},   Key{"coating_scale"},
                                     Key{"coating_shape"},     Key{"coating_life"},
                                     Key{"coating_date"},      Key{"coating_findings"},
                                     Key{"place_life_factor"}, Key{"application_life_factor"},
                                     Key{"in_service"},        Key{"nominal_wall"},
                                     Key{"technique"},         Key{"readings"}};
constexpr std::array measured_tables{Key{"exposed_share_least"},       Key{"mill_tolerance"},
                                     Key{"reading_tolerance"},         Key{"sound_rust_grade"},
                                     Key{"coating_failed_rust_grade"}, Key{"earlier_coat"},
                                     Key{"whole_coat_share"}};
constexpr std::array accepted_wall_inputs{Key{"nominal_wall"}, Key{"time_since_wall"},
                                          Key{"readings"}};
constexpr std::array accepted_wall_tables{Key{"inspection_effectiveness"}, Key{"reading_accepted"},
                                          Key{"reading_tolerance"}, Key{"growing_reading"}};
constexpr std::array accepted_time_inputs{Key{"in_service"},        Key{"time_since_wall"},
                                          Key{"readings"},          Key{"coating_scale"},
                                          Key{"coating_shape"},     Key{"coating_life"},
                                          Key{"coating_date"},      Key{"coating_findings"},
                                          Key{"place_life_factor"}, Key{"application_life_factor"}};
constexpr std::array accepted_time_tables{Key{"inspection_effectiveness"},
                                          Key{"reading_accepted"},
                                          Key{"reading_tolerance"},
                                          Key{"growing_reading"},
                                          Key{"sound_rust_grade"},
                                          Key{"coating_failed_rust_grade"},
                                          Key{"earlier_coat"},
                                          Key{"whole_coat_share"}};
constexpr std::array thinnest_inputs{Key{"nominal_wall"}, Key{"in_service"}, Key{"readings"}};
constexpr std::array thinnest_tables{Key{"inspection_effectiveness"}, Key{"reading_accepted"},
                                     Key{"reading_tolerance"}, Key{"growing_reading"}};
constexpr std::array surface_inputs{Key{"coverage"}, Key{"time_since_wall"}, Key{"long_term_rate"}};
constexpr std::array surface_tables{Key{"pit_depth_scatter"}, Key{"surface_share_least"}};
constexpr std::array accepted_inputs{Key{"technique"}, Key{"coverage"}, Key{"time_since_wall"},
                                     Key{"long_term_rate"}, Key{"readings"}};
constexpr std::array accepted_tables{Key{"inspection_effectiveness"},
                                     Key{"measured_rate_accepted"}};

constexpr QuantityInfo rate(Key key, Key symbol, Key equation, Key formula, Key source, Key meaning,
                            std::span<const Key> inputs, std::span<const Key> tables) {
    return number_info(key, "mm/y", symbol, equation, formula, source, meaning, Barrier::damage,
                       inputs, tables);
}

constexpr QuantityInfo long_term(std::span<const Key> inputs) {
    return rate("long_term_rate", "C_LT", "eq. 42",
                "(first wall - last wall) / years between; 0 where it grew", api_570,
                "long-term corrosion rate; empty without two walls", inputs, wall_tables);
}
constexpr QuantityInfo short_term(std::span<const Key> inputs) {
    return rate("short_term_rate", "C_ST", "eq. 42",
                "(wall before the last - last wall) / years between; 0 where it grew", api_570,
                "short-term corrosion rate; empty without two walls", inputs, wall_tables);
}
constexpr auto long_info = long_term(wall_inputs);
constexpr auto short_info = short_term(wall_inputs);
constexpr auto long_by_table_info = long_term(wall_by_table_inputs);
constexpr auto short_by_table_info = short_term(wall_by_table_inputs);
constexpr auto measured_info = rate(
    "measured_rate", "C_m", "eq. 46",
    "greater of both: (loss - what tolerance explains) / time without protection in between", own,
    "least rate of unprotected steel that explains the loss found; empty without two walls",
    measured_inputs, measured_tables);
constexpr auto greatest_info =
    rate("greatest_measured_rate", "C_M", "eq. 46",
         "lesser of both: (loss + what tolerance explains) / time without protection in between",
         own, "greatest rate that the loss found leaves room for; empty without two walls",
         measured_inputs, measured_tables);
constexpr auto accepted_wall_info = number_info(
    "accepted_wall", "mm", "t_acc", "eq. 4a", "last accepted reading, else nominal wall", own,
    "wall by accepted readings alone; empty where they gave the wall last known", Barrier::damage,
    accepted_wall_inputs, accepted_wall_tables);
constexpr auto accepted_time_info =
    number_info("exposed_before_reading", "y", "age_acc", "eq. 4a",
                "time without protection from that wall to the reading that gave t_rde", own,
                "exposed time that such a reading does not take off the rest of the surface",
                Barrier::damage, accepted_time_inputs, accepted_time_tables);
constexpr auto thinnest_info =
    number_info("thinnest_reading", "mm", "t_thin", "eq. 4b",
                "least wall read by any technique since the last accepted reading, itself included",
                own, "thinnest wall that no later accepted reading cleared; empty without readings",
                Barrier::damage, thinnest_inputs, thinnest_tables);
constexpr auto surface_info =
    number_info("surface_factor", "", "F_surf", "eq. 45", "1 + s ln(1 / share seen)", gumbel,
                "greatest loss of the whole surface over that of the share seen", Barrier::damage,
                surface_inputs, surface_tables);
constexpr auto accepted_info = word_info("measured_rate_accepted", "yes_no", "accepted", "eq. 47",
                                         "by effectiveness of the last reading", own,
                                         "the measured rate may stand below the table's",
                                         Barrier::damage, accepted_inputs, accepted_tables);
constexpr auto conflict_info =
    word_info("conflicting_readings", "yes_no", "conflict", "eq. 48",
              "an accepted reading exceeds the wall found before it by more than the tolerance",
              own, "readings contradict each other: the wall seems to have grown", Barrier::damage,
              conflict_inputs, conflict_tables);

}  // namespace

void ReadingColumns::resize(Eigen::Index rows, bool measured_rate) {
    make_rows(long_term_rate_mm_per_year, rows);
    make_rows(short_term_rate_mm_per_year, rows);
    make_rows(conflicting, rows);
    make_rows(thinnest_mm, rows);
    make_rows(accepted_wall_mm, rows);
    make_rows(accepted_exposed_years, rows);
    // Until the rows are filled each counts as having a value: the inputs of a ranking are read off
    // such columns.
    for (Codes* mask : {&rates_known, &read, &at_small_coverage}) *mask = Codes::Ones(rows);
    make_rows(table_rate_mm_per_year, rows);
    if (measured_rate) {
        make_rows(measured_rate_mm_per_year, rows);
        make_rows(greatest_rate_mm_per_year, rows);
        make_rows(surface_factor, rows);
        make_rows(accepted, rows);
    }
    for (auto* column : {&initial, &previous, &conflict, &thinnest}) {
        column->assign(static_cast<std::size_t>(rows), History::nothing);
    }
}

std::vector<ColumnView> ReadingColumns::views(bool measured_rate) const {
    std::vector<ColumnView> all{
        view(measured_rate ? long_info : long_by_table_info, long_term_rate_mm_per_year,
             rates_known),
        view(measured_rate ? short_info : short_by_table_info, short_term_rate_mm_per_year,
             rates_known),
        view(conflict_info, conflicting),
        view(thinnest_info, thinnest_mm, read),
        view(accepted_wall_info, accepted_wall_mm, at_small_coverage),
        view(accepted_time_info, accepted_exposed_years, at_small_coverage)};
    if (!measured_rate) return all;
    all.push_back(view(measured_info, measured_rate_mm_per_year, rates_known));
    all.push_back(view(greatest_info, greatest_rate_mm_per_year, rates_known));
    all.push_back(view(surface_info, surface_factor, rates_known));
    all.push_back(view(accepted_info, accepted));
    all.back().filled = all.front().filled;
    return all;
}

}  // namespace lagline
