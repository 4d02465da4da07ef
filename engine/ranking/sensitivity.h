#pragma once

#include <cstdint>
#include <span>
#include <vector>

namespace lagline {

/// Share of the variance of an output that goes back to one input alone, from samples that were
/// made for something else.
class FirstOrderIndex {
  public:
    /// Classes that a continuous input is cut into, all equally likely: about the square root of
    /// the samples, at most 64, a power of two so that Sobol points fill them evenly.
    [[nodiscard]] static std::uint32_t classes_for(std::size_t samples);

    /// First-order index of the input whose class is given for every sample: variance of the class
    /// means over the whole variance, less what it would be by chance.
    /// @param classes  class of the input in each sample, below `most_classes`
    /// @param output   output of each sample
    /// @return 0 to 1; 0 where the output does not vary or the input has one class
    /// @source  given-data estimator: Plischke, Borgonovo and Smith (2013); correction for chance:
    ///          Kelley (1935), epsilon squared.  docs/method.md, eq. 65
    double operator()(std::span<const std::uint8_t> classes, std::span<const double> output);

    static constexpr std::size_t most_classes = 256;

  private:
    std::vector<double> sums_ = std::vector<double>(most_classes);
    std::vector<std::uint32_t> counts_ = std::vector<std::uint32_t>(most_classes);
};

}  // namespace lagline
