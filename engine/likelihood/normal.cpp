#include "likelihood/normal.h"

#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>

#include "blocks/wide.h"

namespace lagline {
namespace {

// Everything here is without branches and calls, so that the compiler can put several numbers into
// one register; what is not needed of the three approximations is calculated and left.

template <class Coefficients>
[[gnu::always_inline]] inline double polynomial(const Coefficients& falling, double x) {
    double sum = falling[0];
    for (std::size_t i = 1; i < falling.size(); ++i) sum = sum * x + falling[i];
    return sum;
}

// 2 to a whole power from -1022 to 1023, by its bits.
[[gnu::always_inline]] inline double power_of_two(double whole) {
    constexpr double above_mantissa = 4503599627370496.0;  // 2^52: the unit is the last bit
    constexpr double bias = 1023.0;
    return std::bit_cast<double>(std::bit_cast<std::uint64_t>(whole + (above_mantissa + bias))
                                 << 52U);
}

[[gnu::always_inline]] inline double rounded(double x) {
    constexpr double magic = 6755399441055744.0;  // 1.5 x 2^52 pushes the fraction out
    return (x + magic) - magic;
}

// exp(x) for x from -1000 to 0: x = n ln 2 + r, the series for r, and 2^n in two halves, since the
// least results are below the powers of two that a number can hold.
[[gnu::always_inline]] inline double exponential(double x) {
    constexpr double ln2_high = 6.93147180369123816490e-01;  // ends in zeros: n times it is exact
    constexpr double ln2_low = 1.90821492927058770002e-10;
    constexpr std::array<double, 14> series{1.0 / 6227020800.0,
                                            1.0 / 479001600.0,
                                            1.0 / 39916800.0,
                                            1.0 / 3628800.0,
                                            1.0 / 362880.0,
                                            1.0 / 40320.0,
                                            1.0 / 5040.0,
                                            1.0 / 720.0,
                                            1.0 / 120.0,
                                            1.0 / 24.0,
                                            1.0 / 6.0,
                                            0.5,
                                            1.0,
                                            1.0};
    const double n = rounded(x * std::numbers::log2e);
    const double r = (x - n * ln2_high) - n * ln2_low;
    const double half = rounded(n * 0.5);
    return polynomial(series, r) * power_of_two(half) * power_of_two(n - half);
}

// exp(-z z / 2), the square taken exactly: its rounding would be magnified by z z.
[[gnu::always_inline]] inline double density_shape(double z) {
    constexpr std::uint64_t leading_bits = ~std::uint64_t{0} << 27U;
    const auto head = std::bit_cast<double>(std::bit_cast<std::uint64_t>(z) & leading_bits);
    const double d = -0.5 * (z - head) * (z + head);  // less than 1e-4
    const double rest = 1.0 + d * (1.0 + d * (0.5 + d * (1.0 / 6.0)));
    return exponential(-0.5 * head * head) * rest;
}

struct Fraction {
    double over = 0.0;
    double under = 1.0;
};

// erf(t) / t for t up to 0.46875, with s = t t.
[[gnu::always_inline]] inline Fraction near(double s) {
    return {
        polynomial(std::array{1.85777706184603153e-1, 3.16112374387056560e0, 1.13864154151050156e2,
                              3.77485237685302021e2, 3.20937758913846947e3},
                   s),
        polynomial(std::array{1.0, 2.36012909523441209e1, 2.44024637934444173e2,
                              1.28261652607737228e3, 2.84423683343917062e3},
                   s)};
}

// exp(t t) erfc(t) for t from 0.46875 to 4.
[[gnu::always_inline]] inline Fraction middle(double t) {
    return {
        polynomial(std::array{2.15311535474403846e-8, 5.64188496988670089e-1, 8.88314979438837594e0,
                              6.61191906371416295e1, 2.98635138197400131e2, 8.81952221241769090e2,
                              1.71204761263407058e3, 2.05107837782607147e3, 1.23033935479799725e3},
                   t),
        polynomial(std::array{1.0, 1.57449261107098347e1, 1.17693950891312499e2,
                              5.37181101862009858e2, 1.62138957456669019e3, 3.29079923573345963e3,
                              4.36261909014324716e3, 3.43936767414372164e3, 1.23033935480374942e3},
                   t)};
}

// exp(t t) erfc(t) for t from 4 on, with s = t t: (1/sqrt(pi) - R(1/s)/s) / t, where both parts of
// R are multiplied by the fifth power of s.
[[gnu::always_inline]] inline Fraction far(double t, double s) {
    const double over = polynomial(
        std::array{6.58749161529837803e-4, 1.60837851487422766e-2, 1.25781726111229246e-1,
                   3.60344899949804439e-1, 3.05326634961232344e-1, 1.63153871373020978e-2},
        s);
    const double under = polynomial(
        std::array{2.33520497626869185e-3, 6.05183413124413191e-2, 5.27905102951428412e-1,
                   1.87295284992346725e0, 2.56852019228982242e0, 1.0},
        s);
    return {std::numbers::inv_sqrtpi * s * under - over, s * under * t};
}

[[gnu::always_inline]] inline double cdf(double x) {
    constexpr double beyond = 40.0;  // nothing is left of the tail
    const double size = x < 0.0 ? -x : x;
    const double z = size > beyond ? beyond : size;
    const double t = z * (1.0 / std::numbers::sqrt2);
    const double s = 0.5 * z * z;
    const Fraction first = near(s);
    const Fraction second = middle(t);
    const Fraction third = far(t, s);
    const bool is_near = t < 0.46875;
    const bool is_far = t > 4.0;
    const double over = is_near ? t * first.over : is_far ? third.over : second.over;
    const double under = is_near ? first.under : is_far ? third.under : second.under;
    const double quotient = over / under;
    const double lower = 0.5 * density_shape(z) * quotient;  // P(X <= -z), away from 0
    const double beside = 0.5 * quotient;                    // P(X <= z) - 1/2, near 0
    const double below = is_near ? 0.5 - beside : lower;
    const double above = is_near ? 0.5 + beside : 1.0 - lower;
    return x < 0.0 ? below : above;
}

LAGLINE_WIDE void fill(const double* x, double* p, Eigen::Index size) {
    for (Eigen::Index i = 0; i < size; ++i) p[i] = cdf(x[i]);
}

}  // namespace

double normal_cdf(double x) { return cdf(x); }

void normal_cdf(ConstColumn x, Column p) { fill(x.data(), p.data(), p.size()); }

}  // namespace lagline
