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

std::string text_of_csv(std::string_view field) {
    if (field.size() < 2 || field.front() != '"' || field.back() != '"') return std::string{field};
    field = field.substr(1, field.size() - 2);
    std::string text;
    text.reserve(field.size());
    for (std::size_t at = 0; at < field.size(); ++at) {
        text.push_back(field[at]);
        if (field.substr(at).starts_with("\"\"")) ++at;
    }
    if (text.starts_with('\'') && runs_as_formula(std::string_view{text}.substr(1)))
        text.erase(0, 1);
    return text;
}

}  // namespace lagline
