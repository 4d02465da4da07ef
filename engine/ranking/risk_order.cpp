#include "ranking/risk_order.h"

#include <algorithm>
#include <array>
#include <bit>
#include <utility>
#include <vector>

namespace lagline {
namespace {

constexpr unsigned digit_bits = 11;
constexpr unsigned digits = 6;  // 6 x 11 bits hold the 64 of a double
constexpr std::size_t digit_values = std::size_t{1} << digit_bits;
using Counts = std::array<std::uint32_t, digit_values>;

struct Entry {
    std::uint64_t key = 0;
    std::uint32_t row = 0;
};

// Falls where the risk grows, so that sorting by rising keys gives the greatest risk first.
std::uint64_t key_of(double risk) {
    const auto bits = std::bit_cast<std::uint64_t>(risk + 0.0);  // -0 is 0
    constexpr std::uint64_t sign = std::uint64_t{1} << 63U;
    return (bits & sign) != 0 ? bits : ~(bits | sign);
}

std::size_t digit_of(std::uint64_t key, unsigned digit) {
    return (key >> (digit * digit_bits)) & (digit_values - 1);
}

// Moves the entries, digit by digit from the least, each time in a stable way.
void sort_by_key(std::span<Entry> entries) {
    std::vector<Counts> counts(digits, Counts{});
    for (const Entry& entry : entries) {
        for (unsigned digit = 0; digit < digits; ++digit) {
            ++counts[digit][digit_of(entry.key, digit)];
        }
    }
    RowVector<Entry> room(entries.size());
    std::span<Entry> from = entries;
    std::span<Entry> into = room;
    for (unsigned digit = 0; digit < digits; ++digit) {
        Counts& next = counts[digit];
        if (next[digit_of(from.front().key, digit)] == from.size()) continue;  // all alike
        std::uint32_t before = 0;
        for (std::uint32_t& count : next) before += std::exchange(count, before);
        for (const Entry& entry : from) into[next[digit_of(entry.key, digit)]++] = entry;
        std::swap(from, into);
    }
    if (from.data() != entries.data()) std::ranges::copy(from, entries.begin());
}

// Entries of one key stand together; they are put as `before` has them.
void sort_equals(std::span<Entry> entries, const RowBefore& before) {
    const auto by_row = [&](const Entry& a, const Entry& b) { return before(a.row, b.row); };
    for (auto first = entries.begin(); first != entries.end();) {
        auto last = first + 1;
        while (last != entries.end() && last->key == first->key) ++last;
        // Most files have their segments in order of name already.
        if (last - first > 1 && !std::is_sorted(first, last, by_row)) {
            std::sort(first, last, by_row);
        }
        first = last;
    }
}

// Deals the entries out to parts of rising keys, which threads then sort each by itself: parts stay
// near the processor, and nothing has to be merged.  Where the parts begin is taken from a few
// entries and changes only the time.
class PartedSort {
  public:
    PartedSort(std::span<const std::uint32_t> rows, ConstColumn risk_per_year, const WorkPlan& plan)
        : rows_(rows), risk_(risk_per_year), plan_{block_rows, plan.threads, nullptr} {}

    RowVector<std::uint32_t> sorted(const RowBefore& before, std::size_t first) {
        RowVector<Entry> dealt = rows_.size() < block_rows ? take() : deal();
        RowVector<std::uint32_t> order(rows_.size());
        for_each_block(
            part_begin_.size() - 1, {1, plan_.threads, nullptr}, [&](std::size_t part, RowRange) {
                const std::size_t begin = part_begin_[part];
                const std::span<Entry> entries{dealt.data() + begin, part_begin_[part + 1] - begin};
                if (entries.empty()) return;
                if (begin < first) {
                    sort_by_key(entries);
                    sort_equals(entries, before);
                }
                std::ranges::transform(entries, order.begin() + static_cast<std::ptrdiff_t>(begin),
                                       &Entry::row);
            });
        return order;
    }

  private:
    static constexpr std::size_t block_rows = std::size_t{1} << 15U;
    static constexpr std::size_t parts = 32;
    using PartCounts = std::array<std::size_t, parts>;

    using Begins = std::array<std::uint64_t, parts>;

    // The key that each part begins with; the first takes whatever is below the second.
    [[nodiscard]] Begins choose_begins() const {
        constexpr std::size_t looked_at = 64 * parts;
        std::vector<std::uint64_t> few;
        for (std::size_t i = 0; i < looked_at; ++i) {
            few.push_back(key_of(risk_[rows_[i * rows_.size() / looked_at]]));
        }
        std::ranges::sort(few);
        Begins found{};
        for (std::size_t part = 1; part < parts; ++part) found[part] = few[64 * part];
        return found;
    }

