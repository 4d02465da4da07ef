#include "likelihood/normal.h"

#include <cmath>
#include <numbers>

namespace lagline {

double normal_cdf(double x) { return 0.5 * std::erfc(-x / std::numbers::sqrt2); }

}  // namespace lagline
