#include "report/csv_text.h"

#include "blocks/csv_cell.h"
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
    if (runs_as_formula(text)) {
        append_quoted_csv_cell(csv, "'" + std::string{text});
    } else {
        append_csv_cell(csv, text);
    }
}

}  // namespace lagline
