// How soon Lagline's orders meet the findings of invented plants, against the two naive ones, over
// many seeds.  The findings come from a hidden history that is not the model Lagline fits
// (engine/synthesis/hidden_wall.h).
//
//   bench_backtest [SEEDS [SEGMENTS [RULES]]]     20 seeds, 600 segments, extended
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "learning/made_backtest.h"

namespace {

using namespace lagline;

struct Difference {
    std::vector<double> values;
    [[nodiscard]] double mean() const {
        double sum = 0.0;
        for (const double each : values) sum += each;
        return sum / static_cast<double>(values.size());
    }
    [[nodiscard]] double error() const {
        double sum = 0.0;
        for (const double each : values) sum += (each - mean()) * (each - mean());
        const auto n = static_cast<double>(values.size());
        return std::sqrt(sum / (n - 1.0) / n);
    }
    [[nodiscard]] int wins() const {
        int count = 0;
        for (const double each : values) count += each > 0.0 ? 1 : 0;
        return count;
    }
};

void print_seed(std::uint64_t seed, const Backtest& test) {
    std::printf("%4llu %6zu %5zu", static_cast<unsigned long long>(seed), test.looked, test.found);
    for (const OrderGain& gain : test.gains) std::printf(" %11.3f", gain.area);
    std::printf(" %6.3f  %.4f %.4f\n", test.best_area, test.brier.score, test.brier.uncertainty);
}

void print_differences(const std::vector<Backtest>& tests) {
    for (const OpeningOrder ours : {OpeningOrder::chance, OpeningOrder::leak, OpeningOrder::risk}) {
        for (const OpeningOrder naive : {OpeningOrder::age, OpeningOrder::temperature}) {
            Difference difference;
            for (const Backtest& test : tests) {
                difference.values.push_back(test.gains[static_cast<std::size_t>(ours)].area -
                                            test.gains[static_cast<std::size_t>(naive)].area);
            }
            std::printf("%-11s less %-11s  mean %+.4f  standard error %.4f  ahead on %d of %zu\n",
                        std::string{key_of(ours)}.c_str(), std::string{key_of(naive)}.c_str(),
                        difference.mean(), difference.error(), difference.wins(), tests.size());
        }
    }
}

}  // namespace

int main(int argc, char** argv) {
    const int seeds = argc > 1 ? std::max(2, std::atoi(argv[1])) : 20;
    const auto segments = static_cast<std::size_t>(argc > 2 ? std::atoi(argv[2]) : 600);
    const std::string name = argc > 3 ? argv[3] : "extended";
    std::printf("%zu segments, rules %s; area under the gain curve, 0.5 at random\n", segments,
                name.c_str());
    std::printf("seed looked found");
    for (const OpeningOrder order : opening_orders) {
        std::printf(" %11s", std::string{key_of(order)}.c_str());
    }
    std::printf("   best  Brier  mean's\n");
    std::vector<Backtest> tests;
    for (int seed = 1; seed <= seeds; ++seed) {
        tests.push_back(backtest_of_seed(static_cast<std::uint64_t>(seed), segments, name));
        print_seed(static_cast<std::uint64_t>(seed), tests.back());
    }
    print_differences(tests);
    return 0;
}
