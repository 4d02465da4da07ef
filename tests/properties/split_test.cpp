// A ranking is made row by row: two halves of a plant, ranked apart and merged by risk, are the
// ranking of the whole.
#include <doctest/doctest.h>

#include <algorithm>
#include <charconv>
#include <filesystem>

#include "random_plant.h"
#include "report/ranking_csv.h"
#include "support/csv_records.h"
#include "support/rules.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

using Records = std::vector<std::vector<std::string>>;

std::string ranking_of(const fs::path& folder, const RuleSet& rules) {
    const Date at = make_date(2027, 4, 5);
    const LoadedPlant loaded = load_plant(folder, rules, {at, at, {}});
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant.has_value());
    return ranking_csv(*loaded.plant, rules, rank(*loaded.plant, rules), 0);
}

std::size_t column_at(const Records& records, std::string_view key) {
    for (std::size_t i = 0; i < records.front().size(); ++i) {
        const std::string_view heading = records.front()[i];
        if (heading.substr(0, heading.find(" [")) == key) return i;
    }
    throw std::runtime_error(std::string{key} + " is no column");
}

double number_in(const std::string& text) {
    double value = 0.0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value;
}

/// Rows of both by falling risk, equal ones by name, with new ranks.
Records merged(Records one, const Records& other) {
    const std::size_t risk = column_at(one, "risk");
    const std::size_t name = column_at(one, "segment");
    const std::size_t rank = column_at(one, "rank");
    REQUIRE(one.front() == other.front());
    one.insert(one.end(), other.begin() + 1, other.end());
    std::stable_sort(one.begin() + 1, one.end(), [&](const auto& a, const auto& b) {
        const double left = number_in(a[risk]);
        const double right = number_in(b[risk]);
        return left != right ? left > right : a[name] < b[name];
    });
    for (std::size_t i = 1; i < one.size(); ++i) one[i][rank] = std::to_string(i);
    return one;
}

/// Lines of a table whose second field (line of the segment) or name goes to this half.
std::string half_of(const std::string& file, bool first_half) {
    const std::string text = file_text(file);
    std::string half;
    std::size_t number = 0;
    for (std::size_t at = 0; at < text.size(); ++number) {
        const std::size_t end = text.find('\n', at);
        const std::string line = text.substr(at, end - at + 1);
        // "S-00123": odd segments here, even ones there.
        const std::size_t name = line.find(',');
        const bool odd = (line[name - 1] - '0') % 2 == 1;
        if (number == 0 || odd == first_half) half += line;
        at = end + 1;
    }
    return half;
}

TEST_CASE("halves of the sample plant merge into the ranking of the whole, to the byte") {
    const fs::path sample = fs::path{LAGLINE_SOURCE_DIR} / "sample-plant" / "plant";
    for (const RuleSet* rules : {&published_rules(), &extended_rules()}) {
        std::vector<Records> parts;
        for (const bool first_half : {true, false}) {
            const TempFolder folder;
            for (const auto* name : {"plant.yaml", "turnarounds.csv"}) {
                fs::copy_file(sample / name, folder.path() / name);
            }
            for (const auto* name : {"segments.csv", "inspections.csv"}) {
                folder.write(name, half_of((sample / name).string(), first_half));
            }
            parts.push_back(csv_records(ranking_of(folder.path(), *rules)));
            REQUIRE(parts.back().size() > 200);
        }
        const Records whole = csv_records(ranking_of(sample, *rules));
        CHECK(whole.size() == parts[0].size() + parts[1].size() - 1);
        CHECK((merged(parts[0], parts[1]) == whole));
    }
}

}  // namespace
}  // namespace lagline
