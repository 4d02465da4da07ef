// The commands of docs/portfolio.md, run as they stand there.
#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <memory>

#include "cut_plant.h"
#include "support/csv_records.h"

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

std::string output_of(const std::string& command) {
    const std::unique_ptr<FILE, int (*)(FILE*)> pipe{popen(command.c_str(), "r"), pclose};
    REQUIRE(pipe != nullptr);
    std::string text;
    std::array<char, 4096> part{};
    while (const std::size_t read = std::fread(part.data(), 1, part.size(), pipe.get())) {
        text.append(part.data(), read);
    }
    return text;
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
    const std::string ran = output_of("cd '" + folder.path().string() + "' && PATH='" + program +
                                      "':\"$PATH\" HOME=. bash script 2>&1 </dev/null");
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
