#pragma once

#include <map>

#include "rationale/rich_plant.h"
#include "rationale/told.h"

namespace lagline {

/// A rich plant with its ranking and explanations, to be ranked again by changed rules or cells.
class World {
  public:
    World(RuleSet rules, PlantDescription description, std::size_t drawn);

    [[nodiscard]] RuleSet& rules() { return rules_; }
    [[nodiscard]] const SmallPlant& small() const { return small_; }
    [[nodiscard]] const Plant& plant() const { return plant_; }
    [[nodiscard]] const Ranking& ranking() const { return ranking_; }
    [[nodiscard]] const Numbers2D& numbers() const { return numbers_; }
    /// By row of the ranking.
    [[nodiscard]] const ToldRow& told(std::size_t row) const { return told_[row]; }

    /// By the rules as they are now.
    /// @param read_again  the plant too: intake takes defaults from some tables
    [[nodiscard]] Numbers2D rank_again(bool read_again) const;

  private:
    RuleSet rules_;
    SmallPlant small_;
    Plant plant_;
    Ranking ranking_;
    Numbers2D numbers_;
    std::vector<ToldRow> told_;
};

/// One thread: these rankings are small.
inline constexpr WorkPlan alone{.block_rows = 64, .threads = 1};

}  // namespace lagline
