#include "report/html/markup.h"

namespace lagline {

std::string as_markup(std::string_view text) {
    std::string safe;
    for (const char each : text) {
        if (each == '<') {
            safe += "&lt;";
        } else if (each == '>') {
            safe += "&gt;";
        } else if (each == '&') {
            safe += "&amp;";
        } else {
            safe += each;
        }
    }
    return safe;
}

}  // namespace lagline
