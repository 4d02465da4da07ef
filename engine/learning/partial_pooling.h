#pragma once

#include <span>
#include <vector>

namespace lagline {

/// Mean of a group of readings and the variance of that mean.
struct GroupMean {
    double mean = 0.0;
    double variance = 0.0;  ///< > 0
};

/// A group's mean, drawn towards what all groups have in common.
struct PooledMean {
    double shrinkage = 0.0;  ///< 0: the group by itself; 1: the common mean
    double mean = 0.0;
    double variance = 0.0;  ///< of that mean, the doubt about the common ones included
};

struct PooledGroups {
    double common_mean = 0.0;
    double between_variance = 0.0;  ///< of the groups' true means
    std::vector<PooledMean> groups;
};

/// Fewest groups that can be pooled: with fewer nothing can be said of the spread between groups.
inline constexpr std::size_t fewest_groups = 4;

/// Variance between the true means of the groups that makes their means most likely, the common
/// mean integrated out (eq. 81); 0 when they differ by no more than their own variances.
/// @source restricted marginal likelihood; Morris 1983, section 5
[[nodiscard]] double variance_between(std::span<const GroupMean> groups);

/// Empirical Bayes estimates of at least four groups (eq. 82 to 84).  With equal variances the
/// shrinkage is that of James and Stein towards the mean.
/// @throws std::invalid_argument  for fewer than fewest_groups
/// @source Morris 1983, Parametric empirical Bayes inference: theory and applications, Journal of
///         the American Statistical Association 78, 47-55 (recalled)
[[nodiscard]] PooledGroups pool_groups(std::span<const GroupMean> groups);

}  // namespace lagline
