#pragma once

namespace lagline {

/// Standard normal cumulative distribution: P(X <= x).  Accurate in the far lower tail too, where
/// 1 - P(X > x) would have lost all digits.
/// @source NIST Digital Library of Mathematical Functions, 7.2.2 and 7.18: Phi(x) = erfc(-x/sqrt
/// 2)/2
[[nodiscard]] double normal_cdf(double x);

}  // namespace lagline
