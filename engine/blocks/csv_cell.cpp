#include "blocks/csv_cell.h"

namespace lagline {

void append_csv_cell(std::string& csv, std::string_view text) {
    if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
        csv += text;
    } else {
        append_quoted_csv_cell(csv, text);
    }
}

void append_quoted_csv_cell(std::string& csv, std::string_view text) {
    csv += '"';
    for (const char c : text) {
        if (c == '"') csv += '"';
        csv += c;
    }
    csv += '"';
}

}  // namespace lagline
