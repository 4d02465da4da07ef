#pragma once

#include <initializer_list>
#include <string>
#include <string_view>

#include "ranking/ranking.h"

namespace lagline {

/// A column of these numbers.
[[nodiscard]] Numbers column(std::initializer_list<double> numbers);

/// The column of `ranking` with this key; throws std::out_of_range when there is none.  The view
/// points into `ranking`.
[[nodiscard]] ColumnView column_of(const Ranking& ranking, std::string_view key);

/// Its number at the row of a segment.
[[nodiscard]] double number_of(const Plant& plant, const Ranking& ranking, std::string_view segment,
                               std::string_view key);

/// Its word at the row of a segment.
[[nodiscard]] std::string word_of(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                                  std::string_view segment, std::string_view key);

/// Levels of rows that are held at one temperature each.
inline std::vector<ServiceLevels> held_at(const Numbers& degc) {
    std::vector<ServiceLevels> levels(static_cast<std::size_t>(degc.size()));
    for (std::size_t i = 0; i < levels.size(); ++i) {
        levels[i].add(degc[static_cast<Eigen::Index>(i)], 1.0);
    }
    return levels;
}

}  // namespace lagline
