// `lagline compare` on the sample plant with prepared changes, each with a cause that is known.
#include <doctest/doctest.h>
#include <rapidjson/document.h>

#include <map>

#include "commands/program.h"
#include "made_ledger.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

const std::string day = "2026-11-25";
const std::string at = "2030-04-08";

// The sample plant, stored as it is, then with one change after the other.
class Stored {
  public:
    Stored() { store({}); }

    void store(const Arguments& more) {
        Arguments rank{"rank", plant(), "--store", "--today", day, "--top", "1"};
        if (more.empty()) rank.insert(rank.end(), {"--at", at});
        rank.insert(rank.end(), more.begin(), more.end());
        const Ran ran = run(rank);
        INFO(ran.err);
        REQUIRE(ran.code == 0);
    }
    void reset() {
        for (const auto* name : {"segments.csv", "plant.yaml"}) {
            fs::copy_file(fs::path{LAGLINE_SOURCE_DIR} / "sample-plant/plant" / name,
                          fs::path{plant()} / name, fs::copy_options::overwrite_existing);
        }
        fs::remove_all(fs::path{plant()} / "rules");
        fs::remove(fs::path{plant()} / "overrides.csv");
    }
    void change_data() const {
        set_cell(plant() + "/segments.csv", "S-00300", "insulation_condition", "below_average");
        set_cell(plant() + "/segments.csv", "S-00300", "leak_cost [EUR]", "90000000");
    }
    void change_rules() const {
        folder_.write("plant/rules/site.yaml",
                      "ruleset: {name: site, meaning: ours}\nchanges:\n  - {table: "
                      "insulation_factor, entry: mineral_wool, to: 2.5, reason: survey}\n");
    }
    void change_overrides() const {
        folder_.write("plant/overrides.csv",
                      "segment,quantity,value,reason,who,when\nS-00010,leak_cost,90000000 EUR,"
                      "study,A. Engineer,2026-01-01\n");
    }
    [[nodiscard]] std::string plant() const { return plant_; }
    [[nodiscard]] std::string compared(const std::string& b) const {
        const Ran ran = run({"compare", plant(), "1", b, "--format", "json"});
        INFO(ran.err);
        REQUIRE(ran.code == 0);
        return ran.out;
    }

  private:
    TempFolder folder_;
    std::string plant_ = sample_copy(folder_, "plant");
};

// Main cause -> how many segments; and the sum of all that is left over.
struct Told {
    std::map<std::string, int> causes;
    std::map<std::string, std::string> of_segment;
    std::int64_t interaction = 0;
    std::string problem;
};

Told told_by(const std::string& json) {
    rapidjson::Document document;
    document.Parse(json.c_str());
    REQUIRE_FALSE(document.HasParseError());
    Told told;
    told.problem = document["problem"].GetString();
    for (const auto& change : document["changes"].GetArray()) {
        const std::string cause = change["main_cause"].GetString();
        ++told.causes[cause];
        told.of_segment[change["segment"].GetString()] = cause;
        told.interaction += std::abs(change["interaction"].GetInt64());
    }
    return told;
}

void check_only(const Stored& stored, const std::string& run, const std::string& cause) {
    const Told told = told_by(stored.compared(run));
    CAPTURE(cause);
    CHECK(told.problem.empty());
    REQUIRE(told.causes.size() == 1);
    CHECK(told.causes.begin()->first == cause);
    CHECK(told.causes.begin()->second > 0);
    CHECK(told.interaction == 0);
    MESSAGE(cause << ": " << told.causes.begin()->second << " ranks changed, all attributed to it");
}

TEST_CASE("a cell, a rule, an override, a date: each is found to be the cause of what it moved") {
    Stored stored;
    stored.change_data();
    stored.store({});
    check_only(stored, "2", "data");
    stored.reset();
    stored.change_rules();
    stored.store({});
    check_only(stored, "3", "rules");
    stored.reset();
    stored.change_overrides();
    stored.store({});
    check_only(stored, "4", "override");
    stored.reset();
    stored.store({"--at", "2040-04-08"});
    check_only(stored, "5", "time");
    // The published set in place of the extended one is a change of rules.
    stored.store({"--at", at, "--rules", "published"});
    check_only(stored, "6", "rules");

    // All at once: the segment that was changed by hand is still told apart.
    stored.change_data();
    stored.change_rules();
    stored.change_overrides();
    stored.store({"--at", "2032-04-08"});
    const Told all = told_by(stored.compared("7"));
    CHECK(all.problem.empty());
    CHECK(all.of_segment.at("S-00300") == "data");
    CHECK(all.of_segment.at("S-00010") == "override");
    CHECK(all.causes.at("rules") > 0);
    CHECK(all.causes.at("time") > 0);

    const RunChoice plain{.environment = {"TERM=xterm", "NO_COLOR=1"}};
    const Ran text = run_on_terminal({"compare", stored.plant(), "1", "7"}, 80, plain);
    CHECK(text.code == 0);
    CHECK(widest_line(text.out) <= 80);
    CHECK(holds(text.out, "data: plant/segments.csv, line 301"));
    CHECK(holds(text.out, "override: plant/overrides.csv added"));
    CHECK(holds(text.out, "rules: plant/rules/site.yaml added"));
    CHECK(holds(text.out, "time: at 2030-04-08 -> 2032-04-08"));

    // Every run can still be made again from the ledger alone.
    const TempFolder elsewhere;
    fs::copy_file(stored.plant() + "/lagline.db", elsewhere.path() / "lagline.db");
    const Ran verified = run({"verify", elsewhere.path().string()});
    INFO(verified.out);
    CHECK(verified.code == 0);
    CHECK(count(verified.out, "reproduced byte for byte") == 7);
}

}  // namespace
}  // namespace lagline
