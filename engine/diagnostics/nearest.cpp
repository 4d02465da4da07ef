#include "diagnostics/nearest.h"

#include <algorithm>
#include <cstddef>
#include <vector>

#include "diagnostics/text.h"

namespace lagline {
namespace {

/// `word` as it is compared: lower case, without the characters that people swap for each other.
std::string comparable(std::string_view word) {
    std::string text = ascii_lower(word);
    std::erase_if(text, [](char c) { return c == '-' || c == '_' || c == ' '; });
    return text;
}

/// Edits from `a` to `b`, a swap of neighbours being one (optimal string alignment), in bytes.
std::size_t edits(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before(b.size() + 1);
    std::vector<std::size_t> above(b.size() + 1);
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) above[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t substituted = above[j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U);
            row[j] = std::min({above[j] + 1, row[j - 1] + 1, substituted});
            const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
        }
        before.swap(above);
        above.swap(row);
    }
    return above[b.size()];
}

}  // namespace

std::optional<std::string_view> nearest(std::string_view word,
                                        std::span<const std::string_view> candidates) {
    const std::string wanted = comparable(word);
    if (wanted.empty()) return std::nullopt;
    const std::size_t limit = wanted.size() / 3;
    std::optional<std::string_view> best;
    std::size_t best_edits = limit + 1;
    for (const auto candidate : candidates) {
        const std::string offered = comparable(candidate);
        const std::size_t gap = wanted.size() > offered.size() ? wanted.size() - offered.size()
                                                               : offered.size() - wanted.size();
        if (gap >= best_edits) continue;  // keeps a huge word from costing much
        const std::size_t distance = edits(wanted, offered);
        if (distance >= best_edits) continue;
        best = candidate;
        best_edits = distance;
    }
    return best;
}

std::string did_you_mean(std::string_view word, std::span<const std::string_view> candidates) {
    const auto meant = nearest(word, candidates);
    if (!meant) return {};
    return "did you mean '" + std::string(*meant) + "'?";
}

std::string listing(std::span<const std::string_view> words, std::size_t most) {
    const std::size_t shown = std::min(words.size(), most);
    const std::size_t more = words.size() - shown;
    std::string text;
    for (std::size_t i = 0; i < shown; ++i) {
        const bool last = more == 0 && i + 1 == shown;
        if (i > 0) text += last ? " or " : ", ";
        text += words[i];
    }
    if (more == 0) return text;
    if (shown > 0) text += " or ";
    return text + std::to_string(more) + " more";
}

}  // namespace lagline
