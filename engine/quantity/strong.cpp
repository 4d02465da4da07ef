#include "quantity/strong.h"

#include <algorithm>

namespace lagline {

bool is_currency_code(const std::string& text) {
    return text.size() == 3 &&
           std::ranges::all_of(text, [](char c) { return c >= 'A' && c <= 'Z'; });
}

}  // namespace lagline
