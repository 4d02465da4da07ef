#include "blocks/number_text.h"
#include "report/backtest_text.h"

namespace lagline {
namespace {

std::string dates_note(const Backtest& test) {
    if (test.dates_given) {
        return test.overlap ? "The dates were given. Their windows overlap, so that a finding may "
                              "count more than once."
                            : "The dates were given.";
    }
    return "The dates were chosen as starts of years: the latest whose window of " +
           counted(static_cast<std::size_t>(test.within_years), "year") +
           " is over by the last inspection on record (" + to_string(test.records_end) +
           "), then backwards without overlap while at least " + std::to_string(fewest_looked) +
           " segments were looked at in the window, at most " + std::to_string(most_dates) +
           ". What was found has no part in the choice.";
}

std::string finding_note(const Backtest& test, const RuleSet& rules) {
    if (test.cracking) {
        return "A finding is an inspection that found cracks. Only the first inspection in the "
               "window whose effectiveness is accepted and that says whether there were cracks "
               "counts. The method states no chance of cracks, so there is no calibration.";
    }
    const double share = rules.value("significant_wall_loss").value();
    return "A finding is a wall that has lost " + short_number(100.0 * share, 3) +
           " % of the nominal wall or is at or below the minimum thickness (table "
           "significant_wall_loss). Only the first inspection in the window whose effectiveness is "
           "accepted and that read a wall counts.";
}

std::string known_note(const Backtest& test) {
    std::size_t coatings = 0;
    std::size_t insulation = 0;
    std::size_t later = 0;
    for (const PastDate& date : test.dates) {
        coatings += date.coatings_later;
        insulation += date.insulation_later;
        later += date.not_in_service;
    }
    return "What came after a date was left out: inspections, overrides, " +
           counted(later, "segment") + " not yet in service, the coating of " +
           counted(coatings, "segment") + " and the insulation of " +
           counted(insulation, "segment") +
           " that are of a later day (summed over the dates). What they replaced is not on record, "
           "so the defaults stood in for it. Columns without a day, such as the condition of the "
           "insulation, are taken as they stand today: where they were surveyed since, the past "
           "knew less than this.";
}

}  // namespace

std::vector<std::string> backtest_notes(const Backtest& test, const RuleSet& rules) {
    std::size_t ranked = 0;
    for (const PastDate& date : test.dates) ranked += date.ranked;
    std::vector<std::string> notes{dates_note(test), finding_note(test, rules)};
    notes.push_back(std::to_string(test.looked) + " of " + std::to_string(ranked) +
                    " ranked segments were looked at. They were chosen by people and not at "
                    "random, so the shares here are not those of the plant, and an order can only "
                    "be judged among them.");
    if (test.found < 10) {
        notes.push_back("There are only " + counted(test.found, "finding") +
                        ": differences between the orders mean little.");
    }
    notes.push_back(known_note(test));
    if (test.undated_changes > 0) {
        notes.push_back(counted(test.undated_changes, "change") +
                        " of the rules by the site have no day and are used as they stand today; "
                        "if they were made from these findings, they flatter the result. Site "
                        "factors with `learned` are left out before that day.");
    }
    for (const PastDate& date : test.dates) {
        if (!date.refusal.empty()) {
            notes.push_back("By the records of " + to_string(date.at) +
                            " the plant cannot be ranked: " + date.refusal + ".");
        }
        if (!date.window_open) continue;
        notes.push_back("The window of " + to_string(date.at) +
                        " is not over: the last inspection on record is of " +
                        to_string(test.records_end) + ".");
    }
    notes.emplace_back(
        "Area: 0.5 for opening at random, best possible when all findings come first; "
        "equal scores count as opened in random order. +/-: standard error.");
    return notes;
}

}  // namespace lagline
