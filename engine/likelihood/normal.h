#pragma once

#include "blocks/column.h"

namespace lagline {

/// Standard normal cumulative distribution: P(X <= x).  Within 1e-13 of its value wherever that is
/// not below the smallest normal number, in the far lower tail too, where 1 - P(X > x) would have
/// lost all digits.  Not a number for what is none.
/// @source NIST Digital Library of Mathematical Functions, 7.2.2 and 7.18: Phi(x) = erfc(-x/sqrt
/// 2)/2; rational approximations of erf and erfc: W. J. Cody, Mathematics of Computation 23 (1969)
/// 631 (coefficients recalled; the tests hold them against other sources)
[[nodiscard]] double normal_cdf(double x);

/// The same for many: p[i] = normal_cdf(x[i]), bit for bit.  Both have the same size.
void normal_cdf(ConstColumn x, Column p);

}  // namespace lagline
