#pragma once

#include <cstdint>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include "ranking/ranking.h"
#include "support/small_plant.h"

namespace lagline {

/// Draws of one seed.  The distributions of the standard library differ between libraries; these
/// do not.
class Dice {
  public:
    explicit Dice(std::uint64_t seed) : random_(seed) {}
    /// In [least, most].
    [[nodiscard]] int whole(int least, int most);
    [[nodiscard]] double real(double least, double most);
    [[nodiscard]] bool chance(double share) { return real(0.0, 1.0) < share; }
    template <class T>
    [[nodiscard]] const T& one_of(const std::vector<T>& values) {
        return values[static_cast<std::size_t>(whole(0, static_cast<int>(values.size()) - 1))];
    }
    /// A day of these years, as text.
    [[nodiscard]] std::string day(int first_year, int last_year);

  private:
    std::mt19937_64 random_;
};

/// `value` in few digits, as a person writes it.
[[nodiscard]] std::string written(double value, int decimals);

/// A segment of invented pipe: sound cells in most columns that the method reads, some empty.
[[nodiscard]] Cells random_segment(const std::string& name, Dice& dice);

/// Up to four inspections of a segment, some on one day.
[[nodiscard]] std::vector<Cells> random_inspections(const std::string& name, Dice& dice);

/// Segments S-000 and on, with inspections.
[[nodiscard]] SmallPlant random_plant(int segments, std::uint64_t seed);

/// What a test compares of the row that stands for a segment.
struct Ranked {
    std::string segment;
    std::size_t rank = 0;  ///< from 1
    double damage_factor = 0.0;
    double probability_per_year = 0.0;
    double risk_per_year = 0.0;
    double strength_ratio = 0.0;  ///< 0 for cracking, which has none
};

/// In the order of rank.
[[nodiscard]] std::vector<Ranked> ranked(const Plant& plant, const RuleSet& rules);
[[nodiscard]] std::vector<Ranked> ranked(const SmallPlant& plant, const RuleSet& rules);

/// The one of this name; throws std::runtime_error when it is not ranked.
[[nodiscard]] const Ranked& of_segment(const std::vector<Ranked>& all, std::string_view name);

}  // namespace lagline
