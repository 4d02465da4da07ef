#include "cli/words.h"

#include <algorithm>

namespace lagline::cli {

std::vector<std::string> split(std::string_view text, char at) {
    std::vector<std::string> parts;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(at), text.size());
        parts.emplace_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return parts;
}

std::string joined(const std::vector<std::string>& words, std::string_view between) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) text += between;
        text += words[i];
    }
    return text;
}

}  // namespace lagline::cli
