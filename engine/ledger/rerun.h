#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "ledger/run_options.h"
#include "ledger/snapshot.h"

namespace lagline {

/// Folders of the files of a run.
inline constexpr std::string_view plant_prefix = "plant/";
inline constexpr std::string_view rules_prefix = "rules/";
inline constexpr std::string_view results_prefix = "results/";
/// Of what a run takes as given because it would not come out the same a second time.
inline constexpr std::string_view given_prefix = "given/";

/// What a run is made from, laid out as the commands want it.
struct RunInputs {
    std::string kind;
    std::filesystem::path plant;  ///< the plant folder
    std::filesystem::path rules;  ///< the folder of the rule sets
    RunOptions options;
    std::vector<StoredFile> given;  ///< files under given/
};

/// What a run gives: files under results/, or why there are none.
struct RunOutcome {
    std::vector<StoredFile> results;
    std::string problem;
};

/// Makes a run of some kind by the functions that the command of that kind calls.
using Rerun = std::function<RunOutcome(const RunInputs&)>;

/// Writes `inputs` (plant/, rules/) into a folder of its own and makes the run there, as
/// options.json and given/ say; all else is left out.  What is thrown on the way is told as a
/// problem.
[[nodiscard]] RunOutcome run_again(const std::string& kind, const std::vector<StoredFile>& inputs,
                                   const Rerun& rerun);

}  // namespace lagline
