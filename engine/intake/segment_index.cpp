#include "intake/segment_index.h"

#include <algorithm>
#include <bit>
#include <cstring>
#include <random>

namespace lagline {
namespace {

// Multiplied to 128 bits and folded, every bit of either moves about half of those that come out.
std::uint64_t mixed(std::uint64_t a, std::uint64_t b) {
    __extension__ using Wide = unsigned __int128;
    const Wide product = static_cast<Wide>(a) * b;
    return static_cast<std::uint64_t>(product) ^ static_cast<std::uint64_t>(product >> 64U);
}

}  // namespace

SegmentIndex::SegmentIndex(std::span<const std::string_view> names, const WorkPlan& plan)
    : names_(names) {
    // Unknown to whoever wrote the file.  Nothing that comes out depends on it.
    std::random_device source;
    seed_ = (std::uint64_t{source()} << 32U) | source();
    RowVector<std::uint64_t> hashes(names.size());
    for_each_block(names.size(), plan, [&](std::size_t, RowRange range) {
        for (std::size_t row = range.begin; row < range.end; ++row) hashes[row] = hash(names[row]);
    });
    for_each_block(parts_.size(), {1, plan.threads, nullptr},
                   [&](std::size_t part, RowRange) { fill(part, hashes); });
    for (const Part& part : parts_) {
        size_ += part.size;
        doubles_.insert(doubles_.end(), part.doubles.begin(), part.doubles.end());
    }
    std::ranges::sort(doubles_, {}, &Double::row);
}

std::uint64_t SegmentIndex::hash(std::string_view name) const {
    constexpr std::uint64_t odd = 0x9E3779B97F4A7C15U;
    std::uint64_t hash = mixed(name.size() ^ odd, seed_ | 1U);
    for (std::size_t at = 0; at < name.size(); at += sizeof hash) {
        std::uint64_t word = 0;
        std::memcpy(&word, name.data() + at, std::min(sizeof word, name.size() - at));
        hash = mixed(hash ^ word, seed_ ^ odd);
    }
    return hash;
}

std::size_t SegmentIndex::slot_of(const Part& part, std::uint32_t hash,
                                  std::string_view name) const {
    const std::size_t mask = part.slots.size() - 1;
    std::size_t at = hash & mask;
    while (part.slots[at].row != nobody) {
        if (part.slots[at].hash == hash && names_[part.slots[at].row] == name) break;
        at = (at + 1) & mask;
    }
    return at;
}

void SegmentIndex::fill(std::size_t which, std::span<const std::uint64_t> hashes) {
    Part& part = parts_[which];
    const auto mine = static_cast<std::size_t>(
        std::ranges::count_if(hashes, [&](std::uint64_t hash) { return part_of(hash) == which; }));
    part.slots.assign(std::bit_ceil(2 * mine + 1), Slot{});
    for (std::uint32_t row = 0; row < hashes.size(); ++row) {
        if (part_of(hashes[row]) != which || names_[row].empty()) continue;
        const auto hash = static_cast<std::uint32_t>(hashes[row]);
        Slot& slot = part.slots[slot_of(part, hash, names_[row])];
        if (slot.row != nobody) {
            part.doubles.push_back({row, slot.row});
            continue;
        }
        slot = {hash, row};
        ++part.size;
    }
}

std::optional<std::uint32_t> SegmentIndex::find(std::string_view name) const {
    if (empty()) return std::nullopt;
    const std::uint64_t whole = hash(name);
    const Part& part = parts_[part_of(whole)];
    const std::uint32_t row =
        part.slots[slot_of(part, static_cast<std::uint32_t>(whole), name)].row;
    return row == nobody ? std::nullopt : std::optional{row};
}

}  // namespace lagline
