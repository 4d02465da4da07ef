// From nothing to a ranking, as the help says.
#include <doctest/doctest.h>

#include <filesystem>

#include "program.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

TEST_CASE("new, check, rank: a starter plant works as it is") {
    const TempFolder folder;
    const std::string plant = (folder.path() / "plant").string();
    const Ran made = run({"new", plant});
    CHECK(made.code == 0);
    CHECK(holds(made.out, "lagline check " + plant));
    for (const auto* name : {"plant.yaml", "segments.csv", "inspections.csv", "turnarounds.csv",
                             "overrides.csv", "columns.yaml", "README.md"}) {
        CHECK(std::filesystem::is_regular_file(plant + "/" + name));
    }
    const Ran checked = run({"check", plant, "--at", fixed_day});
    CHECK(checked.code == 0);
    CHECK(holds(checked.out, "coating_date"));
    CHECK(checked.err.empty());
    const Ran ranked = run({"rank", plant, "--at", fixed_day});
    CHECK(ranked.code == 0);
    CHECK(holds(ranked.out, "3 segments ranked"));
    CHECK(ranked.err.empty());
}

TEST_CASE("the commented example of columns.yaml is right once it is uncommented") {
    const StarterPlant plant;
    std::string yaml;
    std::string rest = plant.text("columns.yaml");
    while (!rest.empty()) {
        const auto end = rest.find('\n');
        const std::string line = rest.substr(0, end);
        rest.erase(0, end + 1);
        if (line.starts_with("# segments.csv:") || line.starts_with("#  ")) {
            yaml += line.substr(2) + "\n";
        }
    }
    CHECK(holds(yaml, "MW: mineral_wool"));
    plant.write("columns.yaml", yaml);
    const Ran checked = run({"check", plant.path(), "--at", fixed_day});
    INFO(checked.out);
    CHECK(checked.code == 0);
}

TEST_CASE("new leaves what is there alone") {
    const TempFolder folder;
    folder.write("full/note.txt", "mine");
    const std::string full = (folder.path() / "full").string();
    const Ran refused = run({"new", full});
    CHECK(refused.code == 1);
    CHECK(holds(refused.err, "is not an empty folder; nothing was written"));
    CHECK(file_text(full + "/note.txt") == "mine");
    CHECK(folder.names() == std::vector<std::string>{"full"});
    std::filesystem::create_directory(folder.path() / "empty");
    CHECK(run({"new", (folder.path() / "empty").string()}).code == 0);
    const Ran nowhere = run({"new", (folder.path() / "no" / "such").string()});
    CHECK(nowhere.code == 1);
    CHECK(holds(nowhere.err, "cannot make a folder in"));
}

TEST_CASE("synthesise writes the committed sample plant, byte for byte") {
    const TempFolder folder;
    const std::string made = (folder.path() / "plant").string();
    const std::string committed = std::string{LAGLINE_SOURCE_DIR} + "/sample-plant/plant";
    // As sample-plant/README.md says.
    const Ran ran = run({"synthesise", made, "--segments", "600", "--seed", "7"});
    CHECK(ran.code == 0);
    for (const auto* name : {"plant.yaml", "segments.csv", "inspections.csv", "turnarounds.csv"}) {
        CAPTURE(name);
        const bool same = file_text(made + "/" + name) == file_text(committed + "/" + name);
        CHECK(same);
    }
    CHECK(run({"synthesise", made}).code == 1);
}

}  // namespace
}  // namespace lagline
