// Whole-process figures of `lagline rank`: wall time and peak memory as the operating system counts
// them, both rule sets in alternation, medians and the ratio taken in one run.
//
//   bench_rank [SEGMENTS [RUNS]]        100000 segments, 5 runs unless told otherwise
#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

namespace {

struct Figures {
    double wall_seconds = 0.0;
    double cpu_seconds = 0.0;
    double peak_mb = 0.0;
};

Figures run(const std::vector<std::string>& arguments) {
    std::vector<char*> argv;
    for (const std::string& argument : arguments)
        argv.push_back(const_cast<char*>(argument.c_str()));
    argv.push_back(nullptr);
    const auto start = std::chrono::steady_clock::now();
    const pid_t child = ::fork();
    if (child == 0) {
        const int nowhere = ::open("/dev/null", O_WRONLY);
        ::dup2(nowhere, STDOUT_FILENO);
        ::execv(argv.front(), argv.data());
        ::_exit(127);
    }
    int status = 0;
    struct rusage usage {};
    ::wait4(child, &status, 0, &usage);
    const std::chrono::duration<double> wall = std::chrono::steady_clock::now() - start;
    if (!WIFEXITED(status) || WEXITSTATUS(status) != 0) {
        std::fprintf(stderr, "the program failed\n");
        std::exit(1);
    }
    const auto seconds = [](const timeval& time) {
        return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
    };
    return {wall.count(), seconds(usage.ru_utime) + seconds(usage.ru_stime),
            static_cast<double>(usage.ru_maxrss) / 1024.0};
}

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
