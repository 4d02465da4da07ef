#include "ranking/risk_order.h"

#include <array>
#include <bit>
#include <utility>

namespace lagline {
namespace {

constexpr unsigned digit_bits = 11;
constexpr unsigned digits = 6;  // 6 x 11 bits hold the 64 of a double
constexpr std::size_t buckets = std::size_t{1} << digit_bits;
using Counts = std::array<std::uint32_t, buckets>;

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
    return (key >> (digit * digit_bits)) & (buckets - 1);
}

// Moves the entries, digit by digit from the least, each time in a stable way.
void sort_by_key(std::vector<Entry>& entries) {
    std::vector<Counts> counts(digits, Counts{});
    for (const Entry& entry : entries) {
        for (unsigned digit = 0; digit < digits; ++digit) {
            ++counts[digit][digit_of(entry.key, digit)];
        }
    }
    std::vector<Entry> other(entries.size());
    for (unsigned digit = 0; digit < digits; ++digit) {
        Counts& next = counts[digit];
        if (next[digit_of(entries.front().key, digit)] == entries.size()) continue;  // all alike
        std::uint32_t before = 0;
        for (std::uint32_t& count : next) before += std::exchange(count, before);
        for (const Entry& entry : entries) other[next[digit_of(entry.key, digit)]++] = entry;
        entries.swap(other);
    }
}

}  // namespace

std::vector<std::uint32_t> by_falling_risk(std::span<const std::uint32_t> rows,
                                           ConstColumn risk_per_year) {
    if (rows.empty()) return {};
    std::vector<Entry> entries;
    entries.reserve(rows.size());
    for (const std::uint32_t row : rows) entries.push_back({key_of(risk_per_year[row]), row});
    sort_by_key(entries);
    std::vector<std::uint32_t> order;
    order.reserve(rows.size());
    for (const Entry& entry : entries) order.push_back(entry.row);
    return order;
}

}  // namespace lagline
