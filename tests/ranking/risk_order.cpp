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

TEST_CASE("rows by falling risk are those of the library's sort") {
    constexpr double least = std::numeric_limits<double>::denorm_min();
    constexpr double most = std::numeric_limits<double>::max();
    std::mt19937_64 random{5};
    std::uniform_real_distribution<double> power{-300.0, 300.0};
    for (const std::size_t count : {0U, 1U, 2U, 3U, 1000U, 5000U, 100'000U}) {
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
        // Rows of equal risk by another property of theirs, here their number backwards.
        const auto before = [](std::uint32_t a, std::uint32_t b) { return a > b; };
        std::ranges::sort(expected, [&](std::uint32_t a, std::uint32_t b) {
            return risk[a] > risk[b] || (!(risk[b] > risk[a]) && before(a, b));
        });
        const Numbers column =
            Eigen::Map<const Numbers>(risk.data(), static_cast<Eigen::Index>(count));
        for (const unsigned threads : {1U, 3U}) {
            const auto order = by_falling_risk(rows, column, before, {1024, threads, nullptr});
            CHECK(std::ranges::equal(order, expected));
            const std::size_t first = count / 7;
            const auto part =
                by_falling_risk(rows, column, before, {1024, threads, nullptr}, first);
            CHECK(
                std::ranges::equal(std::span{part}.first(first), std::span{expected}.first(first)));
            CHECK(part.size() == count);
            // Every seventh row and the first, asked for in an order of its own.
            std::vector<std::uint32_t> wanted;
            std::vector<std::uint32_t> ranks;
            for (std::size_t i = count; i-- > 0;) {
                if (i % 7 != 0) continue;
                wanted.push_back(expected[i]);
                ranks.push_back(static_cast<std::uint32_t>(i + 1));
            }
            CHECK(ranks_by_risk(wanted, rows, column, before, {1024, threads, nullptr}) == ranks);
        }
    }
}

}  // namespace
}  // namespace lagline
