#pragma once

#include <map>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace lagline {

/// What an explanation leaves out though the tests here ask for it, with the reason why that is
/// right or accepted.
struct Exception {
    std::string_view subject;   ///< table, column, key of plant.yaml, or quantity; "" for all
    std::string_view quantity;  ///< "" for all
    std::string_view reason;
};

/// Tables that are not changed: they choose the columns or the rows of a ranking.
[[nodiscard]] std::span<const Exception> tables_not_changed();
/// Rule values that change a quantity and are not cited for it.
[[nodiscard]] std::span<const Exception> values_not_cited();
/// Tables with entries that are cited and change nothing in any plant tried.
[[nodiscard]] std::span<const Exception> values_without_effect();
/// Tables with entries that no segment of any plant tried uses.
[[nodiscard]] std::span<const Exception> values_never_cited();
/// Inputs that change a quantity and are not listed with it.
[[nodiscard]] std::span<const Exception> inputs_not_listed();
/// Formulas in words, and rows of which a formula does not tell all.
[[nodiscard]] std::span<const Exception> formulas_in_words();

/// True where `list` has the subject for this quantity; notes that it was needed.
[[nodiscard]] bool excepted(std::span<const Exception> list, std::string_view subject,
                            std::string_view quantity, std::set<const Exception*>& needed);
/// Exceptions that were not needed, one a line: they must be struck.
[[nodiscard]] std::string not_needed(std::span<const Exception> list,
                                     const std::set<const Exception*>& needed);

}  // namespace lagline
