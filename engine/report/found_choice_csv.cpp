#include "report/found_choice_csv.h"

#include <charconv>
#include <stdexcept>
#include <vector>

#include "blocks/csv_cell.h"
#include "blocks/number_text.h"
#include "intake/csv.h"
#include "intake/source_file.h"
#include "report/plan_text.h"

namespace lagline {
namespace {

constexpr const char* file = "search.csv";

void add_row(std::string& csv, std::string_view what, std::string_view name,
             const std::string& value) {
    csv.append(what).append(",");
    append_csv_cell(csv, name);
    csv.append(",").append(value).append("\n");
}

template <class Number>
Number number_of(std::string_view text) {
    Number number{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc{} || end != text.data() + text.size()) {
        throw std::runtime_error(std::string{file} + " holds no number: " + std::string{text});
    }
    return number;
}

void take(const std::vector<CsvCell>& cells, FoundChoice& found) {
    if (cells.size() != 3) throw std::runtime_error(std::string{file} + " is not as it was stored");
    const std::string_view what = cells[0].text;
    const std::string_view value = cells[2].text;
    if (what == "bound") {
        found.bound = number_of<double>(value);
    } else if (what == "overrun_bound") {
        found.weighted_overrun_bound = number_of<double>(value);
    } else if (what == "price") {
        found.prices.push_back(number_of<double>(value));
    } else if (what == "choice") {
        found.strategies.push_back(number_of<std::uint32_t>(value));
    } else {
        throw std::runtime_error(std::string{file} + " is not as it was stored");
    }
}

}  // namespace

std::string found_choice_csv(const Plant& plant, const RuleSet& rules, const Plan& plan) {
    const FoundChoice found = found_choice(plan);
    std::string csv = "what,name,value\n";
    add_row(csv, "bound", "", exact_number(found.bound));
    add_row(csv, "overrun_bound", "", exact_number(found.weighted_overrun_bound));
    for (std::size_t r = 0; r < found.prices.size(); ++r) {
        const PlanResource& limit = plan.resources[r];
        add_row(csv, "price",
                plan.windows[limit.window].name + " " + name_of_limit(rules, limit.craft),
                exact_number(found.prices[r]));
    }
    const auto names = plant.segments.texts(SegmentField::segment);
    for (std::size_t row = 0; row < found.strategies.size(); ++row) {
        add_row(csv, "choice", names[plan.segments[row].segment_row],
                std::to_string(found.strategies[row]));
    }
    return csv;
}

FoundChoice read_found_choice(std::string csv) {
    Report report;
    const auto source = source_from_text(std::move(csv), file, report);
    FoundChoice found;
    if (!source) throw std::runtime_error(std::string{file} + " cannot be read");
    const CsvRecords records = find_records(*source, report);
    std::vector<CsvCell> cells;
    std::vector<CsvFault> faults;
    for (std::size_t i = 1; i < records.offsets.size(); ++i) {
        split_record(source->bytes, records.offsets[i], cells, faults);
        take(cells, found);
    }
    return found;
}

}  // namespace lagline
