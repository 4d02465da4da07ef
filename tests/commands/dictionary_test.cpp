#include <doctest/doctest.h>

#include <filesystem>

#include "program.h"
#include "support/csv_records.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

TEST_CASE("dictionary --man writes a page for each command into a folder that it makes") {
    const TempFolder folder;
    const auto man = folder.path() / "new" / "man1";
    const Ran made = run({"dictionary", "--man", man.string()});
    CHECK(made.code == 0);
    CHECK(made.out.empty());
    CHECK(std::filesystem::exists(man / "lagline.1"));
    const std::string page = file_text((man / "lagline-what-if.1").string());
    CHECK(page.starts_with(".TH LAGLINE\\-WHAT\\-IF 1 2"));
    // The same bytes again, over the old ones.
    CHECK(run({"dictionary", "--man", man.string()}).code == 0);
    CHECK(file_text((man / "lagline-what-if.1").string()) == page);
}

TEST_CASE("dictionary --completion is written whole into a file, or to standard output") {
    const TempFolder folder;
    const std::string file = (folder.path() / "_lagline").string();
    const Ran shown = run({"dictionary", "--completion", "zsh"});
    CHECK(shown.code == 0);
    CHECK(shown.out.starts_with("#compdef lagline\n"));
    CHECK(run({"dictionary", "--completion", "zsh", "--out", file}).code == 0);
    CHECK(file_text(file) == shown.out);
}

TEST_CASE("dictionary refuses what it cannot give") {
    const TempFolder folder;
    const std::string file = folder.write("there", "kept").string();
    const Ran in_a_file = run({"dictionary", "--man", file + "/man1"});
    CHECK(in_a_file.code == 1);
    CHECK(holds(in_a_file.err, "cannot make the folder " + file + "/man1"));
    CHECK(file_text(file) == "kept");
    CHECK(run({"dictionary", "--completion", "tcsh"}).code == 2);
    for (const Arguments& two : {Arguments{"dictionary", "--man", file, "--commands"},
                                 {"dictionary", "--completion", "bash", "--commands"},
                                 {"dictionary", "--man", file, "--out", file + ".1"}}) {
        const Ran refused = run(two);
        CHECK(refused.code == 2);
        CHECK(holds(refused.err, "--commands, --man and --completion"));
        CHECK(refused.out.empty());
    }
}

}  // namespace
}  // namespace lagline
