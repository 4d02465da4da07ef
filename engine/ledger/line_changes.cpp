#include "ledger/line_changes.h"

#include <algorithm>

namespace lagline {
namespace {

std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const auto end = text.find('\n');
        lines.push_back(text.substr(0, end));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return lines;
}

}  // namespace

LineChange line_change(std::string_view before, std::string_view after) {
    const auto a = lines_of(before);
    const auto b = lines_of(after);
    const std::size_t least = std::min(a.size(), b.size());
    std::size_t head = 0;
    while (head < least && a[head] == b[head]) ++head;
    std::size_t tail = 0;
    while (tail < least - head && a[a.size() - 1 - tail] == b[b.size() - 1 - tail]) ++tail;
    const auto part = [&](const std::vector<std::string_view>& lines) {
        return std::vector<std::string>(lines.begin() + static_cast<std::ptrdiff_t>(head),
                                        lines.end() - static_cast<std::ptrdiff_t>(tail));
    };
    return {head + 1, part(a), part(b)};
}

}  // namespace lagline
