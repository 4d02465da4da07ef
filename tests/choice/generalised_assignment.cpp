#include "choice/generalised_assignment.h"

#include "synthesis/dice.h"

namespace choice_test {

using namespace lagline;

std::vector<Assignment> read_assignments(std::istream& in) {
    std::size_t count = 0;
    in >> count;
    std::vector<Assignment> all(count);
    for (Assignment& one : all) {
        in >> one.agents >> one.jobs;
        one.cost.resize(one.agents * one.jobs);
        one.resource.resize(one.agents * one.jobs);
        one.capacity.resize(one.agents);
        for (auto* numbers : {&one.cost, &one.resource, &one.capacity}) {
            for (double& number : *numbers) in >> number;
        }
    }
    if (!in) all.clear();
    return all;
}

Assignment made_assignment(std::size_t agents, std::size_t jobs, std::uint64_t seed) {
    Dice dice(seed, Subject::segment, 1);
    Assignment made;
    made.agents = agents;
    made.jobs = jobs;
    for (std::size_t i = 0; i < agents; ++i) {
        double load = 0.0;
        for (std::size_t j = 0; j < jobs; ++j) {
            made.cost.push_back(dice.whole(10, 50));
            made.resource.push_back(dice.whole(5, 25));
            load += made.resource.back();
        }
        made.capacity.push_back(0.8 * load / static_cast<double>(agents));
    }
    return made;
}

ChoiceProblem problem_of(const Assignment& assignment, double sign) {
    ChoiceProblem problem;
    for (const double capacity : assignment.capacity) problem.add_resource(capacity);
    for (std::size_t j = 0; j < assignment.jobs; ++j) {
        problem.add_unit();
        for (std::size_t i = 0; i < assignment.agents; ++i) {
            const std::size_t at = i * assignment.jobs + j;
            problem.add_strategy({sign * assignment.cost[at],
                                  0,
                                  {{static_cast<ResourceIndex>(i), assignment.resource[at]}},
                                  {}});
        }
    }
    return problem;
}

}  // namespace choice_test
