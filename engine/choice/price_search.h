#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "choice/priced_components.h"

namespace lagline {

struct PriceSearchOptions {
    double tolerance = 1e-5;  ///< stop when the bound can rise by no more than this part
    std::size_t most_evaluations = 300;
    std::vector<double> start_prices;                                  ///< by resource, or empty
    std::function<bool(double bound, std::size_t evaluations)> go_on;  ///< false stops
};

/// The best prices found.
struct PriceSearch {
    double bound = 0.0;          ///< no feasible choice costs less; rounding is taken off
    std::vector<double> prices;  ///< by resource, the shadow prices
    PricedChoice at_prices;      ///< the components at those prices
    std::size_t evaluations = 0;
    bool infeasible = false;  ///< the bound passed every possible cost: nothing fits
};

/// Seeks prices with the greatest bound, by cutting planes (one a block of components) inside a box
/// around the best prices so far.
/// @source docs/choice.md, "Search for the prices"
[[nodiscard]] PriceSearch search_prices(PricedComponents& components,
                                        const PriceSearchOptions& options);

}  // namespace lagline
