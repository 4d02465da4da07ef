#include <cmath>
#include <limits>

#include "planning/recoat.h"

namespace lagline {

double life_cycle_factor(const MaintenanceSequence& sequence, const LifeCycleTerms& terms,
                         double practical_life_years) {
    if (!(practical_life_years > 0.0)) return std::numeric_limits<double>::infinity();
    const double round_years = sequence.steps.back().at_lives * practical_life_years;
    double factor = 1.0;
    for (int round = 0; round * round_years < terms.horizon_years; ++round) {
        const double start = round * round_years;
        for (const MaintenanceSequence::Step& step : sequence.steps) {
            const double at_years = start + step.at_lives * practical_life_years;
            if (at_years >= terms.horizon_years) continue;
            factor += step.cost_share * std::pow(1.0 + terms.discount_per_year, -at_years);
        }
        if (!(round_years > 0.0)) break;
    }
    return factor;  // eq. 5
}

std::uint16_t months_between(Date from, Date to) {
    const int first = year_of(from) * 12 + static_cast<int>(month_of(from)) - 1;
    const int last = year_of(to) * 12 + static_cast<int>(month_of(to)) - 1;
    if (last - first >= 11) return every_month;
    std::uint16_t months = 0;
    for (int month = first; month <= last; ++month) {
        months |= static_cast<std::uint16_t>(1U << static_cast<unsigned>(month % 12));
    }
    return months;
}

}  // namespace lagline
