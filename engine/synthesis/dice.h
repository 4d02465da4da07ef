#pragma once

#include <cstdint>
#include <initializer_list>

namespace lagline {

/// What a row of draws is for: the same number under another subject gives unrelated draws.
enum class Subject : std::uint64_t {
    rack,
    shares,  ///< of a rack in the inspections
    line,
    line_run,
    line_gaps,
    segment,
    segment_gaps,
    wall,
    visits,
};

/// A value and how often it should be drawn against its neighbours.
template <class Value>
struct Weighted {
    Value value;
    int weight;
};

/// Draws from splitmix64 (Steele, Lea & Flood 2014, "Fast splittable pseudorandom number
/// generators"), started from a seed, a subject and a number, so that the draws of one segment
/// need none of another.  The standard library's distributions are avoided because they differ
/// between implementations.
///
/// Two draws in one expression have no order of evaluation: give each its own statement.
class Dice {
  public:
    Dice(std::uint64_t seed, Subject subject, std::uint64_t number)
        : state_(mixed(seed + step) ^
                 mixed(number * subjects + static_cast<std::uint64_t>(subject))) {}

    std::uint64_t next() {
        state_ += step;
        return mixed(state_);
    }
    /// At least 0, below 1.
    double share() { return static_cast<double>(next() >> 11U) * 0x1p-53; }
    double between(double least, double most) { return least + (most - least) * share(); }
    /// Between the two, middling values more often (mean of three draws).
    double middling(double least, double most) {
        double sum = share();
        sum += share();
        sum += share();
        return least + (most - least) * sum / 3.0;
    }
    /// A whole number, both ends included.
    int whole(int least, int most) {
        const auto count = static_cast<std::uint64_t>(most - least) + 1;
        return least + static_cast<int>(((next() >> 32U) * count) >> 32U);
    }
    bool chance(double probability) { return share() < probability; }

    template <class Value>
    Value pick(std::initializer_list<Weighted<Value>> choices) {
        return pick_from(choices);
    }
    template <class Choices>
    auto pick_from(const Choices& choices) {
        int sum = 0;
        for (const auto& choice : choices) sum += choice.weight;
        int left = whole(0, sum - 1);
        auto at = choices.begin();
        while (left >= at->weight) left -= (at++)->weight;
        return at->value;
    }

  private:
    static constexpr std::uint64_t step = 0x9e3779b97f4a7c15U;
    static constexpr std::uint64_t subjects = 16;

    static constexpr std::uint64_t mixed(std::uint64_t z) {
        z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
        z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
        return z ^ (z >> 31U);
    }

    std::uint64_t state_;
};

}  // namespace lagline
