// Whole-process figures of `lagline uncertainty`: wall time and peak memory as the operating system
// counts them.  The time of `lagline rank` beside it is what reading and ranking once take of it.
//
//   bench_uncertainty [SEGMENTS [SAMPLES [RUNS]]]     100000 segments, 256 samples, 3 runs
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "process.h"

namespace {

using lagline::bench::Figures;
using lagline::bench::run;

Figures median_by_wall(std::vector<Figures> all) {
    std::ranges::sort(all, {}, &Figures::wall_seconds);
    return all[all.size() / 2];
}

void print(const char* name, const Figures& figures) {
    std::printf("%-22s %8.3f s wall %8.3f s cpu %8.1f MB peak\n", name, figures.wall_seconds,
                figures.cpu_seconds, figures.peak_mb);
}

}  // namespace

int main(int argc, char** argv) {
    const std::string segments = argc > 1 ? argv[1] : "100000";
    const std::string samples = argc > 2 ? argv[2] : "256";
    const int runs = argc > 3 ? std::max(1, std::atoi(argv[3])) : 3;
    const auto plant =
        std::filesystem::temp_directory_path() / ("lagline-bench-unsure-" + segments);
    std::filesystem::remove_all(plant);
    run({LAGLINE_PROGRAM, "synthesise", plant.string(), "--segments", segments, "--seed", "1"});
    std::vector<Figures> ranked;
    std::vector<Figures> published;
    std::vector<Figures> extended;
    for (int i = 0; i < runs; ++i) {
        ranked.push_back(run({LAGLINE_PROGRAM, "rank", plant.string(), "--top", "20"}));
        for (const std::string rules : {"published", "extended"}) {
            auto& figures = rules == "published" ? published : extended;
            figures.push_back(run({LAGLINE_PROGRAM, "uncertainty", plant.string(), "--rules", rules,
                                   "--samples", samples}));
        }
    }
    std::filesystem::remove_all(plant);
    std::printf("%s segments x %s samples, medians of %d runs\n", segments.c_str(), samples.c_str(),
                runs);
    print("rank, extended", median_by_wall(ranked));
    print("uncertainty, published", median_by_wall(published));
    print("uncertainty, extended", median_by_wall(extended));
    return 0;
}
