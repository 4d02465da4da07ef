#include "rationale/told.h"

#include <algorithm>
#include <cmath>

namespace lagline {
namespace {

RowName name_of(const Ranking& ranking, std::uint32_t row) {
    return {ranking.segment_rows[row], row >= ranking.mechanism_rows.wall_loss};
}

// An iteration that starts elsewhere ends within its own tolerance.
bool same_number(double a, double b) {
    constexpr double noise = 1e-9;
    if (std::isnan(a) || std::isnan(b)) return std::isnan(a) && std::isnan(b);
    return a == b || std::abs(a - b) <= noise * std::max(std::abs(a), std::abs(b));
}

}  // namespace

Numbers2D::Numbers2D(const Ranking& ranking) {
    const auto views = ranking.views();
    for (const ColumnView& column : views) keys_.push_back(column.info->key);
    for (std::uint32_t row = 0; row < ranking.rows(); ++row) {
        rows_.push_back(name_of(ranking, row));
        for (const ColumnView& column : views) {
            const bool there = column.covers(row);
            there_.push_back(there ? 1 : 0);
            if (!there) {
                numbers_.push_back(0.0);
            } else {
                numbers_.push_back(column.is_words() ? column.code(row) : column.number(row));
            }
        }
    }
}

std::optional<std::size_t> Numbers2D::same_row(std::size_t row, const Numbers2D& after) const {
    if (row < after.rows_.size() && after.rows_[row] == rows_[row]) return row;
    const auto found = std::ranges::find(after.rows_, rows_[row]);
    if (found == after.rows_.end()) return std::nullopt;
    return static_cast<std::size_t>(found - after.rows_.begin());
}

std::set<std::string_view> Numbers2D::changed(std::size_t row, const Numbers2D& after) const {
    std::set<std::string_view> changed;
    const auto other = same_row(row, after);
    if (!other || keys_ != after.keys_) return changed;
    for (std::size_t i = 0; i < keys_.size(); ++i) {
        const std::size_t mine = row * keys_.size() + i;
        const std::size_t its = *other * keys_.size() + i;
        if (there_[mine] == 0) continue;
        if (after.there_[its] == 0 || !same_number(numbers_[mine], after.numbers_[its])) {
            changed.insert(keys_[i]);
        }
    }
    return changed;
}

ToldRow tell_row(const Plant& plant, const RuleSet& rules, const Ranking& ranking,
                 std::uint32_t row) {
    ToldRow told{explain(plant, rules, ranking, row), {}};
    for (const ExplainedQuantity& quantity : told.explanation.quantities) {
        Told& one = told.by_key[quantity.info->key];
        one.quantity = &quantity;
        for (const ExplainedRule& rule : quantity.rules) one.rules.insert(rule.entry);
        for (const ExplainedInput& input : quantity.inputs) {
            if (input.is_quantity) {
                one.quantities.insert(input.key);
            } else {
                one.cells.emplace(input.key, input.value);
                one.places.insert(input.place);
            }
        }
    }
    return told;
}

bool through_an_input(const Told& told, const std::set<std::string_view>& changed) {
    return std::ranges::any_of(told.quantities,
                               [&](std::string_view key) { return changed.contains(key); });
}

}  // namespace lagline
