#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "learning/score.h"
#include "plant/plant.h"
#include "ruleset/ruleset.h"

namespace lagline {

/// What one segment's readings say of its rate.
struct RateRatio {
    std::uint32_t segment = 0;     ///< row of segments.csv
    std::uint32_t inspection = 0;  ///< row of inspections.csv: the last that counts
    double expected_loss_mm = 0.0;
    double measured_loss_mm = 0.0;
    bool told = false;       ///< the loss was large enough to be told from the spread
    double log_ratio = 0.0;  ///< natural logarithm of measured over expected loss
};

/// A group of segments with what its readings say, and what is left of it after pooling.
struct RateFactor {
    std::string group;         ///< text or word of the column
    std::size_t readings = 0;  ///< segments with a ratio
    std::size_t told = 0;      ///< of them, with a loss that could be told
    double own = 1.0;          ///< factor by the group's readings alone
    /// 90 %; nothing where no group has two readings to show their spread.
    std::optional<Interval> own_interval;
    double factor = 1.0;     ///< drawn towards all groups
    Interval interval;       ///< 90 %
    double shrinkage = 0.0;  ///< share by which it was drawn
};

/// Factors on the corrosion rate by the groups of one column of segments.csv.
struct RateFactors {
    std::size_t field = 0;        ///< index into segment_fields()
    Date learned;                 ///< day of the last reading that counted
    double common = 1.0;          ///< factor of all groups together
    double spread_within = 0.0;   ///< standard deviation of the logarithms within a group
    double spread_between = 0.0;  ///< standard deviation of the groups' true logarithms
    double least_told_mm = 0.0;
    double least_expected_mm = 0.0;
    std::size_t with_reading = 0;  ///< ferritic segments with a reading that counts
    std::size_t too_early = 0;     ///< segments of which hardly any loss was expected
    std::vector<RateRatio> ratios;
    std::vector<RateFactor> groups;  ///< by name
    std::size_t not_grouped = 0;     ///< ratios of segments whose cell is empty
    /// Empty when the factors can be offered; otherwise why not.
    std::string refusal;
};

/// Measured over expected loss of wall of every ferritic segment with a reading that counts, as
/// logarithms (eq. 77); their means by the groups of column `field`, partially pooled (eq. 78 to
/// 84).  Site factors that were learned before are left out of the expectation, so that the new
/// ones take their place.
/// @param field  a column of texts or words: see groups_by()
[[nodiscard]] RateFactors rate_factors(const Plant& plant, const RuleSet& rules, std::size_t field);

/// Columns of segments.csv that can be grouped by: those of texts or words.
[[nodiscard]] bool groups_by(std::size_t field);

}  // namespace lagline
