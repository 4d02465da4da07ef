// Futures of a plant and inspection trees of all its segments: seconds and trees a second.  Each
// tree has three reactions in one window: leave, a coat with a Weibull life, a new run.
//
//   bench_trees [SEGMENTS [RUNS]]     20000 segments, 5 runs
#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <vector>

#include "learning/made_backtest.h"
#include "planning/future_loss.h"
#include "support/rules.h"

namespace {

using namespace lagline;

double seconds_of(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double cpu_seconds_of(const auto& work) {
    const std::clock_t start = std::clock();
    work();
    return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

double median(std::vector<double> all) {
    std::ranges::sort(all);
    return all[all.size() / 2];
}

// The values of all trees; the sum of values does not depend on threads or blocks.
std::vector<double> values_of(const Plant& plant, const Futures& ahead, const WorkPlan& plan) {
    Treatment coat;
    coat.coat = Weibull{18.0, 3.0};
    const double window = 2.4;
    const std::array coated{DatedTreatment{coat, window}};
    const std::array replaced{
        DatedTreatment{Treatments::replace_run(8.0, Weibull{18.0, 3.0}), window}};
    const std::array reactions{Reaction{}, Reaction{20'000.0, coated},
                               Reaction{90'000.0, replaced}};
    const std::uint8_t effectiveness = code_of(extended_rules(), "effectiveness", "B");
    std::vector<double> values(ahead.rows());
    for_each_block(ahead.rows(), plan, [&](std::size_t, RowRange rows) {
        FutureLoss loss{plant, extended_rules(), ahead};
        for (std::size_t row = rows.begin; row < rows.end; ++row) {
            values[row] = loss.inspect(row, effectiveness, window, reactions).value;
        }
    });
    return values;
}

}  // namespace

int main(int argc, char** argv) {
    const std::size_t segments = argc > 1 ? std::strtoul(argv[1], nullptr, 10) : 20'000;
    const int runs = argc > 2 ? std::max(1, std::atoi(argv[2])) : 5;
    const Plant plant =
        read_at(sources_of(synthesise({.segments = segments, .inspections = 0, .seed = 1})),
                extended_rules(), make_date(2027, 4, 5));
    const Ranking ranking = rank(plant, extended_rules());
    Futures ahead;
    std::vector<double> futures_s;
    std::vector<double> cpu_s;
    std::vector<double> all_threads_s;
    std::vector<double> expected;
    for (int i = 0; i < runs; ++i) {
        futures_s.push_back(seconds_of([&] { ahead = futures(plant, extended_rules(), ranking); }));
        cpu_s.push_back(
            cpu_seconds_of([&] { expected = values_of(plant, ahead, {.threads = 1}); }));
        std::vector<double> values;
        all_threads_s.push_back(
            seconds_of([&] { values = values_of(plant, ahead, {.block_rows = 333}); }));
        if (values != expected) {
            std::fprintf(stderr, "values depend on threads or blocks\n");
            return 1;
        }
    }
    const auto trees = static_cast<double>(ahead.rows());
    std::printf("%zu segments x %zu dates: futures %.3f s\n", ahead.rows(), ahead.dates.size(),
                median(futures_s));
    std::printf(
        "trees of 3 reactions: %.0f a second of processor time, %.0f a second on all threads\n",
        trees / median(cpu_s), trees / median(all_threads_s));
    return 0;
}
