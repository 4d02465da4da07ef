#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <cstdint>
#include <functional>
#include <span>
#include <string_view>
#include <vector>

#include "blocks/parallel.h"
#include "blocks/row_vector.h"

namespace lagline {

/// A column of numbers; its name ends in the unit.
using Numbers = Eigen::ArrayXd;
/// A column of word codes (or of 0 and 1).
using Codes = Eigen::Array<std::uint8_t, Eigen::Dynamic, 1>;

/// Gives a column so many rows, which are not filled.
template <class ColumnType>
void make_rows(ColumnType& column, Eigen::Index rows) {
    column.resize(rows);
    advise_large_pages(column.data(),
                       static_cast<std::size_t>(rows) * sizeof(typename ColumnType::Scalar));
}

using ColumnRef = Eigen::Ref<const Eigen::ArrayXd>;
using ConstColumn = const ColumnRef&;
using Column = Eigen::Ref<Eigen::ArrayXd>;

/// Stands in a unit for the currency of the plant.
inline constexpr std::string_view currency_sign = "\u00A4";

/// The order in which a segment is explained: the four barriers against corrosion under insulation,
/// then what happens when they fail.
enum class Barrier : std::uint8_t { material, coating, water, design, damage, consequence, risk };
[[nodiscard]] constexpr std::string_view title_of(Barrier barrier) {
    switch (barrier) {
        case Barrier::material:
            return "Material and its temperature";
        case Barrier::coating:
            return "Coating";
        case Barrier::water:
            return "Water";
        case Barrier::design:
            return "Design";
        case Barrier::damage:
            return "Damage and its probability";
        case Barrier::consequence:
            return "Consequence";
        case Barrier::risk:
            return "Risk";
    }
    return "";
}

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
    Barrier barrier = Barrier::damage;
};

/// One filled column with its description; exactly one of `numbers` and `codes` has rows.  A column
/// of one mechanism spans the rows of that mechanism only: [first, first + size).
struct ColumnView {
    const QuantityInfo* info = nullptr;
    std::span<const double> numbers;
    std::span<const std::uint8_t> codes;
    std::size_t first = 0;
    std::span<const std::uint8_t> filled = {};  ///< 1 where a row has a value; empty: all have

    [[nodiscard]] bool is_words() const { return !info->words.empty(); }
    /// True when the mechanism of `row` has such a column.
    [[nodiscard]] bool spans(std::size_t row) const {
        return row >= first && row - first < std::max(numbers.size(), codes.size());
    }
    /// True when `row` has a value in it.
    [[nodiscard]] bool covers(std::size_t row) const {
        return spans(row) && (filled.empty() || filled[row - first] != 0);
    }
    [[nodiscard]] double number(std::size_t row) const { return numbers[row - first]; }
    [[nodiscard]] std::uint8_t code(std::size_t row) const { return codes[row - first]; }
};

[[nodiscard]] inline ColumnView view(const QuantityInfo& info, const Numbers& column) {
    return {&info, {column.data(), static_cast<std::size_t>(column.size())}, {}};
}
[[nodiscard]] inline ColumnView view(const QuantityInfo& info, const Codes& column) {
    return {&info, {}, {column.data(), static_cast<std::size_t>(column.size())}};
}

/// The same with values only in rows where `filled` is 1.
template <class ColumnType>
[[nodiscard]] ColumnView view(const QuantityInfo& info, const ColumnType& column,
                              const Codes& filled) {
    ColumnView part = view(info, column);
    part.filled = {filled.data(), static_cast<std::size_t>(filled.size())};
    return part;
}

/// Describes a column of numbers.
constexpr QuantityInfo number_info(std::string_view key, std::string_view unit,
                                   std::string_view symbol, std::string_view equation,
                                   std::string_view formula, std::string_view source,
                                   std::string_view meaning, Barrier barrier,
                                   std::span<const std::string_view> inputs,
                                   std::span<const std::string_view> tables = {}) {
    return {.key = key,
            .unit = unit,
            .words = "",
            .symbol = symbol,
            .equation = equation,
            .formula = formula,
            .source = source,
            .meaning = meaning,
            .inputs = inputs,
            .tables = tables,
            .barrier = barrier};
}

/// Describes a column of word codes.
constexpr QuantityInfo word_info(std::string_view key, std::string_view words,
                                 std::string_view symbol, std::string_view equation,
                                 std::string_view formula, std::string_view source,
                                 std::string_view meaning, Barrier barrier,
                                 std::span<const std::string_view> inputs,
                                 std::span<const std::string_view> tables = {}) {
    QuantityInfo info =
        number_info(key, "", symbol, equation, formula, source, meaning, barrier, inputs, tables);
    info.words = words;
    return info;
}

/// Adds the column to `all` where the models of the rule set have it, with or without rows.
template <class ColumnType>
void add_if(bool has, std::vector<ColumnView>& all, const QuantityInfo& info,
            const ColumnType& column) {
    if (has) all.push_back(view(info, column));
}

/// Calls `work(i, rows[i])` for i in `range`.  Where the rows follow one another, as they mostly
/// do, the compiler is told so: only then can it work on several at a time.
template <class Work>
void for_rows(std::span<const std::uint32_t> rows, RowRange range, Work work) {
    if (range.size() == 0) return;
    const std::uint32_t first = rows[range.begin];
    const auto mine = rows.subspan(range.begin, range.size());
    const bool rising =
        std::adjacent_find(mine.begin(), mine.end(), std::greater_equal{}) == mine.end();
    if (rising && rows[range.end - 1] - first == range.size() - 1) {
        for (std::size_t i = 0; i < range.size(); ++i) {
            work(range.begin + i, first + static_cast<std::uint32_t>(i));
        }
    } else {
        for (std::size_t i = range.begin; i < range.end; ++i) work(i, rows[i]);
    }
}

/// into[i] = from[rows[i]].
inline void gather(std::span<const double> from, std::span<const std::uint32_t> rows, Column into) {
    for_rows(rows, {0, rows.size()}, [&](std::size_t i, std::uint32_t row) {
        into[static_cast<Eigen::Index>(i)] = from[row];
    });
}

}  // namespace lagline
