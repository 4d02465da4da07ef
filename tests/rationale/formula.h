#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace lagline {

/// The number behind a symbol of a printed formula; nothing where there is none.
using SymbolValue = std::function<std::optional<double>(std::string_view symbol)>;

/// Value of a formula as explain prints it: + - x / ^, products written side by side, brackets,
/// numbers, symbols, max, min, exp, sqrt, Phi, and "sum of ..._k..." over the three damage states.
/// What stands before "=" is left out.
/// @return nothing  where it is no arithmetic, or a symbol has no number
[[nodiscard]] std::optional<double> value_of(std::string_view formula, const SymbolValue& symbol);

}  // namespace lagline
