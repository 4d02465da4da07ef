#include "rationale/world.h"

#include <utility>

namespace lagline {

World::World(RuleSet rules, PlantDescription description, std::size_t drawn)
    : rules_(std::move(rules)),
      small_(rich_plant(rules_, std::move(description), drawn)),
      plant_(assemble(small_, rules_)),
      ranking_(rank(plant_, rules_, alone)),
      numbers_(ranking_) {
    for (std::uint32_t row = 0; row < ranking_.rows(); ++row) {
        told_.push_back(tell_row(plant_, rules_, ranking_, row));
    }
}

Numbers2D World::rank_again(bool read_again) const {
    if (!read_again) return Numbers2D{rank(plant_, rules_, alone)};
    const Plant plant = assemble(small_, rules_);
    return Numbers2D{rank(plant, rules_, alone)};
}

}  // namespace lagline
