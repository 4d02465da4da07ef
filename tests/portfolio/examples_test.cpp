// The commands of docs/portfolio.md, run as they stand there.
#include <doctest/doctest.h>

#include <filesystem>

#include "cut_plant.h"
#include "support/csv_records.h"
#include "support/shell.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

/// The blocks that a shell can run, one behind the other.
std::string shell_blocks(const std::string& page) {
    const std::string opening = "```sh\n";
    std::string script;
    for (auto at = page.find(opening); at != std::string::npos; at = page.find(opening, at)) {
        at += opening.size();
        script += page.substr(at, page.find("```", at) - at);
    }
    return script;
}

TEST_CASE("docs/portfolio.md: its commands end well, and give the bytes of one process") {
    const std::string script =
        shell_blocks(file_text(std::string{LAGLINE_SOURCE_DIR} + "/docs/portfolio.md"));
    REQUIRE(count(script, "cmp ") >= 3);
    REQUIRE(holds(script, "parallel "));
    const TempFolder folder;
    fs::copy(fs::path{LAGLINE_SOURCE_DIR} / "sample-plant/plant", folder.path() / "my-plant");
    folder.write("script", "set -euo pipefail\n" + script + "\necho all done\n");
    const std::string program = fs::path{LAGLINE_PROGRAM}.parent_path().string();
    const std::string ran = run_in_shell("cd '" + folder.path().string() + "' && PATH='" + program +
                                         "':\"$PATH\" HOME=. bash script 2>&1 </dev/null")
                                .text;
    INFO(ran);
    CHECK(ran.ends_with("all done\n"));
    // cmp(1) says nothing of files that are the same; were they the ones to be compared?
    CHECK(file_text((folder.path() / "one.csv").string()) ==
          run({"rank", (folder.path() / "my-plant").string(), "--today", portfolio_day, "--format",
               "csv"})
              .out);
}

}  // namespace
}  // namespace lagline
