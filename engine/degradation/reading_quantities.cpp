#include <array>

#include "degradation/history.h"
#include "degradation/reading_columns.h"

namespace lagline {
namespace {

using Key = std::string_view;

constexpr Key api_570 = "API 570, determination of corrosion rates";
constexpr Key own = "docs/method.md, section 4";
constexpr Key gumbel = "HSE Research Report 016, section 5.3.3; Kowaka et al. (recalled)";

constexpr std::array wall_inputs{Key{"nominal_wall"}, Key{"in_service"}, Key{"wall_thickness"},
                                 Key{"least_thickness"}, Key{"pit_depth"}};
constexpr std::array wall_tables{Key{"rate_interval_least"}};
constexpr std::array conflict_inputs{Key{"least_thickness"}, Key{"pit_depth"}};
constexpr std::array conflict_tables{Key{"growing_reading"}, Key{"reading_tolerance"}};
constexpr std::array measured_inputs{Key{"long_term_rate"}, Key{"short_term_rate"}};
constexpr std::array measured_tables{Key{"exposed_share_least"}};
constexpr std::array surface_inputs{Key{"coverage"}};
constexpr std::array surface_tables{Key{"pit_depth_scatter"}, Key{"surface_share_least"}};
constexpr std::array accepted_inputs{Key{"technique"}};
constexpr std::array accepted_tables{Key{"measured_rate_accepted"}};

constexpr QuantityInfo rate(Key key, Key symbol, Key equation, Key formula, Key source, Key meaning,
                            std::span<const Key> inputs, std::span<const Key> tables) {
    return number_info(key, "mm/y", symbol, equation, formula, source, meaning, Barrier::damage,
                       inputs, tables);
}

constexpr auto long_info = rate(
    "long_term_rate", "C_LT", "eq. 42", "(first wall - last wall) / years between; 0 where it grew",
    api_570, "long-term corrosion rate; empty without two walls", wall_inputs, wall_tables);
constexpr auto short_info =
    rate("short_term_rate", "C_ST", "eq. 42",
         "(wall before the last - last wall) / years between; 0 where it "
         "grew",
         api_570, "short-term corrosion rate; empty without two walls", wall_inputs, wall_tables);
constexpr auto measured_info = rate(
    "measured_rate", "C_m", "eq. 46", "greater of both losses / time without protection in between",
    own, "rate of unprotected steel that explains the loss found; empty without two walls",
    measured_inputs, measured_tables);
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
    // Until the rows are filled each counts as having a value: the inputs of a ranking are read off
    // such columns.
    rates_known = Codes::Ones(rows);
    make_rows(table_rate_mm_per_year, rows);
    if (measured_rate) {
        make_rows(measured_rate_mm_per_year, rows);
        make_rows(surface_factor, rows);
        make_rows(accepted, rows);
    }
    for (auto* column : {&initial, &previous, &conflict}) {
        column->assign(static_cast<std::size_t>(rows), History::nothing);
    }
}

std::vector<ColumnView> ReadingColumns::views(bool measured_rate) const {
    std::vector<ColumnView> all{view(long_info, long_term_rate_mm_per_year, rates_known),
                                view(short_info, short_term_rate_mm_per_year, rates_known),
                                view(conflict_info, conflicting)};
    if (!measured_rate) return all;
    all.push_back(view(measured_info, measured_rate_mm_per_year, rates_known));
    all.push_back(view(surface_info, surface_factor, rates_known));
    all.push_back(view(accepted_info, accepted));
    all.back().filled = all.front().filled;
    return all;
}

}  // namespace lagline
