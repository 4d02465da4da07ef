#include "machine_limits.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

#include "kernel_sample.h"

namespace lagline::bench {
namespace {

// Repeats `work` until some 20 ms have passed, a few times over: the least time of one.  Processor
// time, so that other work on the machine does not count.
double best_seconds(const auto& work) {
    double best = std::numeric_limits<double>::infinity();
    for (int attempt = 0; attempt < 9; ++attempt) {
        const ProcessorTime taken;
        double times = 0.0;
        while (taken.seconds() < 0.02) {
            work();
            times += 1.0;
        }
        best = std::min(best, taken.seconds() / times);
    }
    return best;
}

double measured_erfc_seconds() {
    const Numbers arguments = erfc_arguments(1024);
    Numbers values(arguments.size());
    const double seconds = best_seconds([&] {
        for (Eigen::Index i = 0; i < values.size(); ++i) values[i] = std::erfc(arguments[i]);
        benchmark::DoNotOptimize(values.data());
        benchmark::ClobberMemory();
    });
    return seconds / static_cast<double>(arguments.size());
}

}  // namespace

Triad::Triad(std::size_t rows)
    : a(Numbers::Zero(static_cast<Eigen::Index>(rows))),
      b(Numbers::Ones(static_cast<Eigen::Index>(rows))),
      c(Numbers::Ones(static_cast<Eigen::Index>(rows))) {}

Numbers erfc_arguments(std::size_t rows) {
    const auto& index = sample().ranking.likelihood.reliability_index;
    Numbers arguments(static_cast<Eigen::Index>(rows));
    for (Eigen::Index i = 0; i < arguments.size(); ++i) {
        const auto wall_rows = static_cast<Eigen::Index>(sample().wall_rows);
        arguments[i] = index[static_cast<std::size_t>(i % 3)][(i / 3) % wall_rows];
    }
    return arguments / std::numbers::sqrt2;
}

double triad_bytes_per_second(std::size_t rows) {
    static std::map<std::size_t, double> known;
    if (const auto found = known.find(rows); found != known.end()) return found->second;
    Triad triad{rows};
    const double seconds = best_seconds([&] {
        triad.run();
        benchmark::DoNotOptimize(triad.a.data());
        benchmark::ClobberMemory();
    });
    return known[rows] = static_cast<double>(rows * Triad::bytes_per_row) / seconds;
}

double erfc_seconds() {
    static const double seconds = measured_erfc_seconds();
    return seconds;
}

}  // namespace lagline::bench
