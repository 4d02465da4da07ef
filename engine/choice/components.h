#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "choice/choice_problem.h"

namespace lagline {

/// A choice problem taken apart into components that share nothing but resources.  A component has
/// members that act on their own once it is decided which accesses are open: a unit, or a bundle of
/// units.  All subsets of its accesses are looked at, so their number has a limit.  Where units
/// that share accesses have more, the cost of these is split evenly among the units that could need
/// them; a bundle whose link would make a component too large is left unlinked.  Both can only
/// lower the priced objective, so that a bound stays a bound.
/// @source docs/choice.md, "Components"
struct Components {
    std::vector<std::uint32_t> first_member{0};  ///< by component
    std::vector<std::uint32_t> first_unit{0};    ///< by member, into `units`
    std::vector<UnitIndex> units;
    IndexTable access;                ///< by component: place in the list is the bit in a mask
    IndexTable patterns;              ///< by member: empty for a single unit
    std::vector<std::uint32_t> mask;  ///< by strategy: accesses it needs, as bits
    std::vector<double> share;        ///< by access: what each needing strategy pays; else 0
    std::size_t relaxed_bundles = 0;
    std::size_t shared_accesses = 0;

    [[nodiscard]] std::size_t size() const { return first_member.size() - 1; }
};

/// @param most_accesses  of one component, 1 to 20; the work grows as 2^most_accesses
[[nodiscard]] Components components_of(const ChoiceProblem& problem, std::size_t most_accesses);

}  // namespace lagline