    // The last part that begins at or below `key`, without a branch that would be guessed wrong
    // every other time.
    static std::size_t part_with(const Begins& begins, std::uint64_t key) {
        std::size_t part = 0;
        for (std::size_t step = parts / 2; step > 0; step /= 2) {
            part += begins[part + step] <= key ? step : 0;
        }
        return part;
    }

    // All in one part.
    RowVector<Entry> take() {
        RowVector<Entry> entries(rows_.size());
        for (std::size_t i = 0; i < rows_.size(); ++i) {
            entries[i] = {key_of(risk_[rows_[i]]), rows_[i]};
        }
        part_begin_ = {0, rows_.size()};
        return entries;
    }

    RowVector<Entry> deal() {
        const Begins begins = choose_begins();
        const std::size_t blocks = (rows_.size() + block_rows - 1) / block_rows;
        std::vector<PartCounts> next(blocks, PartCounts{});
        RowVector<std::uint8_t> part_of(rows_.size());
        for_each_block(rows_.size(), plan_, [&](std::size_t block, RowRange range) {
            for (std::size_t i = range.begin; i < range.end; ++i) {
                const std::size_t part = part_with(begins, key_of(risk_[rows_[i]]));
                part_of[i] = static_cast<std::uint8_t>(part);
                ++next[block][part];
            }
        });
        std::size_t before = 0;
        for (std::size_t part = 0; part < parts; ++part) {
            part_begin_.push_back(before);
            for (PartCounts& counts : next) before += std::exchange(counts[part], before);
        }
        part_begin_.push_back(before);
        RowVector<Entry> dealt(rows_.size());
        for_each_block(rows_.size(), plan_, [&](std::size_t block, RowRange range) {
            for (std::size_t i = range.begin; i < range.end; ++i) {
                dealt[next[block][part_of[i]]++] = {key_of(risk_[rows_[i]]), rows_[i]};
            }
        });
        return dealt;
    }

    std::span<const std::uint32_t> rows_;
    ConstColumn risk_;
    WorkPlan plan_;
    std::vector<std::size_t> part_begin_;
};

}  // namespace

RowVector<std::uint32_t> by_falling_risk(std::span<const std::uint32_t> rows,
                                         ConstColumn risk_per_year, const RowBefore& before,
                                         const WorkPlan& plan, std::size_t first) {
    if (rows.empty()) return {};
    return PartedSort{rows, risk_per_year, plan}.sorted(before, first);
}

std::vector<std::uint32_t> ranks_by_risk(std::span<const std::uint32_t> wanted,
                                         std::span<const std::uint32_t> rows,
                                         ConstColumn risk_per_year, const RowBefore& before,
                                         const WorkPlan& plan) {
    const auto goes_before = [&](const Entry& a, const Entry& b) {
        return a.key < b.key || (a.key == b.key && a.row != b.row && before(a.row, b.row));
    };
    std::vector<Entry> few;
    for (const std::uint32_t row : wanted) few.push_back({key_of(risk_per_year[row]), row});
    std::ranges::sort(few, goes_before);
    // of_block[b][i]: rows of block b that go before few[i] but not before few[i - 1].
    constexpr std::size_t block_rows = std::size_t{1} << 15U;
    const std::size_t blocks = (rows.size() + block_rows - 1) / block_rows;
    std::vector<std::vector<std::uint32_t>> of_block(blocks);
    for_each_block(
        rows.size(), {block_rows, plan.threads, nullptr}, [&](std::size_t block, RowRange range) {
            auto& counts = of_block[block];
            counts.assign(few.size() + 1, 0);
            for (std::size_t i = range.begin; i < range.end; ++i) {
                const Entry entry{key_of(risk_per_year[rows[i]]), rows[i]};
                const auto after = std::ranges::upper_bound(few, entry, goes_before) - few.begin();
                ++counts[static_cast<std::size_t>(after)];
            }
        });
    std::vector<std::pair<std::uint32_t, std::uint32_t>> rank_of;  // row, rank
    std::uint32_t before_it = 0;
    for (std::size_t i = 0; i < few.size(); ++i) {
        for (const auto& counts : of_block) before_it += counts[i];
        rank_of.emplace_back(few[i].row, before_it + 1);
    }
    std::ranges::sort(rank_of);
    std::vector<std::uint32_t> ranks;
    for (const std::uint32_t row : wanted) {
        ranks.push_back(std::ranges::lower_bound(rank_of, std::pair{row, 0U})->second);
    }
    return ranks;
}

}  // namespace lagline
