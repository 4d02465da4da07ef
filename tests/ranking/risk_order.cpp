#include "ranking/risk_order.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numeric>
#include <random>
#include <vector>

namespace lagline {
namespace {

TEST_CASE("rows by falling risk are those of the library's stable sort") {
    constexpr double least = std::numeric_limits<double>::denorm_min();
    constexpr double most = std::numeric_limits<double>::max();
    std::mt19937_64 random{5};
    std::uniform_real_distribution<double> power{-300.0, 300.0};
    for (const std::size_t count : {0U, 1U, 2U, 3U, 1000U, 5000U}) {
        CAPTURE(count);
        std::vector<double> risk{0.0, -0.0, least, -least, most, -most, 1.0, 1.0};
        while (risk.size() < count) {
            // Many are equal, as in a plant of equal segments.
            const bool again = random() % 3 == 0;
            risk.push_back(again ? risk[random() % risk.size()] : std::pow(10.0, power(random)));
        }
        risk.resize(count);
        std::vector<std::uint32_t> rows(count);
        std::iota(rows.begin(), rows.end(), 0U);
        std::shuffle(rows.begin(), rows.end(), random);
        std::vector<std::uint32_t> expected = rows;
        std::ranges::stable_sort(
            expected, [&](std::uint32_t a, std::uint32_t b) { return risk[a] > risk[b]; });
        const Numbers column =
            Eigen::Map<const Numbers>(risk.data(), static_cast<Eigen::Index>(count));
        CHECK(by_falling_risk(rows, column) == expected);
    }
}

}  // namespace
}  // namespace lagline
