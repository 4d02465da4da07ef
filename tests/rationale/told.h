#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "plant/plant.h"
#include "ranking/explain.h"
#include "ranking/ranking.h"

namespace lagline {

/// A segment and one of its mechanisms.
struct RowName {
    std::uint32_t segment = 0;
    bool cracking = false;
    friend auto operator<=>(const RowName&, const RowName&) = default;
};

/// The numbers (or word codes) of a ranking, row by row.
class Numbers2D {
  public:
    explicit Numbers2D(const Ranking& ranking);

    [[nodiscard]] const std::vector<RowName>& rows() const { return rows_; }
    /// Keys of `row` whose number differs in the same row of `after`; one that only one of both has
    /// a value for differs.  A row that `after` lacks is left out.
    [[nodiscard]] std::set<std::string_view> changed(std::size_t row, const Numbers2D& after) const;

  private:
    [[nodiscard]] std::optional<std::size_t> same_row(std::size_t row,
                                                      const Numbers2D& after) const;

    std::vector<std::string_view> keys_;
    std::vector<RowName> rows_;
    std::vector<double> numbers_;
    std::vector<std::uint8_t> there_;
};

/// What explain() says of one quantity of a row.
struct Told {
    const ExplainedQuantity* quantity = nullptr;
    std::set<const RuleEntry*> rules;
    std::set<std::string_view> quantities;               ///< inputs that are quantities
    std::multimap<std::string_view, std::string> cells;  ///< the other inputs: key and value
    std::set<Place> places;                              ///< where those stand
};

/// The explanation of a row of a ranking.
struct ToldRow {
    Explanation explanation;
    std::map<std::string_view, Told> by_key;
};
[[nodiscard]] ToldRow tell_row(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                               std::uint32_t row);

/// True when a quantity that `told` lists as an input is among `changed`.
[[nodiscard]] bool through_an_input(const Told& told, const std::set<std::string_view>& changed);

}  // namespace lagline
