#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace lagline {

/// The candidate a person most likely meant by `word`: smallest edit distance (insertions,
/// deletions, substitutions, swaps of neighbours), case and "-"/"_"/space ignored, at most a third
/// of the word's length; nothing when no candidate is that near.  Ties go to the earlier candidate.
[[nodiscard]] std::optional<std::string_view> nearest(std::string_view word,
                                                      std::span<const std::string_view> candidates);

/// "did you mean 'X'?" or an empty string.
[[nodiscard]] std::string did_you_mean(std::string_view word,
                                       std::span<const std::string_view> candidates);

/// `words` joined for a sentence, at most `most` of them: "a, b, c or 4 more".
[[nodiscard]] std::string listing(std::span<const std::string_view> words, std::size_t most = 12);

}  // namespace lagline
