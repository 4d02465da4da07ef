#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include "ranking/explain.h"
#include "support/csv_records.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

// Lines of the files that places point into, read once each.
class Files {
  public:
    // From the place to the end of its line.
    std::string text_at(const Place& place) {
        const auto& lines = lines_of(place.file);
        REQUIRE(place.line >= 1);
        REQUIRE(static_cast<std::size_t>(place.line) <= lines.size());
        const std::string& line = lines[static_cast<std::size_t>(place.line - 1)];
        REQUIRE(place.column >= 1);
        REQUIRE(static_cast<std::size_t>(place.column - 1) <= line.size());
        return line.substr(static_cast<std::size_t>(place.column - 1));
    }
    // A cell as an independent reader finds it, by heading, in the record of the place's line.
    std::string cell(const Place& place, std::string_view key) {
        const auto& records = records_of(place.file);
        const auto& heading = records.front();
        const auto column = std::ranges::find_if(heading, [&](const std::string& each) {
            return each == key || each.starts_with(std::string{key} + " [");
        });
        REQUIRE(column != heading.end());
        const auto at = static_cast<std::size_t>(column - heading.begin());
        return records[static_cast<std::size_t>(place.line - 1)].at(at);
    }

  private:
    // Rule files are shown from the folder of the shipped sets on.
    static std::string path_of(const std::string& shown) {
        return shown.starts_with("rules/") ? LAGLINE_SOURCE_DIR "/" + shown : shown;
    }

    const std::vector<std::string>& lines_of(const std::string& file) {
        auto& lines = lines_[file];
        if (!lines.empty()) return lines;
        const std::string text = file_text(path_of(file));
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = std::min(text.find('\n', at), text.size());
            lines.push_back(text.substr(at, end - at));
            at = end + 1;
        }
        return lines;
    }
    const std::vector<std::vector<std::string>>& records_of(const std::string& file) {
        auto& records = records_[file];
        if (records.empty()) {
            records = csv_records(file_text(path_of(file)));
            // One line a record: a line number is a record number.
            REQUIRE(records.size() == lines_of(file).size());
        }
        return records;
    }

    std::map<std::string, std::vector<std::string>> lines_;
    std::map<std::string, std::vector<std::vector<std::string>>> records_;
};

std::string cell_at(Files& files, const Place& place) {
    const std::string text = files.text_at(place);
    return text.substr(0, text.find(','));
}

// "6.02 mm" is the cell "6.02" of a column in mm; "NPS 4" the cell "4".
bool says(const std::string& value, const std::string& cell) {
    return value == cell || value.starts_with(cell + " ") || value == "NPS " + cell;
}

void check_input(Files& files, const Explanation& told, const ExplainedInput& input) {
    CAPTURE(input.key);
    CAPTURE(input.value);
    CAPTURE(to_string(input.place));
    if (input.is_quantity || input.state == CellState::absent) return;
    if (input.key == "inspection") {
        REQUIRE(cell_at(files, input.place) == told.segment);
        REQUIRE(input.value.starts_with(files.cell(input.place, "date") + " "));
        return;
    }
    if (input.state == CellState::rule_default) {
        const std::string text = files.text_at(input.place);
        // A default of the set stands under its key; one by table is the table's word or number.
        if (text.starts_with(input.value)) return;
        if (!text.starts_with(input.key + ":")) {
            char* end = nullptr;
            const double printed = std::strtod(text.c_str(), &end);
            REQUIRE(end != text.c_str());
            // psi of the table against MPa of the column.
            REQUIRE(std::stod(input.value) ==
                    doctest::Approx(printed * 4.4482216152605 / (25.4 * 25.4)).epsilon(1e-12));
        }
        return;
    }
    // Lists and months stand over several cells of plant.yaml.
    if (input.place.file.ends_with("plant.yaml") && input.key != "management_score") {
        REQUIRE(input.place.line > 0);
        return;
    }
    if (input.key == "management_score") {
        REQUIRE(input.value.starts_with(files.text_at(input.place).substr(0, 2)));
        return;
    }
    if (input.state == CellState::given) {
        REQUIRE(says(input.value, cell_at(files, input.place)));
        REQUIRE(cell_at(files, input.place) == files.cell(input.place, input.key));
        return;
    }
    if (input.state == CellState::imprecise) {
        const std::string cell = cell_at(files, input.place);  // "1974" for 1974-01-01
        REQUIRE(cell.size() >= 4);
        REQUIRE(input.value.starts_with(cell));
        return;
    }
    // Implied, derived, of the plant's defaults: the empty cell that it stands for.
    REQUIRE(cell_at(files, input.place).empty());
    REQUIRE(files.cell(input.place, input.key).empty());
}

// The value that stands at a place of a rule file: "1.25", "B", "\"3\"", "{value: 1.25, ...}".
void check_rule(Files& files, const RuleEntry& entry) {
    CAPTURE(entry.key);
    CAPTURE(to_string(entry.place));
    std::string text = files.text_at(entry.place);
    if (text.starts_with("{")) text = text.substr(text.find("value: ") + 7);
    if (text.starts_with("value: ")) text = text.substr(7);
    if (!entry.word.empty()) {
        if (text.starts_with("\"")) text = text.substr(1);
        REQUIRE(text.starts_with(entry.word));
        return;
    }
    char* end = nullptr;
    const double printed = std::strtod(text.c_str(), &end);
    REQUIRE(end != text.c_str());
    REQUIRE(printed == entry.printed);
}

TEST_CASE("sample plant: explain's places are those of the cells and rule entries they tell") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    Files files;
    std::size_t inputs = 0;
    std::size_t rules = 0;
    for (std::uint32_t row = 0; row < ranking.rows(); ++row) {
        const Explanation told = explain(plant, published_rules(), ranking, row);
        CAPTURE(told.segment);
        REQUIRE(cell_at(files, told.place) == told.segment);
        for (const ExplainedQuantity& quantity : told.quantities) {
            CAPTURE(quantity.info->key);
            for (const ExplainedInput& input : quantity.inputs) check_input(files, told, input);
            for (const ExplainedRule& rule : quantity.rules) check_rule(files, *rule.entry);
            inputs += quantity.inputs.size();
            rules += quantity.rules.size();
        }
        for (const ExplainedInspection& inspection : told.inspections) {
            REQUIRE(cell_at(files, inspection.place) == told.segment);
            REQUIRE(files.cell(inspection.place, "date") == to_string(inspection.date));
            REQUIRE(files.cell(inspection.place, "technique") == inspection.technique);
            check_rule(files, *inspection.rule);
        }
    }
    CHECK(inputs > 10000);
    CHECK(rules > 10000);
}

}  // namespace
}  // namespace lagline
