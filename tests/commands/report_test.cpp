#include <doctest/doctest.h>

#include <filesystem>

#include "program.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

TEST_CASE("report: a page of the plant, the same bytes for any threads and blocks") {
    const StarterPlant plant;
    const std::string page = plant.file("page.html");
    const Arguments report{"report", plant.path(), "--today", fixed_day, "--samples", "16"};
    const auto made = [&](const Arguments& more) {
        Arguments all = report;
        all.insert(all.end(), more.begin(), more.end());
        all.insert(all.end(), {"--out", page});
        const Ran ran = run(all);
        CHECK(ran.code == 0);
        CHECK(ran.out.empty());
        return file_text(page);
    };
    const std::string first = made({"--threads", "1"});
    CHECK(first.starts_with("<!DOCTYPE html>"));
    CHECK(first.ends_with("</html>\n"));
    CHECK(made({"--threads", "2", "--block", "1"}) == first);
    CHECK(made({"--top", "1"}).size() < first.size());
}

TEST_CASE("report: it asks where to write, and a file that cannot be written is told") {
    const StarterPlant plant;
    CHECK(run({"report", plant.path()}).code == 2);
    CHECK(run({"report", plant.path(), "--samples", "3", "--out", "x.html"}).code == 2);
    const Ran nowhere = run({"report", plant.path(), "--today", fixed_day, "--out",
                             plant.file("no-such-folder/page.html")});
    CHECK(nowhere.code == 1);
    CHECK(holds(nowhere.err, "nothing was written"));
}

TEST_CASE("report: a page that does not fit on the disk leaves the one before it whole") {
    const StarterPlant plant;
    plant.write("page.html", "the page before");
    const Ran cut = run(
        {"report", plant.path(), "--today", fixed_day, "--out", plant.file("page.html"), "--force"},
        {.most_file_bytes = 20'000});
    CHECK(cut.code == 1);
    CHECK(file_text(plant.file("page.html")) == "the page before");
}

TEST_CASE("report: errors of the plant folder are reported and no page is made") {
    const StarterPlant plant;
    plant.write("segments.csv", "segment\n");
    const Ran bad = run({"report", plant.path(), "--out", plant.file("page.html")});
    CHECK(bad.code == 3);
    CHECK_FALSE(std::filesystem::exists(plant.file("page.html")));
}

}  // namespace
}  // namespace lagline
