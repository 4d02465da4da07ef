#pragma once

#include "cli/planning.h"
#include "cli/stored_runs.h"

namespace lagline::cli {

/// Makes a stored plan again.  One whose search ended by proof is searched for anew, however long
/// that takes; of one whose search ran out of time the choice is taken as given, and all else is
/// worked out anew.
[[nodiscard]] RunOutcome plan_stored(const RunInputs& inputs);

/// A plan as a run of the ledger: files of the plant, rules, options, results without the curve of
/// budgets.  It has been made a second time from these files alone, to the same bytes; where its
/// search does not come out the same, the choice that it found goes with it.
/// @param ranking  with its outlook for every rank
/// @pre the plan has a choice
/// @throws std::runtime_error  when the second time came out otherwise
[[nodiscard]] NewRun plan_as_run(const Opened& opened, const PlantOptions& options,
                                 const PlanRequest& request, const Ranking& ranking,
                                 const Plan& plan);

}  // namespace lagline::cli
