// The kernels of the method one by one on blocks of 1024 rows and on columns of 1 000 000, the
// scoring of a plant in memory, and what this machine can do at best.
//
//   bench_kernels [--benchmark_filter=REGEX ...]
//
// `ns/segment` is processor time, of all threads; `bytes/segment` what a kernel reads and writes;
// `limit%` the share of its time that could not be saved here, since the triad takes that long for
// as many bytes in columns of the same length, or the C library for as many erfc().  A kernel whose
// results are not those of the sample's ranking is not timed.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <string>

#include "blocks/number_text.h"
#include "degradation/coating.h"
#include "degradation/wall_loss.h"
#include "kernel_sample.h"
#include "likelihood/damage_factor.h"
#include "likelihood/likelihood.h"
#include "likelihood/normal.h"
#include "likelihood/strength.h"
#include "likelihood/updating.h"
#include "likelihood/wall_left.h"
#include "machine_limits.h"
#include "quantity/date.h"
#include "quantity/pipe_size.h"
#include "quantity/unit.h"
#include "ranking/risk_order.h"
#include "support/rules.h"

namespace {

using namespace lagline;
using namespace lagline::bench;
using benchmark::Counter;
using benchmark::DoNotOptimize;
using benchmark::State;
using S = SegmentField;

/// What a kernel moves and calls for one segment.
struct Work {
    double bytes = 0.0;
    double erfcs = 0.0;
};

constexpr double column = sizeof(double);

std::size_t rows_of(const State& state) { return static_cast<std::size_t>(state.range(0)); }

double segments_of(const State& state, std::size_t rows) {
    return static_cast<double>(rows) * static_cast<double>(state.iterations());
}

void count_without_limit(State& state, std::size_t rows, const ProcessorTime& taken) {
    state.counters["ns/segment"] = 1e9 * taken.seconds() / segments_of(state, rows);
}

void count(State& state, std::size_t rows, Work work, const ProcessorTime& taken) {
    const double seconds =
        taken.seconds() / segments_of(state, rows);  // before limits are measured
    state.counters["ns/segment"] = 1e9 * seconds;
    state.counters["bytes/segment"] = work.bytes;
    const double least =
        std::max(work.bytes / triad_bytes_per_second(rows), work.erfcs * erfc_seconds());
    state.counters["limit%"] = 100.0 * least / seconds;
}

bool agrees(State& state, const Numbers& got, const Numbers& expected) {
    const Numbers allowed = 1e-12 * expected.abs();
    if (((got - expected).abs() <= allowed).all()) return true;
    state.SkipWithError("the results are not those of the ranking");
    return false;
}

/// Times `kernel`, which fills `out`, once its results are proven.
void time_kernel(State& state, Numbers& out, const Numbers& expected, Work work,
                 const auto& kernel) {
    kernel();
    if (!agrees(state, out, expected)) return;
    const ProcessorTime taken;
    for (auto _ : state) {
        kernel();
        DoNotOptimize(out.data());
        benchmark::ClobberMemory();
    }
    count(state, rows_of(state), work, taken);
}

Numbers empty_column(const State& state) { return Numbers(state.range(0)); }

const Ranking& ranked() { return sample().ranking; }

LikelihoodRules rules_of_likelihood() {
    return likelihood_rules(published_rules(), sample().plant);
}

// Exposure and degradation

void base_rate_of_driver(State& state) {
    const std::size_t rows = rows_of(state);
    const CurveTable& table = published_rules().curve("base_rate");
    const Numbers degc = tiled(ranked().exposure.metal_temperature_degc, rows);
    std::vector<ServiceLevels> levels(rows);
    std::vector<std::uint8_t> driver(rows);
    std::vector<std::uint8_t> outside(rows);
    for (std::size_t i = 0; i < rows; ++i) {
        levels[i].add(degc[static_cast<Eigen::Index>(i)], 1.0);
        driver[i] = ranked().exposure.driver[static_cast<Eigen::Index>(i % sample().wall_rows)];
    }
    Numbers rate = empty_column(state);
    time_kernel(state, rate, tiled(ranked().wall_loss.base_rate_mm_per_year, rows),
                {3 * column + 3}, [&] { base_rate(table, levels, driver, rate, outside); });
}

void factor_by_word(State& state) {
    const std::size_t rows = rows_of(state);
    const LookupTable& table = published_rules().lookup("insulation_factor");
    const auto segments = tiled_segments(rows);
    const auto words = sample().plant.segments.codes(S::insulation_type);
    Numbers factors = empty_column(state);
    time_kernel(state, factors, tiled(ranked().wall_loss.insulation_factor, rows), {column + 5},
                [&] { factor(table, words, segments, factors); });
}

void rate_of_corrosion(State& state) {
    const std::size_t rows = rows_of(state);
    const WallLossColumns& from = ranked().wall_loss;
    const Numbers base = tiled(from.base_rate_mm_per_year, rows);
    const Numbers insulation = tiled(from.insulation_factor, rows);
    const Numbers complexity = tiled(from.complexity_factor, rows);
    const Numbers condition = tiled(from.condition_factor, rows);
    const Numbers pooling = tiled(from.pooling_factor, rows);
    const Numbers interface_factor = tiled(from.interface_factor, rows);
    const Numbers site = tiled(from.site_factor, rows);
    Numbers rate = empty_column(state);
    time_kernel(state, rate, tiled(from.corrosion_rate_mm_per_year, rows), {8 * column}, [&] {
        corrosion_rate(base, insulation, complexity, condition, pooling, interface_factor, site,
                       rate);
    });
}

void time_in_service(State& state) {
    const std::size_t rows = rows_of(state);
    const auto segments = tiled_segments(rows);
    std::vector<std::int32_t> days(rows);
    for (std::size_t i = 0; i < rows; ++i) {
        days[i] = sample().plant.segments.days(S::in_service)[segments[i]];
    }
    const Date at = ranked().at.date;
    Numbers years = empty_column(state);
    time_kernel(state, years, tiled(ranked().wall_loss.time_since_wall_years, rows), {column + 4},
                [&] {
                    for (std::size_t i = 0; i < rows; ++i) {
                        years[static_cast<Eigen::Index>(i)] =
                            std::max(0.0, years_between(Date{days[i]}, at));
                    }
                });
}

void exposed_time(State& state) {
    const std::size_t rows = rows_of(state);
    const Numbers life = tiled(ranked().coating.life_years, rows);
    const Numbers age = tiled(ranked().coating.age_years, rows);
    const Numbers since = tiled(ranked().wall_loss.time_since_wall_years, rows);
    Numbers exposed = empty_column(state);
    time_kernel(state, exposed, tiled(ranked().coating.exposed_time_years, rows), {4 * column},
                [&] {
                    for (Eigen::Index i = 0; i < exposed.size(); ++i) {
                        exposed[i] = std::max(
                            0.0, since[i] - coating_credit_years(life[i], age[i], since[i], false));
                    }
                });
}

// Likelihood

void fraction_of_wall(State& state) {
    const std::size_t rows = rows_of(state);
    const Numbers rate = tiled(ranked().wall_loss.corrosion_rate_mm_per_year, rows);
    const Numbers exposed = tiled(ranked().coating.exposed_time_years, rows);
    const Numbers wall = tiled(ranked().wall_loss.wall_thickness_mm, rows);
    Numbers fraction = empty_column(state);
    time_kernel(state, fraction, tiled(ranked().likelihood.wall_fraction, rows), {4 * column},
                [&] { wall_fraction(rate, exposed, wall, fraction); });
}

void ratio_of_strength(State& state) {
    const std::size_t rows = rows_of(state);
    const LikelihoodRules rules = rules_of_likelihood();
    const Numbers pressure = tiled(S::design_pressure, rows);
    const Numbers outside = tiled(S::outside_diameter, rows);
    const Numbers allowable = tiled(S::allowable_stress, rows);
    const Numbers yield = tiled(S::yield_strength, rows);
    const Numbers tensile = tiled(S::tensile_strength, rows);
    const Numbers joint = tiled(S::joint_efficiency, rows);
    const Numbers nominal = tiled(S::nominal_wall, rows);
    const Numbers allowance = tiled(S::corrosion_allowance, rows);
    const Numbers wall = tiled(ranked().wall_loss.wall_thickness_mm, rows);
    const Numbers minimum = tiled(ranked().likelihood.minimum_thickness_mm, rows);
    Numbers flow = empty_column(state);
    Numbers needed = empty_column(state);
    Numbers by_minimum = empty_column(state);
    Numbers by_pressure = empty_column(state);
    Numbers ratio = empty_column(state);
    // 3 + 6 + 5 + 5 + 2 columns read, 5 written, as the program does it step by step.
    time_kernel(state, ratio, tiled(ranked().likelihood.strength_ratio, rows), {26 * column}, [&] {
        flow_stress(yield, tensile, joint, rules.flow_stress_factor, flow);
        pressure_minimum(pressure, outside, allowable, joint, nominal, allowance,
                         rules.pressure_coefficient_y, needed);
        strength_ratio_by_minimum(allowable, joint, flow, minimum, wall, by_minimum);
        strength_ratio_by_pressure(pressure, outside, nominal, flow, wall,
                                   rules.strength_ratio_shape, by_pressure);
        ratio = by_minimum.max(by_pressure);
    });
}

void index_of_one_state(State& state) {
    const std::size_t rows = rows_of(state);
    const LikelihoodRules rules = rules_of_likelihood();
    const Numbers fraction = tiled(ranked().likelihood.wall_fraction, rows);
    const Numbers ratio = tiled(ranked().likelihood.strength_ratio, rows);
    Numbers index = empty_column(state);
    time_kernel(
        state, index, tiled(ranked().likelihood.reliability_index[1], rows), {3 * column},
        [&] { reliability_index(fraction, ratio, rules.state_factor[1], rules.scatter, index); });
}

// The tail by itself: the three of a segment stand in the damage factor.
void normal_tail(State& state) {
    const Numbers index = -erfc_arguments(rows_of(state)) * std::numbers::sqrt2;
    Numbers tail = empty_column(state);
    const Numbers expected =
        index.unaryExpr([](double x) { return 0.5 * std::erfc(-x / std::numbers::sqrt2); });
    time_kernel(state, tail, expected, {2 * column, 1.0}, [&] { normal_cdf(index, tail); });
}

void factor_of_damage(State& state) {
    const std::size_t rows = rows_of(state);
    const LikelihoodColumns& from = ranked().likelihood;
    const auto of_states = [&](const std::array<Numbers, damage_states>& columns) {
        return std::array{tiled(columns[0], rows), tiled(columns[1], rows),
                          tiled(columns[2], rows)};
    };
    const auto probability = of_states(from.state_probability);
    const auto index = of_states(from.reliability_index);
    const double base = rules_of_likelihood().damage_factor_base;
    Numbers damage = empty_column(state);
    time_kernel(state, damage, tiled(from.damage_factor, rows), {7 * column, 3.0}, [&] {
        damage_factor({probability[0], probability[1], probability[2]},
                      {index[0], index[1], index[2]}, base, damage);
    });
}

void chance_below_minimum(State& state) {
    const std::size_t rows = rows_of(state);
    const LikelihoodColumns& from = ranked().likelihood;
    const LikelihoodRules rules = rules_of_likelihood();
    const Numbers wall = tiled(ranked().wall_loss.wall_thickness_mm, rows);
    const Numbers fraction = tiled(from.wall_fraction, rows);
    const Numbers minimum = tiled(from.minimum_thickness_mm, rows);
    const std::array probability{tiled(from.state_probability[0], rows),
                                 tiled(from.state_probability[1], rows),
                                 tiled(from.state_probability[2], rows)};
    Numbers below = empty_column(state);
    time_kernel(state, below, tiled(from.below_minimum, rows), {7 * column, 3.0}, [&] {
        below_minimum(wall, fraction, minimum, {probability[0], probability[1], probability[2]},
                      rules.state_factor, rules.scatter.thinning, below);
    });
}

/// Posterior of a segment after so many inspections of categories B and C each.
void posterior(State& state, double inspections) {
    const std::size_t rows = rows_of(state);
    const GridTable& conditional = published_rules().grid("conditional_probability");
    const InspectionCounts counts{0.0, inspections, inspections, 0.0};
    const auto& columns = ranked().likelihood.state_probability;
    const std::array prior{columns[0][0], columns[1][0], columns[2][0]};
    const auto once = updated_states(prior, conditional, counts);
    if (std::abs(once[0] + once[1] + once[2] - 1.0) > 1e-15) {
        state.SkipWithError("the states do not sum to 1");
        return;
    }
    const ProcessorTime taken;
    for (auto _ : state) {
        for (std::size_t i = 0; i < rows; ++i) {
            auto given = prior;
            DoNotOptimize(given);
            DoNotOptimize(updated_states(given, conditional, counts));
        }
    }
    count_without_limit(state, rows, taken);
}

// Consequence, risk, order

void probability_and_risk(State& state) {
    const std::size_t rows = rows_of(state);
    const LikelihoodRules rules = rules_of_likelihood();
    const Numbers frequency = tiled(ranked().likelihood.generic_frequency_per_year, rows);
    const Numbers damage = tiled(ranked().likelihood.damage_factor, rows);
    const Numbers cost = tiled(ranked().consequence.leak_cost, rows);
    Numbers probability = empty_column(state);
    Numbers risk = empty_column(state);
    time_kernel(state, risk, tiled(ranked().risk.risk_per_year, rows), {6 * column}, [&] {
        probability_of_failure(frequency, rules.management_factor, damage, rules.probability_cap,
                               probability);
        risk = probability * cost;
    });
}

void order_by_risk(State& state) {
    const std::size_t rows = rows_of(state);
    const Numbers risk = tiled(ranked().risk.risk_per_year, rows);
    std::vector<std::uint32_t> all(rows);
    for (std::size_t i = 0; i < rows; ++i) all[i] = static_cast<std::uint32_t>(i);
    const auto by_row = [](std::uint32_t a, std::uint32_t b) { return a < b; };
    const WorkPlan alone{1024, 1, nullptr};
    const auto order = by_falling_risk(all, risk, by_row, alone);
    const auto falls = [&](std::uint32_t a, std::uint32_t b) { return risk[a] > risk[b]; };
    if (!std::is_sorted(order.begin(), order.end(), falls)) {
        state.SkipWithError("risks do not fall");
        return;
    }
    const ProcessorTime taken;
    for (auto _ : state) DoNotOptimize(by_falling_risk(all, risk, by_row, alone));
    count(state, rows, {column + 8}, taken);
}

// Cells

void parse(State& state, const std::vector<std::string>& texts, const auto& reads,
           const auto& expected) {
    for (std::size_t i = 0; i < texts.size(); ++i) {
        if (reads(texts[i]) == expected(i)) continue;
        state.SkipWithError("a cell reads as something else");
        return;
    }
    const ProcessorTime taken;
    for (auto _ : state) {
        for (const std::string& text : texts) DoNotOptimize(reads(text));
    }
    count_without_limit(state, texts.size(), taken);
}

void parse_number(State& state) {
    const auto segments = tiled_segments(rows_of(state));
    const auto walls = sample().plant.segments.numbers(S::nominal_wall);
    std::vector<std::string> texts;
    for (const std::uint32_t segment : segments) texts.push_back(exact_number(walls[segment]));
    parse(
        state, texts, [](const std::string& text) { return read_number(text).value; },
        [&](std::size_t i) { return walls[segments[i]]; });
}

void parse_day(State& state) {
    const auto segments = tiled_segments(rows_of(state));
    const auto days = sample().plant.segments.days(S::in_service);
    std::vector<std::string> texts;
    for (const std::uint32_t segment : segments) texts.push_back(to_string(Date{days[segment]}));
    parse(
        state, texts,
        [](const std::string& text) { return parse_date(text).value_or(DateReading{}).date; },
        [&](std::size_t i) { return Date{days[segments[i]]}; });
}

void parse_size(State& state) {
    const auto segments = tiled_segments(rows_of(state));
    const auto sizes = sample().plant.segments.codes(S::nominal_size);
    std::vector<std::string> texts;
    for (const std::uint32_t segment : segments) {
        texts.emplace_back(pipe_sizes()[sizes[segment]].nps);
    }
    parse(
        state, texts,
        [](const std::string& text) { return parse_pipe_size(text, SizeSystem::nps); },
        [&](std::size_t i) { return sizes[segments[i]]; });
}

// The whole

/// A plant in memory, rules `published`; the range: segments, threads.
void rank_plant(State& state) {
    const Plant plant = invented_plant(rows_of(state));
    const WorkPlan plan{.threads = static_cast<unsigned>(state.range(1))};
    const Ranking alone = rank(plant, published_rules(), {.block_rows = 977, .threads = 1});
    if (rank(plant, published_rules(), plan).order != alone.order) {
        state.SkipWithError("the order depends on blocks or threads");
        return;
    }
    const ProcessorTime taken;
    for (auto _ : state) DoNotOptimize(rank(plant, published_rules(), plan));
    count_without_limit(state, rows_of(state), taken);
}

// The machine

double thread_seconds() {
    timespec now{};
    ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// Each thread on columns of its own; their bytes a second of processor time are added up.
void triad(State& state) {
    Triad columns{rows_of(state)};
    const double start = thread_seconds();
    for (auto _ : state) {
        columns.run();
        DoNotOptimize(columns.a.data());
        benchmark::ClobberMemory();
    }
    state.counters["GB/s"] = 1e-9 * Triad::bytes_per_row * segments_of(state, rows_of(state)) /
                             (thread_seconds() - start);
}

void apply(State& state, const Numbers& arguments, const auto& function) {
    Numbers values(arguments.size());
    const ProcessorTime taken;
    for (auto _ : state) {
        values = function(arguments);
        DoNotOptimize(values.data());
        benchmark::ClobberMemory();
    }
    count_without_limit(state, rows_of(state), taken);
}

void exp_of_column(State& state) {
    apply(state, Numbers::LinSpaced(state.range(0), -10.0, 1.0),
          [](const Numbers& x) { return x.exp(); });
}

void divide_columns(State& state) {
    apply(state, Numbers::LinSpaced(state.range(0), 1.0, 10.0),
          [](const Numbers& x) { return x.inverse(); });
}

void root_of_column(State& state) {
    apply(state, Numbers::LinSpaced(state.range(0), 1.0, 10.0),
          [](const Numbers& x) { return x.sqrt(); });
}

void erfc_of_library(State& state) {
    apply(state, erfc_arguments(rows_of(state)), [](const Numbers& x) {
        return x.unaryExpr([](double each) { return std::erfc(each); });
    });
}

void on_both_sizes(benchmark::internal::Benchmark* bench) { bench->Arg(1024)->Arg(1000000); }

BENCHMARK(base_rate_of_driver)->Apply(on_both_sizes);
BENCHMARK(factor_by_word)->Apply(on_both_sizes);
BENCHMARK(rate_of_corrosion)->Apply(on_both_sizes);
BENCHMARK(time_in_service)->Apply(on_both_sizes);
BENCHMARK(exposed_time)->Apply(on_both_sizes);
BENCHMARK(fraction_of_wall)->Apply(on_both_sizes);
BENCHMARK(ratio_of_strength)->Apply(on_both_sizes);
BENCHMARK_CAPTURE(posterior, no_inspection, 0.0)->Arg(1024);
BENCHMARK_CAPTURE(posterior, four_inspections, 2.0)->Arg(1024);
BENCHMARK(index_of_one_state)->Apply(on_both_sizes);
BENCHMARK(normal_tail)->Apply(on_both_sizes);
BENCHMARK(factor_of_damage)->Apply(on_both_sizes);
BENCHMARK(chance_below_minimum)->Apply(on_both_sizes);
BENCHMARK(probability_and_risk)->Apply(on_both_sizes);
BENCHMARK(order_by_risk)->Apply(on_both_sizes);
BENCHMARK(parse_number)->Apply(on_both_sizes);
BENCHMARK(parse_day)->Apply(on_both_sizes);
BENCHMARK(parse_size)->Apply(on_both_sizes);
BENCHMARK(rank_plant)
    ->ArgsProduct({{1024, 100000, 1000000}, {1, 2}})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
// 32 million rows are 768 MiB: more than any cache.
BENCHMARK(triad)->Apply(on_both_sizes)->Arg(std::int64_t{1} << 25U)->UseRealTime();
BENCHMARK(triad)->Apply(on_both_sizes)->Arg(std::int64_t{1} << 25U)->Threads(2)->UseRealTime();
BENCHMARK(exp_of_column)->Apply(on_both_sizes);
BENCHMARK(divide_columns)->Apply(on_both_sizes);
BENCHMARK(root_of_column)->Apply(on_both_sizes);
BENCHMARK(erfc_of_library)->Apply(on_both_sizes);

}  // namespace

BENCHMARK_MAIN();
