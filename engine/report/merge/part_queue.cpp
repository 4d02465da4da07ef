#include "report/merge/part_queue.h"

#include <algorithm>
#include <stdexcept>

namespace lagline {
namespace {

// What the buffers of all parts take together, as far as there are few parts enough.
constexpr std::size_t all_buffers = std::size_t{1} << 26U;
constexpr std::size_t least_buffer = std::size_t{1} << 13U;
constexpr std::size_t most_buffer = std::size_t{1} << 20U;

}  // namespace

PartQueue::PartQueue(const RankingHeading& heading, std::span<const PartFile> files,
                     std::span<const RankedPart> parts, const RowKeys& keys)
    : heading_(heading), keys_(keys) {
    const std::size_t share = all_buffers / std::max<std::size_t>(1, parts.size());
    const std::size_t buffer = std::clamp(share, least_buffer, most_buffer);
    for (const RankedPart& part : parts) {
        if (part.rows == 0) continue;
        heads_.push_back({.reader = {files[part.file], part.begin, part.end, part.line, buffer},
                          .row = part.first_row,
                          .end_row = part.first_row + part.rows});
    }
    for (std::size_t i = 0; i < heads_.size(); ++i) {
        read_head(heads_[i]);
        heap_.push_back(i);
    }
    std::ranges::make_heap(heap_, [this](auto a, auto b) { return goes_behind(a, b); });
}

void PartQueue::read_head(Head& head) {
    if (!head.reader.next()) throw std::runtime_error("a part ended early; was it changed?");
    cut_at_commas(head.reader.record(), cells_);
    if (cells_.size() != heading_.columns) throw std::runtime_error("a part was changed");
    head.risk = number_in(cells_[heading_.risk].of(head.reader.record()));
    if (heading_.today) head.rank_today = cells_[heading_.today->rank];
}

bool PartQueue::goes_behind(std::size_t a, std::size_t b) const {
    const Head& left = heads_[a];
    const Head& right = heads_[b];
    if (left.risk < right.risk) return true;
    if (left.risk > right.risk) return false;
    return keys_.name(left.row) > keys_.name(right.row);
}

void PartQueue::append_first(std::size_t rank, std::string& csv) {
    const auto behind = [this](auto a, auto b) { return goes_behind(a, b); };
    std::ranges::pop_heap(heap_, behind);
    Head& head = heads_[heap_.back()];
    const std::string_view record = head.reader.record();
    std::string_view rest = record.substr(record.find(','));
    csv += std::to_string(rank);
    if (heading_.today) {
        const std::size_t skipped = record.size() - rest.size();
        csv += rest.substr(0, head.rank_today.begin - skipped);
        const std::uint32_t today = keys_.rank_today[head.row];
        if (today > 0) csv += std::to_string(today);
        rest.remove_prefix(head.rank_today.end - skipped);
    }
    csv += rest;
    csv += '\n';
    if (++head.row == head.end_row) {
        heap_.pop_back();
        return;
    }
    read_head(head);
    std::ranges::push_heap(heap_, behind);
}

}  // namespace lagline
