// Time and proven gap of the three ways to solve a plan, on the same made instances in one run.
// The machine may be shared, so CPU seconds stand beside wall seconds; ratios are of CPU seconds.
//
//   bench_plan [GAP [SECONDS [SEGMENTS...]]]
//                0.001, 120 wall seconds for each of the other two, 500 5000 20000 segments
#include <sys/resource.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <memory>
#include <string>
#include <vector>

#include "choice/choice_check.h"
#include "choice/choice_solver.h"
#include "choice/plan_instance.h"
#include "choice/problem_text.h"

using namespace lagline;
using namespace choice_test;

namespace {

struct Figures {
    double wall_s = 0.0;
    double cpu_s = 0.0;
    double objective = 0.0;
    double bound = 0.0;
};

double cpu_seconds() {
    struct rusage usage {};
    ::getrusage(RUSAGE_SELF, &usage);
    const auto seconds = [](const timeval& time) {
        return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
    };
    return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

template <class Solver>
Figures timed(const ChoiceProblem& problem, double gap, double limit_s, Solver solver) {
    SolveOptions options;
    options.gap = gap;
    options.time_limit_s = limit_s;
    const double cpu = cpu_seconds();
    const auto start = std::chrono::steady_clock::now();
    const Solution found = solver(problem, options);
    const std::chrono::duration<double> wall = std::chrono::steady_clock::now() - start;
    const double spent = cpu_seconds() - cpu;
    const ChoiceCheck check = check_choice(problem, found.choice);
    const bool honest = found.choice.empty() || check.objective() == found.objective;
    if (!honest || found.bound > found.objective) {
        std::fprintf(stderr, "the answer does not pass its check\n");
        std::exit(1);
    }
    return {wall.count(), spent, found.objective, found.bound};
}

Figures second_solver(const ChoiceProblem& problem, double gap, double limit_s) {
    const auto file = std::filesystem::temp_directory_path() / "lagline-bench-plan.txt";
    {
        std::ofstream out(file);
        write_problem(out, problem);
    }
    const std::string command = std::string(LAGLINE_PYTHON3) + " " + LAGLINE_SECOND_SOLVER +
                                " --solve " + file.string() + " --gap " + std::to_string(gap) +
                                " --seconds " + std::to_string(limit_s);
    std::FILE* pipe = ::popen(command.c_str(), "r");
    std::string text(400, '\0');
    if (pipe != nullptr) {
        text.resize(std::fread(text.data(), 1, text.size(), pipe));
        ::pclose(pipe);
    }
    std::filesystem::remove(file);
    Figures out;
    if (std::sscanf(text.c_str(), "%lf %lf %lf %lf", &out.objective, &out.bound, &out.wall_s,
                    &out.cpu_s) != 4) {
        out.objective = std::nan("");
    }
    return out;
}

void print(const char* name, const Figures& figures, const Figures& ours) {
    std::printf("  %-22s %8.2f s wall %8.2f s CPU   objective %.7g   gap %8.4f %%   x %.1f\n", name,
                figures.wall_s, figures.cpu_s, figures.objective,
                100.0 * gap_of(figures.objective, figures.bound), figures.cpu_s / ours.cpu_s);
    std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
    const double gap = argc > 1 ? std::atof(argv[1]) : 1e-3;
    const double limit_s = argc > 2 ? std::atof(argv[2]) : 120.0;
    std::vector<std::size_t> sizes = {500, 5000, 20000};
    if (argc > 3) sizes.clear();
    for (int i = 3; i < argc; ++i) sizes.push_back(static_cast<std::size_t>(std::atol(argv[i])));
    for (const std::size_t segments : sizes) {
        PlanRecipe recipe;
        recipe.segments = segments;
        const ChoiceProblem problem = plan_instance(recipe);
        std::printf("%zu segments, %zu strategies, gap asked %g %%\n", segments,
                    problem.strategy_count(), 100.0 * gap);
        const Figures ours = timed(problem, gap, 600.0, solve_by_prices);
        print("prices by group", ours, ours);
        if (limit_s <= 0.0) continue;
        print("HiGHS in SciPy, whole", second_solver(problem, gap, limit_s), ours);
        print("CBC, whole", timed(problem, gap, limit_s, solve_whole), ours);
    }
    return 0;
}
