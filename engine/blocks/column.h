#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <span>
#include <string_view>

namespace lagline {

/// A column of numbers; its name ends in the unit.
using Numbers = Eigen::ArrayXd;
/// A column of word codes (or of 0 and 1).
using Codes = Eigen::Array<std::uint8_t, Eigen::Dynamic, 1>;

using ColumnRef = Eigen::Ref<const Eigen::ArrayXd>;
using ConstColumn = const ColumnRef&;
using Column = Eigen::Ref<Eigen::ArrayXd>;

/// Stands in a unit for the currency of the plant.
inline constexpr std::string_view currency_sign = "\u00A4";

/// What there is to know of a quantity that the method calculates.  The number in the column and
/// its rationale are the same thing: explaining a segment is reading columns by this description.
struct QuantityInfo {
    std::string_view key;       ///< heading of the output column
    std::string_view unit;      ///< "" for a pure number; currency_sign stands for the currency
    std::string_view words;     ///< vocabulary of a column of codes; "" for numbers
    std::string_view symbol;    ///< as in docs/method.md
    std::string_view equation;  ///< number in docs/method.md, "eq. 5"
    std::string_view formula;   ///< in words and symbols
    std::string_view source;    ///< document, edition, table or section
    std::string_view meaning;
    std::span<const std::string_view> inputs;  ///< keys of quantities and columns it is made of
    std::span<const std::string_view> tables;  ///< rule tables it reads
    int digits = 4;                            ///< significant digits for people; programs get all
};

/// One filled column with its description; exactly one of `numbers` and `codes` has rows.
struct ColumnView {
    const QuantityInfo* info = nullptr;
    std::span<const double> numbers;
    std::span<const std::uint8_t> codes;
};

[[nodiscard]] inline ColumnView view(const QuantityInfo& info, const Numbers& column) {
    return {&info, {column.data(), static_cast<std::size_t>(column.size())}, {}};
}
[[nodiscard]] inline ColumnView view(const QuantityInfo& info, const Codes& column) {
    return {&info, {}, {column.data(), static_cast<std::size_t>(column.size())}};
}

/// into[i] = from[rows[i]].
inline void gather(std::span<const double> from, std::span<const std::uint32_t> rows, Column into) {
    for (std::size_t i = 0; i < rows.size(); ++i) {
        into[static_cast<Eigen::Index>(i)] = from[rows[i]];
    }
}

}  // namespace lagline
