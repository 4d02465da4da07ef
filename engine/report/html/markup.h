#pragma once

#include <string>
#include <string_view>

namespace lagline {

/// `text` fit to stand between tags.
[[nodiscard]] std::string as_markup(std::string_view text);

}  // namespace lagline
