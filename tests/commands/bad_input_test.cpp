// Folders as a new user would spoil them: exit code 3 and one clear message.
#include <doctest/doctest.h>

#include <sys/stat.h>

#include <algorithm>
#include <filesystem>
#include <functional>

#include "program.h"

namespace lagline {
namespace {

struct Case {
    std::string what;
    std::function<void(const StarterPlant&)> spoil;
    std::string place;  ///< behind the folder: "segments.csv:2:30"
    std::string code;
    std::string mend;
};

std::string with_zeros(std::string_view text) {
    std::string wide = "\xFF\xFE";
    for (const char c : text) {
        wide += c;
        wide += '\0';
    }
    return wide;
}

void check_refused(const Ran& ran, const std::string& path, const Case& each) {
    INFO(ran.err);
    INFO(ran.out);
    CHECK(ran.code == 3);
    CHECK(ran.out.empty());
    CHECK(count(ran.err, ": error [") == 1);
    CHECK(holds(ran.err, path + each.place + ": error [" + each.code + "]"));
    CHECK(holds(ran.err, each.mend));
    CHECK(holds(ran.err, "1 error, 0 warnings"));
}

void each_is_refused(const std::vector<Case>& cases) {
    for (const Case& each : cases) {
        CAPTURE(each.what);
        const StarterPlant plant;
        each.spoil(plant);
        check_refused(run({"rank", plant.path(), "--at", fixed_day}), plant.path(), each);
    }
}

std::function<void(const StarterPlant&)> text(std::string name, std::string content) {
    return [name = std::move(name), content = std::move(content)](const StarterPlant& plant) {
        plant.write(name, content);
    };
}

std::function<void(const StarterPlant&)> swap(std::string name, std::string from, std::string to) {
    return [=](const StarterPlant& plant) { plant.replace(name, from, to); };
}

// The first row of segments.csv: its wall, or another text of it.
std::function<void(const StarterPlant&)> wall(std::string to) {
    return swap("segments.csv", "Sch 40", std::move(to));
}
std::function<void(const StarterPlant&)> cell(std::string from, std::string to) {
    return swap("segments.csv", std::move(from), std::move(to));
}

TEST_CASE("files that are no table") {
    each_is_refused(
        {{"empty file", text("segments.csv", ""), "/segments.csv", "empty-file", "fill the file"},
         {"header only",
          [](const StarterPlant& plant) {
              const std::string all = plant.text("segments.csv");
              plant.write("segments.csv", all.substr(0, all.find('\n') + 1));
          },
          "/segments.csv", "empty-file", "fill in the segments"},
         {"Latin-1", cell("L-1", "L-\xE9"), "/segments.csv:2:10", "not-utf8", "iconv -f latin1"},
         {"UTF-16",
          [](const StarterPlant& plant) {
              plant.write("segments.csv", with_zeros(plant.text("segments.csv")));
          },
          "/segments.csv", "not-utf8", "CSV UTF-8"},
         {"binary",
          text("segments.csv", std::string("\x7F"
                                           "ELF\x02\x01\0\0\0,\n\x90",
                                           12)),
          "/segments.csv:1:7", "not-utf8", "export the sheet as CSV"},
         {"a directory",
          [](const StarterPlant& plant) {
              std::filesystem::remove(plant.file("segments.csv"));
              std::filesystem::create_directory(plant.file("segments.csv"));
          },
          "/segments.csv", "not-a-file", "remove the directory"},
         {"plant.yaml broken", text("plant.yaml", "name: [x\n"), "/plant.yaml:2:1", "yaml-syntax",
          "check brackets"},
         {"plant.yaml missing",
          [](const StarterPlant& plant) { std::filesystem::remove(plant.file("plant.yaml")); },
          "/plant.yaml", "missing-file", "`lagline new` shows"}});
}

TEST_CASE("tables whose heading is not one") {
    const auto separated = [](char separator) {
        return [separator](const StarterPlant& plant) {
            std::string all = plant.text("segments.csv");
            std::ranges::replace(all, ',', separator);
            plant.write("segments.csv", all);
        };
    };
    each_is_refused(
        {{"semicolons", separated(';'), "/segments.csv:1:1", "csv-field-count",
          "export it as CSV with commas"},
         {"tabs", separated('\t'), "/segments.csv:1:1", "csv-field-count",
          "not as tab-separated text"},
         {"no heading row",
          [](const StarterPlant& plant) {
              const std::string all = plant.text("segments.csv");
              plant.write("segments.csv", all.substr(all.find('\n') + 1));
          },
          "/segments.csv:1:1", "missing-column", "put the heading row on top"},
         {"missing needed column", swap("segments.csv", ",material,", ",substance,"),
          "/segments.csv:1:1", "missing-column", "headings not known: substance"},
         {"misspelt column", swap("segments.csv", "insulation_type", "insulation_typ"),
          "/segments.csv:1:94", "unknown-column", "did you mean 'insulation_type'?"},
         {"two columns of one name", swap("segments.csv", "complexity", "driver"),
          "/segments.csv:1:223", "duplicate-column", "remove or rename one of the two"},
         {"no unit", swap("segments.csv", "operating_temperature [degC]", "operating_temperature"),
          "/segments.csv:1:65", "missing-unit", "operating_temperature [degC]"}});
}

TEST_CASE("rows that contradict each other") {
    each_is_refused(
        {{"duplicate segment", swap("segments.csv", "EX-003", "EX-002"), "/segments.csv:4:1",
          "duplicate-key", "rename one of the two"},
         {"inspection of an unknown segment", swap("inspections.csv", "EX-002", "EX-020"),
          "/inspections.csv:2:1", "unknown-segment", "did you mean 'EX-002'?"},
         {"inspection before construction", swap("inspections.csv", "2019", "1989"),
          "/inspections.csv:2:8", "contradiction", "in_service in segments.csv"},
         {"turnaround ends before it starts", swap("turnarounds.csv", "2030-05-12", "2030-03-12"),
          "/turnarounds.csv:2:31", "contradiction", "correct one of the two days"}});
}

TEST_CASE("cells that cannot be right") {
    each_is_refused(
        {{"a length for a temperature", cell(",82,", ",93 mm,"), "/segments.csv:2:37",
          "unit-mismatch", "correct the unit"},
         {"out of range", wall("6020"), "/segments.csv:2:30", "out-of-range",
          "or the unit in the heading"},
         {"NaN", wall("NaN"), "/segments.csv:2:30", "not-a-number", "must be filled"},
         {"1e308", wall("1e308"), "/segments.csv:2:30", "out-of-range", "correct the cell"},
         {"negative", wall("-6.02"), "/segments.csv:2:30", "out-of-range", "it cannot be negative"},
         {"comma decimal", wall("\"6,02\""), "/segments.csv:2:30", "not-a-number",
          "write the number with a point"},
         {"comma decimal without quotes", wall("6,02"), "/segments.csv:2:125", "csv-field-count",
          "write decimals with a point"},
         {"a date of the day first", cell("1994-06-01", "1.6.1994"), "/segments.csv:2:53",
          "not-a-date", "2014-06-30"},
         {"a word of nobody", cell("mineral_wool", "mineral wol"), "/segments.csv:2:40",
          "unknown-word", "did you mean 'mineral_wool'?"},
         {"a quote left open", cell("L-1", "\"L-1"), "/segments.csv:2:8", "csv-quote",
          "close the quote"},
         {"a large field", wall(std::string(1U << 20U, '7')), "/segments.csv:2:30", "not-a-number",
          "correct the cell"},
         {"a huge field", wall(std::string(8U << 20U, '7')), "/segments.csv:2:1", "unreadable-file",
          "check whether this is the file that was meant"}});
}

TEST_CASE("a plant folder that is not there, or is a file") {
    const TempFolder folder;
    const std::string none = (folder.path() / "none").string();
    check_refused(run({"rank", none}), none,
                  {"missing", {}, "", "missing-file", "`lagline new DIR` starts one"});
    const std::string file = folder.write("file", "x").string();
    check_refused(run({"rank", file}), file,
                  {"file", {}, "", "not-a-file", "give the folder, not a file in it"});
}

TEST_CASE("a file that may not be read") {
    const StarterPlant plant;
    REQUIRE(::chmod(plant.file("segments.csv").c_str(), 0) == 0);
    RunChoice choice;
    // Root reads everything, so as root the program is started as somebody else, who must reach it.
    if (is_root()) {
        choice.as_nobody = true;
        std::filesystem::permissions(plant.folder().path(), std::filesystem::perms::others_all,
                                     std::filesystem::perm_options::add);
        try {
            if (run({"--version"}, choice).code != 0) throw std::runtime_error("no");
        } catch (const std::runtime_error&) {
            MESSAGE("skipped: the program cannot be started as another user");
            return;
        }
    }
    check_refused(
        run({"rank", plant.path(), "--at", fixed_day}, choice), plant.path(),
        {"unreadable", {}, "/segments.csv", "unreadable-file", "check owner and permissions"});
}

TEST_CASE("everything wrong is told at once, by check and by rank alike") {
    const StarterPlant plant;
    plant.replace("segments.csv", "Sch 40", "nan");
    plant.replace("inspections.csv", "60", "160");
    plant.replace("plant.yaml", "management_score", "managment_score");
    const Ran checked = run({"check", plant.path(), "--at", fixed_day});
    const Ran ranked = run({"rank", plant.path(), "--at", fixed_day});
    CHECK(checked.code == 3);
    CHECK(ranked.code == 3);
    CHECK(checked.out == ranked.err);
    CHECK(count(checked.out, ": error [") == 3);
    CHECK(holds(checked.out, "inspections.csv:2:37: error [out-of-range] coverage"));
    CHECK(holds(checked.out, "segments.csv:2:30: error [not-a-number] nominal_wall"));
    CHECK(holds(checked.out, "did you mean 'management_score'?"));
}

}  // namespace
}  // namespace lagline
