#include "cli/stored_plans.h"

#include <algorithm>
#include <charconv>
#include <stdexcept>

#include "blocks/number_text.h"
#include "report/found_choice_csv.h"
#include "report/plan_data.h"

namespace lagline::cli {
namespace {

constexpr const char* search_path = "given/search.csv";
constexpr std::string_view budget_option = "budget ";
// A search that ended by proof ends before this, or the machine is no match for the plan.
constexpr double no_hurry_s = 86400.0;

std::vector<StoredFile> plan_results(const Opened& opened, const PlantOptions& options,
                                     const Ranking& ranking, Plan plan) {
    plan.sweep.clear();
    auto results = rank_results(opened, options, ranking);
    results.push_back({"results/plan.csv", plan_csv(*opened.plant, *opened.rules, plan)});
    results.push_back({"results/plan.json", plan_json(*opened.plant, *opened.rules, plan)});
    return results;
}

double number_of(const std::string& text) {
    double number = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc{} || end != text.data() + text.size()) {
        throw std::runtime_error("an option of the run is no number: " + text);
    }
    return number;
}

RunOptions told(const PlanRequest& request) {
    RunOptions options{{"gap", exact_number(request.gap)},
                       {"seconds", exact_number(request.seconds)}};
    for (const std::string& budget : request.budgets) {
        const auto equals = budget.rfind('=');
        options[std::string{budget_option} + budget.substr(0, equals)] = budget.substr(equals + 1);
    }
    return options;
}

PlanRequest request_of(const RunInputs& inputs) {
    PlanRequest request;
    request.gap = number_of(option(inputs.options, "gap"));
    request.seconds = no_hurry_s;
    request.curve = false;
    for (const auto& [name, value] : inputs.options) {
        if (!name.starts_with(budget_option)) continue;
        request.budgets.push_back(name.substr(budget_option.size()) + "=" + value);
    }
    const auto search = std::ranges::find(inputs.given, search_path, &StoredFile::path);
    if (search != inputs.given.end()) request.found = read_found_choice(search->bytes);
    return request;
}

}  // namespace

RunOutcome plan_stored(const RunInputs& inputs) {
    const StoredPlant stored = open_stored(inputs);
    if (!stored.problem.empty()) return {{}, stored.problem};
    const Ranking ranking = rank_with_outlook(stored.opened, stored.options, 0);
    auto plan = plan_opened(stored.opened, ranking, stored.options, request_of(inputs));
    if (!plan) return {{}, "there is no window to plan for"};
    return {plan_results(stored.opened, stored.options, ranking, std::move(*plan)), {}};
}

NewRun plan_as_run(const Opened& opened, const PlantOptions& options, const PlanRequest& request,
                   const Ranking& ranking, const Plan& plan) {
    NewRun run = inputs_as_run(plan_kind, opened, options, told(request));
    auto results = plan_results(opened, options, ranking, plan);
    if (ended_by_proof(plan.solution, request.gap) && make_twice(run, results).same) {
        std::ranges::move(results, std::back_inserter(run.files));
        return run;
    }
    run.files.push_back({search_path, found_choice_csv(*opened.plant, *opened.rules, plan)});
    // The search's word on itself is "stopped": told of what is stored, too.
    Plan as_given = plan;
    if (as_given.solution.status == SolveStatus::proven) {
        as_given.solution.status = SolveStatus::stopped;
    }
    return with_results(std::move(run), plan_results(opened, options, ranking, as_given),
                        options.folder);
}

}  // namespace lagline::cli
