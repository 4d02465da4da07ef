// `backtest` and `pool` through the command line.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>

#include "program.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

const std::string sample = std::string{LAGLINE_SOURCE_DIR} + "/sample-plant/plant";
const std::string at = "2027-04-05";

std::size_t column_of(const std::vector<std::string>& headings, std::string_view heading) {
    const auto found = std::ranges::find(headings, heading);
    REQUIRE(found != headings.end());
    return static_cast<std::size_t>(found - headings.begin());
}

TEST_CASE("backtest of the sample plant tells dates, orders, plot, calibration and its limits") {
    const Ran ran = run({"backtest", sample});
    INFO(ran.err);
    REQUIRE(ran.code == 0);
    for (const char* text : {"ranked at", "findings", "age, the oldest first", "temperature band",
                             "best possible", "at random", "findings met", "# Lagline",
                             "Brier score", "90 % interval", "chosen by people and not at random",
                             "What was found has no part in the choice", "screening aid"}) {
        CAPTURE(text);
        CHECK(holds(ran.out, text));
    }
    CHECK(widest_line(ran.out) <= 100);
}

TEST_CASE("backtest keeps to the width of the terminal") {
    const Ran ran = run_on_terminal({"backtest", sample}, 80);
    CHECK(ran.code == 0);
    CHECK(widest_line(ran.out) <= 80);
}

TEST_CASE("backtest as CSV has a row for every segment looked at; JSON counts the same") {
    const Arguments dates{"backtest", sample, "--at", "2015-01-01", "--within", "5", "--format"};
    Arguments csv = dates;
    csv.emplace_back("csv");
    Arguments json = dates;
    json.emplace_back("json");
    const auto records = csv_records(run(csv).out);
    REQUIRE(records.size() > 20);
    const auto found = column_of(records[0], "found");
    const auto day = column_of(records[0], "inspected");
    const auto chance = column_of(records[0], "chance");
    std::size_t findings = 0;
    for (std::size_t i = 1; i < records.size(); ++i) {
        findings += records[i][found] == "yes" ? 1U : 0U;
        CHECK(records[i][day] > "2015-01-01");
        CHECK(records[i][day] <= "2020-01-01");
        const double stated = std::stod(records[i][chance]);
        CHECK(stated >= 0.0);
        CHECK(stated <= 1.0);
    }
    const std::string told = run(json).out;
    CHECK(holds(told, "\"looked_at\": " + std::to_string(records.size() - 1)));
    CHECK(holds(told, "\"findings\": " + std::to_string(findings)));
}

TEST_CASE("backtest as SVG is one picture with its title") {
    const Ran ran = run({"backtest", sample, "--format", "svg"});
    CHECK(ran.code == 0);
    CHECK(ran.out.starts_with("<svg "));
    CHECK(ran.out.ends_with("</svg>\n"));
    CHECK(count(ran.out, "<polyline") >= 5);
    CHECK(count(ran.out, "<circle") >= 3);
    CHECK(holds(ran.out, "<title>"));
}

TEST_CASE("stainless steel has an order and no calibration") {
    const Ran ran = run({"backtest", sample, "--mechanism", "stress_cracking", "--at", "2010-01-01",
                         "--within", "15"});
    INFO(ran.err);
    CHECK(ran.code == 0);
    CHECK(holds(ran.out, "found cracks"));
    CHECK_FALSE(holds(ran.out, "Brier score"));
}

TEST_CASE("a plant without enough inspections is told so") {
    const StarterPlant plant;
    const Ran ran = run({"backtest", plant.path()});
    CHECK(ran.code == 1);
    CHECK(holds(ran.err, "no past date has 20 segments"));
}

/// A copy of the sample plant, to lay rules on.
class SampleCopy {
  public:
    SampleCopy() { fs::copy(sample, path(), fs::copy_options::recursive); }
    [[nodiscard]] std::string path() const { return (folder_.path() / "plant").string(); }
    [[nodiscard]] std::string file(const std::string& name) const { return path() + "/" + name; }

  private:
    TempFolder folder_;
};

struct Row {
    std::string unit;
    double rate = 0.0;
    double factor = 0.0;
};

