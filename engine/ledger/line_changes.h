#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace lagline {

/// Where two versions of a text differ: the lines between the first and the last that are not
/// the same.  An empty range is where something was put in or taken out.
struct LineChange {
    std::size_t first_line = 0;       ///< from 1
    std::vector<std::string> before;  ///< lines of the one text in the range
    std::vector<std::string> after;   ///< lines of the other

    friend bool operator==(const LineChange&, const LineChange&) = default;
};

/// @param before,after  texts that are not the same
[[nodiscard]] LineChange line_change(std::string_view before, std::string_view after);

}  // namespace lagline
