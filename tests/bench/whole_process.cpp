// Whole-process figures of `lagline rank`: wall time and peak memory as the operating system counts
// them, both rule sets in alternation, medians and the ratio taken in one run.
//
//   bench_rank [SEGMENTS [RUNS]]        100000 segments, 5 runs unless told otherwise
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

template <class Member>
double median(std::vector<Figures> all, Member member) {
    std::ranges::sort(all, {}, member);
    return all[all.size() / 2].*member;
}

void print(const char* name, const std::vector<Figures>& all) {
    std::printf("%-22s %8.3f s wall %8.3f s cpu %8.1f MB peak\n", name,
                median(all, &Figures::wall_seconds), median(all, &Figures::cpu_seconds),
                median(all, &Figures::peak_mb));
}

}  // namespace

int main(int argc, char** argv) {
    const std::string segments = argc > 1 ? argv[1] : "100000";
    const int runs = argc > 2 ? std::max(1, std::atoi(argv[2])) : 5;
    const auto plant = std::filesystem::temp_directory_path() / ("lagline-bench-" + segments);
    std::filesystem::remove_all(plant);
    run({LAGLINE_PROGRAM, "synthesise", plant.string(), "--segments", segments, "--seed", "1"});
    std::vector<Figures> published;
    std::vector<Figures> extended;
    std::vector<Figures> all_rows;
    for (int i = 0; i <= runs; ++i) {  // the first round warms the caches and does not count
        const auto p =
            run({LAGLINE_PROGRAM, "rank", plant.string(), "--rules", "published", "--top", "20"});
        const auto e =
            run({LAGLINE_PROGRAM, "rank", plant.string(), "--rules", "extended", "--top", "20"});
        const auto c = run(
            {LAGLINE_PROGRAM, "rank", plant.string(), "--rules", "published", "--format", "csv"});
        if (i == 0) continue;
        published.push_back(p);
        extended.push_back(e);
        all_rows.push_back(c);
    }
    std::filesystem::remove_all(plant);
    std::printf("%s segments, medians of %d runs\n", segments.c_str(), runs);
    print("published, top 20", published);
    print("extended, top 20", extended);
    print("published, CSV of all", all_rows);
    std::printf(
        "extended / published   %8.2f wall %10.2f cpu\n",
        median(extended, &Figures::wall_seconds) / median(published, &Figures::wall_seconds),
        median(extended, &Figures::cpu_seconds) / median(published, &Figures::cpu_seconds));
    return 0;
}