std::map<std::string, Row> rates(const std::string& plant) {
    const Ran ran = run({"rank", plant, "--at", at, "--format", "csv"});
    REQUIRE_MESSAGE(ran.code == 0, ran.err);
    const auto records = csv_records(ran.out);
    const auto rate = column_of(records[0], "table_rate [mm/y]");
    const auto factor = column_of(records[0], "site_factor");
    const auto mechanism = column_of(records[0], "mechanism");
    std::map<std::string, Row> rows;
    for (std::size_t i = 1; i < records.size(); ++i) {
        if (records[i][mechanism] != "wall_loss") continue;
        rows[records[i][1]] = {records[i][3], std::stod(records[i][rate]),
                               std::stod(records[i][factor])};
    }
    return rows;
}

TEST_CASE("the rule file of pool acts only once it is accepted, and then as it says") {
    const SampleCopy plant;
    const auto before = rates(plant.path());
    const std::string overlay = plant.file("learned-by-unit.yaml");
    const Ran made = run({"pool", plant.path(), "--format", "csv", "--overlay", overlay});
    INFO(made.err);
    REQUIRE(made.code == 0);
    const auto after_writing = rates(plant.path());
    for (const auto& [name, row] : before) CHECK(after_writing.at(name).rate == row.rate);

    fs::create_directory(plant.file("rules"));
    fs::rename(overlay, plant.file("rules/learned-by-unit.yaml"));
    const auto accepted = rates(plant.path());
    const auto groups = csv_records(made.out);
    const auto factor = column_of(groups[0], "factor");
    REQUIRE(groups.size() >= 5);
    std::size_t compared = 0;
    for (const auto& [name, row] : accepted) {
        for (std::size_t i = 1; i < groups.size(); ++i) {
            if (groups[i][0] != row.unit) continue;
            const double expected = std::stod(groups[i][factor]);
            CHECK(row.factor ==
                  doctest::Approx(expected).epsilon(1e-3));  // four digits are written
            CHECK(row.rate == doctest::Approx(before.at(name).rate * row.factor).epsilon(1e-12));
            ++compared;
        }
    }
    CHECK(compared > 400);
    // The factors were learned up to a day; learning them again gives the same, not their square.
    const Ran again = run({"pool", plant.path(), "--format", "csv"});
    CHECK(again.out == made.out);
    const Ran told = run({"explain", plant.path(), before.begin()->first, "--at", at});
    CHECK(holds(told.out, "learned_by_unit"));
}

TEST_CASE("a backtest before the day on which a factor was learned leaves it out") {
    const SampleCopy plant;
    const Arguments backtest{"backtest", plant.path(), "--at",     "2015-01-01",
                             "--within", "5",          "--format", "csv"};
    const std::string before = run(backtest).out;
    REQUIRE(run({"pool", plant.path(), "--overlay", plant.file("learned.yaml")}).code == 0);
    fs::create_directory(plant.file("rules"));
    fs::rename(plant.file("learned.yaml"), plant.file("rules/learned.yaml"));
    const Ran after = run(backtest);
    INFO(after.err);
    CHECK(after.code == 0);
    CHECK((after.out == before));
}

TEST_CASE("a column of words is pooled, and its upper ends lie above its middles") {
    const SampleCopy plant;
    const auto values = [&](const char* take) {
        const std::string file = plant.file("learned.yaml");
        const Ran ran = run(
            {"pool", plant.path(), "--by", "insulation_type", "--overlay", file, "--take", take});
        INFO(ran.err);
        REQUIRE(ran.code == 0);
        return file_text(file);
    };
    const std::string middle = values("middle");
    const std::string upper = values("upper");
    const auto first_value = [](const std::string& yaml) {
        return std::stod(yaml.substr(yaml.find("{value: ") + 8));
    };
    CHECK(first_value(upper) > first_value(middle));
    for (const char* text : {"column: insulation_type", "90 % interval", "learned: ", "readings",
                             "accepts it by putting it into the folder `rules`"}) {
        CAPTURE(text);
        CHECK(holds(middle, text));
    }
}

TEST_CASE("pool of a small plant offers nothing and writes nothing") {
    const StarterPlant plant;
    const std::string overlay = plant.file("learned.yaml");
    const Ran ran = run({"pool", plant.path(), "--overlay", overlay});
    CHECK(ran.code == 1);
    CHECK(holds(ran.out, "No factors are offered"));
    CHECK(holds(ran.err, "was not written"));
    CHECK_FALSE(fs::exists(overlay));
}

}  // namespace
}  // namespace lagline
