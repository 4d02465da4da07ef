#include "report/csv_text.h"

#include "quantity/unit.h"

namespace lagline {
namespace {

bool runs_as_formula(std::string_view text) {
    return !text.empty() &&
           std::string_view{"=+-@\t\r"}.find(text.front()) != std::string_view::npos &&
           read_number(text).fault != NumberFault::none;
}

}  // namespace

void append_csv_text(std::string& csv, std::string_view text) {
    const bool formula = runs_as_formula(text);
    if (!formula && text.find_first_of(",\"\r\n") == std::string_view::npos) {
        csv += text;
        return;
    }
    csv += '"';
    if (formula) csv += '\'';
    for (const char c : text) {
        if (c == '"') csv += '"';
        csv += c;
    }
    csv += '"';
}

}  // namespace lagline
