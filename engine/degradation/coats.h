#pragma once

#include <cstdint>
#include <optional>

#include "degradation/history.h"
#include "plant/plant.h"

namespace lagline {

/// The coat that was on a segment from the first: that of `coating_date`, or where that day lies
/// after the start of service, the one that stood there until then.
struct FirstCoat {
    Date applied;
    std::optional<Date> recoated;  ///< `coating_date`, where it is that of a later coat
};
[[nodiscard]] FirstCoat first_coat(const Plant& plant, const HistoryRules& rules,
                                   std::uint32_t segment, Date until);

/// A coat over the whole surface.
struct WholeCoat {
    Date applied;
    Date until;           ///< the day of the next one, or the last day looked at
    bool first = true;    ///< no other was there before it
    bool failed = false;  ///< an inspection found it failed
    /// Row of inspections.csv that found it so last, or History::nothing.
    std::int32_t failed_at = History::nothing;
};

/// Goes through the whole coats of a segment up to a day, the oldest first: the first one, that of
/// `coating_date`, and one for each inspection that renewed at least `whole_coat_share`.  What was
/// found on the day of a new coat is told of the one before it.
/// @param seen   findings up to and including this day are heeded
/// @param visit  called with each WholeCoat
template <class Visit>
void for_each_whole_coat(const Plant& plant, const HistoryRules& rules, std::uint32_t segment,
                         Date until, Date seen, Visit visit) {
    using I = InspectionField;
    constexpr double percent = 100.0;
    const FirstCoat start = first_coat(plant, rules, segment, until);
    WholeCoat coat{.applied = start.applied, .until = until};
    std::optional<Date> recoated = start.recoated;
    std::optional<Date> renewed;
    const auto replace = [&](Date day) {
        coat.until = day;
        visit(coat);
        coat = {.applied = day, .until = until, .first = false};
    };
    const auto replace_before = [&](Date day) {
        if (recoated && *recoated < day && (!renewed || *recoated <= *renewed)) {
            replace(*recoated);
            recoated.reset();
        }
        if (renewed && *renewed < day) {
            if (*renewed > coat.applied) replace(*renewed);
            renewed.reset();
        }
        if (recoated && *recoated < day) {
            replace(*recoated);
            recoated.reset();
        }
    };
    for (std::uint32_t i = plant.inspection_begin[segment]; i < plant.inspection_begin[segment + 1];
         ++i) {
        const std::uint32_t row = plant.inspection_order[i];
        const Date day{plant.inspections.days(I::date)[row]};
        if (day > until) break;
        replace_before(day);
        const bool of_this = coat.first ? day >= coat.applied : day > coat.applied;
        if (of_this && day <= seen && plant.inspections.has(I::rust_grade, row) &&
            plant.inspections.numbers(I::rust_grade)[row] <= rules.failed_rust_grade) {
            coat.failed = true;
            coat.failed_at = static_cast<std::int32_t>(row);
        }
        if (plant.inspections.has(I::coating_renewed, row) && day > coat.applied &&
            plant.inspections.numbers(I::coating_renewed)[row] / percent >=
                rules.whole_coat_share) {
            renewed = day;
        }
    }
    replace_before(Date{until.days + 1});
    visit(coat);
}

/// The coat that is on a segment on a day.
[[nodiscard]] WholeCoat present_coat(const Plant& plant, const HistoryRules& rules,
                                     std::uint32_t segment, Date at);

}  // namespace lagline
