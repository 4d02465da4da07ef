#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "planning/plan.h"
#include "quantity/date.h"

namespace lagline {

/// A course of the plant's risk under a plan or a naive order, beside that of doing nothing.
struct PlannedCourse {
    std::string name;                   ///< "with the plan", "oldest first"
    std::string meaning;                ///< how it was made, one sentence
    bool is_plan = false;               ///< the plan itself; else an order to compare it with
    std::vector<double> risk_per_year;  ///< at each date of the forecast, plant currency a year
};

/// What a plan spends in one window.
struct PlannedWindow {
    std::string name;
    Date start;
    Date end;
    double spend = 0.0;            ///< plant currency
    std::optional<double> budget;  ///< plant currency
};

/// One action of a plan.
struct PlannedAction {
    std::string window;
    std::string access_group;  ///< empty without one
    std::string segment;
    std::string action;
    double cost = 0.0;        ///< plant currency
    bool compulsory = false;  ///< a criterion would be reached before the next chance
    std::string reason;
};

/// What is left of the risk when so much is spent.
struct PlannedBudget {
    double budget = 0.0;  ///< plant currency
    double loss = 0.0;    ///< expected loss over the horizon, plant currency
};

/// A plan as the report page shows it.  The page knows nothing of how
/// plans are made.
struct ReportPlan {
    std::string summary;  ///< one sentence: what was asked, how close to the best it is
    std::vector<PlannedCourse> courses;
    std::vector<PlannedWindow> windows;    ///< in order of time
    std::vector<PlannedAction> actions;    ///< by window, then access group
    std::vector<PlannedBudget> by_budget;  ///< ascending budget; may be empty
    std::vector<std::string> notes;        ///< what the plan leaves open
};

/// The plan as the page shows it.
/// @param ranking  that the plan was made from
[[nodiscard]] ReportPlan report_plan(const Plant& plant, const RuleSet& rules,
                                     const Ranking& ranking, const Plan& plan,
                                     const WorkPlan& work = {});

}  // namespace lagline
