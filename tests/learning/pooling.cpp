#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>

#include "learning/partial_pooling.h"

namespace lagline {
namespace {

/// One row of pooling_reference.txt, made by pooling_reference.py with SciPy.
struct ReferenceGroup {
    GroupMean group;
    double shrinkage = 0.0, mean = 0.0, variance = 0.0, bayes_mean = 0.0, bayes_deviation = 0.0;
};
struct Reference {
    double between = -1.0;
    double common = 0.0;
    std::vector<ReferenceGroup> groups;
    [[nodiscard]] std::vector<GroupMean> means() const {
        std::vector<GroupMean> all;
        for (const ReferenceGroup& each : groups) all.push_back(each.group);
        return all;
    }
};

Reference reference(const std::string& set) {
    std::ifstream in(LAGLINE_SOURCE_DIR "/tests/learning/pooling_reference.txt");
    Reference found;
    for (std::string line; std::getline(in, line);) {
        std::istringstream cells(line);
        std::string name;
        std::string word;
        cells >> name;
        if (name != set) continue;
        if (line.find("between") != std::string::npos) {
            cells >> word >> found.between >> word >> found.common;
            continue;
        }
        ReferenceGroup row;
        cells >> row.group.mean >> row.group.variance >> row.shrinkage >> row.mean >>
            row.variance >> row.bayes_mean >> row.bayes_deviation;
        REQUIRE(!cells.fail());
        found.groups.push_back(row);
    }
    REQUIRE(found.between >= 0.0);
    return found;
}

bool close(double got, double expected, double relative) {
    return std::abs(got - expected) <= relative * std::abs(expected);
}

TEST_CASE("pooling agrees with SciPy (pooling_reference.py) on three data sets, to 6 digits") {
    for (const char* set : {"schools", "batting", "unequal"}) {
        CAPTURE(set);
        const Reference expected = reference(set);
        REQUIRE(expected.groups.size() >= 6);
        const PooledGroups got = pool_groups(expected.means());
        // A likelihood is flat at its top: half of the digits of a number.
        CHECK(close(got.between_variance, expected.between, 1e-6));
        CHECK(close(got.common_mean, expected.common, 1e-7));
        for (std::size_t i = 0; i < expected.groups.size(); ++i) {
            CAPTURE(i);
            CHECK(close(got.groups[i].shrinkage, expected.groups[i].shrinkage, 1e-6));
            CHECK(close(got.groups[i].mean, expected.groups[i].mean, 1e-6));
            CHECK(close(got.groups[i].variance, expected.groups[i].variance, 1e-6));
        }
    }
}

TEST_CASE(
    "Efron & Morris 1977, batting averages: shrinking factor 0.212, Clemente .294 (recalled)") {
    const Reference batting = reference("batting");
    const PooledGroups got = pool_groups(batting.means());
    // Stein's paradox in statistics, Scientific American 236(5), 119-127: c = 0.212, grand mean
    // .265, James-Stein estimates to three digits.
    CHECK(std::round(1000.0 * (1.0 - got.groups[0].shrinkage)) == 212.0);
    CHECK(std::round(1000.0 * got.common_mean) == 265.0);
    CHECK(std::round(1000.0 * got.groups[0].mean) == 294.0);   // Clemente, .400
    CHECK(std::round(1000.0 * got.groups[17].mean) == 242.0);  // Alvis, .156
}

TEST_CASE("Rubin 1981, eight schools: pooled 7.7 +/- 4.1, no variance between (BDA, section 5.5)") {
    const Reference schools = reference("schools");
    const PooledGroups got = pool_groups(schools.means());
    CHECK(got.between_variance == 0.0);
    CHECK(std::round(10.0 * got.common_mean) == 77.0);
    double weight = 0.0;
    for (const GroupMean& each : schools.means()) weight += 1.0 / each.variance;
    CHECK(std::round(10.0 / std::sqrt(weight)) == 41.0);
}

TEST_CASE("empirical Bayes stays within a third of a deviation of full Bayes by SciPy") {
    for (const char* set : {"schools", "batting", "unequal"}) {
        CAPTURE(set);
        const Reference expected = reference(set);
        const PooledGroups got = pool_groups(expected.means());
        for (std::size_t i = 0; i < expected.groups.size(); ++i) {
            CAPTURE(i);
            const ReferenceGroup& bayes = expected.groups[i];
            CHECK(std::abs(got.groups[i].mean - bayes.bayes_mean) < bayes.bayes_deviation / 3.0);
        }
    }
}

TEST_CASE("a group's estimate lies between its own mean and the common one") {
    const std::vector<GroupMean> groups{
        {1.0, 0.5}, {-2.0, 0.1}, {0.4, 2.0}, {0.1, 0.01}, {3.0, 1.0}};
    const PooledGroups got = pool_groups(groups);
    for (std::size_t i = 0; i < groups.size(); ++i) {
        const double own = groups[i].mean;
        CHECK(got.groups[i].mean >= std::min(own, got.common_mean));
        CHECK(got.groups[i].mean <= std::max(own, got.common_mean));
        CHECK(got.groups[i].shrinkage > 0.0);
        CHECK(got.groups[i].shrinkage < 1.0);
        CHECK(got.groups[i].variance > 0.0);
    }
    // The less sure a group is of itself, the more it is drawn.
    CHECK(got.groups[2].shrinkage > got.groups[0].shrinkage);
    CHECK(got.groups[0].shrinkage > got.groups[3].shrinkage);
}

TEST_CASE("moving or stretching all means moves or stretches the result") {
    const std::vector<GroupMean> groups{
        {1.0, 0.5}, {-2.0, 0.1}, {0.4, 2.0}, {0.1, 0.01}, {3.0, 1.0}};
    std::vector<GroupMean> other;
    for (const GroupMean& each : groups)
        other.push_back({7.0 - 3.0 * each.mean, 9.0 * each.variance});
    const PooledGroups first = pool_groups(groups);
    const PooledGroups second = pool_groups(other);
    for (std::size_t i = 0; i < groups.size(); ++i) {
        CHECK(second.groups[i].mean ==
              doctest::Approx(7.0 - 3.0 * first.groups[i].mean).epsilon(1e-9));
        CHECK(second.groups[i].variance ==
              doctest::Approx(9.0 * first.groups[i].variance).epsilon(1e-9));
    }
}

TEST_CASE("three groups cannot be pooled") {
    const std::vector<GroupMean> groups{{1.0, 0.5}, {-2.0, 0.1}, {0.4, 2.0}};
    CHECK_THROWS_AS(static_cast<void>(pool_groups(groups)), std::invalid_argument);
}

}  // namespace
}  // namespace lagline
