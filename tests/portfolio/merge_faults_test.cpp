// Parts that are not one ranking: told with their places, and nothing comes out.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>

#include "cut_plant.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

/// Two parts of a plant; `bad` takes the place of the second one.
class TwoParts {
  public:
    TwoParts() : files_(plant_.rank_parts(10)) { REQUIRE(files_.size() == 2); }
    [[nodiscard]] const std::string& good() const { return files_[0]; }
    [[nodiscard]] std::string text() const { return file_text(files_[1]); }
    [[nodiscard]] const CutPlant& plant() const { return plant_; }
    [[nodiscard]] std::string path_of_bad() const { return plant_.path() + "/bad.csv"; }
    /// Merging is refused, and says all this.
    void refused(const std::string& bad, const std::vector<std::string>& said) const {
        plant_.folder().write("bad.csv", bad);
        const std::string out = plant_.path() + "/merged.csv";
        const Ran ran = merge({good(), path_of_bad()}, {"--out", out});
        INFO(ran.err);
        CHECK(ran.code == 3);
        CHECK(ran.out.empty());
        CHECK_FALSE(fs::exists(out));
        for (const std::string& text : said) {
            CAPTURE(text);
            CHECK(holds(ran.err, text));
        }
    }

  private:
    CutPlant plant_{12};
    std::vector<std::string> files_;
};

std::string line_of(const std::string& text, std::size_t number) {
    std::size_t at = 0;
    for (std::size_t i = 0; i < number; ++i) at = text.find('\n', at) + 1;
    return text.substr(at, text.find('\n', at) + 1 - at);
}

TEST_CASE("a part of other rules, other money, or no ranking at all") {
    const TwoParts parts;
    const Ran other = parts.plant().rank_part(0, 10, {"--rules", "published"});
    parts.refused(other.out, {"bad.csv:1:", "[contradiction]", "as in " + parts.good() + ":1"});

    std::string money = parts.text();
    money.replace(money.rfind("EUR"), 3, "USD");
    parts.refused(money, {"bad.csv:11:", "[contradiction] currency", "'USD'", "'EUR'"});

    parts.refused(file_text(parts.plant().path() + "/segments.csv"), {"bad.csv:1:1", "'segment'"});
    const Ran alone = merge({parts.plant().path() + "/segments.csv"});
    CHECK(alone.code == 3);
    CHECK(holds(alone.err, "segments.csv:1:1: error [missing-column]"));
    CHECK(holds(alone.err, "no heading of a ranking"));
}

TEST_CASE("rows out of order, left out, or cut off") {
    const TwoParts parts;
    const std::string text = parts.text();
    const std::string third = line_of(text, 3);
    std::string swapped = text;
    swapped.erase(swapped.find(third), third.size());
    parts.refused(swapped,
                  {"bad.csv:4:1: error [contradiction] rank", "found     4", "expected  3"});

    // The ranks made to fit, but not the risks.
    std::string risks = text;
    const std::string first = line_of(text, 1);
    risks.replace(risks.find(third), third.size(), "3" + first.substr(1));
    risks.replace(risks.find(first), first.size(), "1" + third.substr(1));
    parts.refused(risks, {"bad.csv:3:", "[contradiction] risk", "rows by falling risk"});

    // Nine rows of ten, of which the last one is the tenth of today: what --top 9 leaves where the
    // order of the two dates differs.
    std::string cut = text.substr(0, text.find(line_of(text, 10)));
    const std::string ninth = line_of(text, 9);
    const auto fields = csv_records(ninth)[0];
    std::string changed;
    for (std::size_t i = 0; i < 5; ++i) changed += fields[i] + ",";
    REQUIRE(ninth.starts_with(changed + fields[5] + ","));
    changed += "10" + ninth.substr(changed.size() + fields[5].size());
    cut.replace(cut.find(ninth), ninth.size(), changed);
    parts.refused(cut, {"[contradiction] rank_today", "without --top"});

    parts.refused(text.substr(0, text.size() - 40), {"bad.csv:11:", "[csv-field-count]"});
    parts.refused(text + "\"open", {"bad.csv:12:1", "[csv-quote]", "never closed"});
    parts.refused("", {"bad.csv: error [empty-file]"});
    parts.refused(text + "11,", {"bad.csv:12:", "[csv-field-count]"});
    std::string number = text;
    number.replace(number.find("\n2,") + 1, 1, "zwei");
    parts.refused(number, {"bad.csv:3:1: error [not-a-number] rank", "'zwei'"});
}

TEST_CASE("a segment that stands twice") {
    const TwoParts parts;
    const Ran again = parts.plant().rank_part(9, 12);
    parts.refused(again.out + parts.text(),
                  {"[duplicate-key] segment", "stands already in", "bad.csv:"});
    const Ran same = merge({parts.good(), parts.good()});
    CHECK(same.code == 3);
    CHECK(count(same.err, "[duplicate-key]") == 10);
}

TEST_CASE("a file that is not there; all faults of all files at once") {
    const TwoParts parts;
    const Ran missing =
        merge({parts.good(), parts.plant().path() + "/none.csv", parts.plant().path()});
    CHECK(missing.code == 3);
    CHECK(holds(missing.err, "none.csv: error [missing-file]"));
    CHECK(holds(missing.err, "[not-a-file]"));
    CHECK(holds(missing.err, "2 errors"));
    CHECK(merge({}).code == 2);
}

TEST_CASE("what cannot be written leaves the file as it was") {
    const TwoParts parts;
    const std::string out = parts.plant().folder().write("old.csv", "old\n").string();
    RunChoice little;
    little.most_file_bytes = 1000;
    little.environment = {"TMPDIR=" + parts.plant().path()};
    const Ran ran = merge({parts.good()}, {"--out", out, "--force"}, little);
    CHECK(ran.code == 1);
    CHECK(file_text(out) == "old\n");
    RunChoice full;
    full.out_to = "/dev/full";
    const Ran nowhere = merge({parts.good()}, {}, full);
    CHECK(nowhere.code == 1);
    CHECK(holds(nowhere.err, "cannot write to standard output"));
}

}  // namespace
}  // namespace lagline
