#include "learning/partial_pooling.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

namespace lagline {
namespace {

/// Sums over the groups with weights 1 / (variance + between).
struct WeightedSums {
    double weight = 0.0;
    double mean = 0.0;  ///< weighted
};

WeightedSums weigh(std::span<const GroupMean> groups, double between) {
    WeightedSums sums;
    for (const GroupMean& group : groups) {
        const double weight = 1.0 / (group.variance + between);
        sums.weight += weight;
        sums.mean += weight * group.mean;
    }
    sums.mean /= sums.weight;
    return sums;
}

/// Slope of twice the restricted log likelihood by the variance between (eq. 81).
double likelihood_slope(std::span<const GroupMean> groups, double between) {
    const WeightedSums sums = weigh(groups, between);
    double slope = 0.0;
    double squares = 0.0;
    for (const GroupMean& group : groups) {
        const double weight = 1.0 / (group.variance + between);
        slope += weight * weight * std::pow(group.mean - sums.mean, 2) - weight;
        squares += weight * weight;
    }
    return slope + squares / sums.weight;
}

double log_likelihood(std::span<const GroupMean> groups, double between) {
    const WeightedSums sums = weigh(groups, between);
    double twice = -std::log(sums.weight);
    for (const GroupMean& group : groups) {
        const double variance = group.variance + between;
        twice -= std::log(variance) + std::pow(group.mean - sums.mean, 2) / variance;
    }
    return 0.5 * twice;
}

/// Where the slope passes zero downwards between two variances.
double root_between(std::span<const GroupMean> groups, double low, double high) {
    for (int step = 0; step < 200 && high - low > 1e-15 * high; ++step) {
        const double middle = 0.5 * (low + high);
        (likelihood_slope(groups, middle) > 0.0 ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

}  // namespace

double variance_between(std::span<const GroupMean> groups) {
    double least = groups.front().mean;
    double most = groups.front().mean;
    for (const GroupMean& group : groups) {
        least = std::min(least, group.mean);
        most = std::max(most, group.mean);
    }
    // The spread of the means bounds what maximises the likelihood; the likelihood can have more
    // than one top, so a grid of variances, tight near 0, is searched for them all.
    const double bound = std::pow(most - least, 2);
    constexpr int steps = 400;
    double best = 0.0;
    double best_likelihood = log_likelihood(groups, 0.0);
    double low = 0.0;
    for (int i = 1; i <= steps; ++i) {
        const double high = bound * std::pow(static_cast<double>(i) / steps, 3);
        if (likelihood_slope(groups, low) > 0.0 && likelihood_slope(groups, high) <= 0.0) {
            const double top = root_between(groups, low, high);
            const double likelihood = log_likelihood(groups, top);
            if (likelihood > best_likelihood) {
                best = top;
                best_likelihood = likelihood;
            }
        }
        low = high;
    }
    return best;
}

PooledGroups pool_groups(std::span<const GroupMean> groups) {
    if (groups.size() < fewest_groups) throw std::invalid_argument("too few groups to pool");
    const auto k = static_cast<double>(groups.size());
    PooledGroups pooled;
    pooled.between_variance = variance_between(groups);
    const WeightedSums sums = weigh(groups, pooled.between_variance);
    pooled.common_mean = sums.mean;
    // The mean variance of a group, weighted like its mean.
    double typical = 0.0;
    for (const GroupMean& group : groups) {
        typical += group.variance / (group.variance + pooled.between_variance) / sums.weight;
    }
    for (const GroupMean& group : groups) {
        const double total = group.variance + pooled.between_variance;
        PooledMean mean;
        mean.shrinkage = (k - 3.0) / (k - 1.0) * group.variance / total;               // eq. 82
        mean.mean = (1.0 - mean.shrinkage) * group.mean + mean.shrinkage * sums.mean;  // eq. 83
        const double away = group.mean - sums.mean;
        const double doubt = 2.0 / (k - 3.0) * mean.shrinkage * mean.shrinkage *
                             (typical + pooled.between_variance) / total;
        mean.variance = group.variance * (1.0 - (k - 1.0) / k * mean.shrinkage) +
                        doubt * away * away;  // eq. 84
        pooled.groups.push_back(mean);
    }
    return pooled;
}

}  // namespace lagline
