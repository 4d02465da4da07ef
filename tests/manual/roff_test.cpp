// Manual pages of a program that says everything roff could take for something else.
#include <doctest/doctest.h>

#include <string>

#include "cli/man_page.h"
#include "support/shell.h"
#include "support/temp_folder.h"

namespace lagline::cli {
namespace {

const std::string hostile =
    R"(.so /etc/passwd \n[x] --at -1 'quoted' "twice" `tick` ~/a^b \fBbold)";

ProgramDescription hostile_program() {
    const OptionDescription argument{
        .names = {"plant"}, .help = "'.", .value = "DIR", .argument = true, .required = true};
    const OptionDescription option{.names = {"-h", "--he-lp"}, .help = hostile};
    CommandDescription program{.name = "", .help = "About", .footer = hostile, .options = {option}};
    CommandDescription command{.name = "what-if",
                               .help = hostile,
                               .footer = hostile + "\n\n  " + hostile + "\n'.\n\n  last \\",
                               .options = {argument, option}};
    return {program, command};
}

constexpr Edition edition{"1.2.3", "2026-11-28", "looks at \"all\" -- '.' too"};

TEST_CASE("roff: every character stands for itself (groff_char(7), section on the dash, quotes)") {
    CHECK(roff("plain words.") == "plain words.");
    CHECK(roff(".so x") == "\\&.so x");
    CHECK(roff("'br") == "\\(aqbr");
    CHECK(roff("a\\b --c-d") == "a\\eb \\-\\-c\\-d");
    CHECK(roff("`x` ~^\"") == "\\(gax\\(ga \\(ti\\(ha\\(dq");
    CHECK(roff("").empty());
}

TEST_CASE("roff: one page for the program, one for each command, none for its parts") {
    ProgramDescription program = hostile_program();
    program.push_back({.name = "what-if part", .help = "Part", .footer = "", .options = {}});
    const auto pages = man_pages(program, edition);
    REQUIRE(pages.size() == 2);
    CHECK(pages[0].file == "lagline.1");
    CHECK(pages[1].file == "lagline-what-if.1");
    CHECK(pages[1].text.find("\n.SS what\\-if part\n") != std::string::npos);
}

// The formatter that man(1) runs, from Debian's groff-base.
TEST_CASE("roff: the formatter shows hostile text unchanged and warns of nothing") {
    if (run_in_shell("command -v groff").text.empty()) {
        MESSAGE("no groff here");
        return;
    }
    const TempFolder folder;
    for (const ManPage& page : man_pages(hostile_program(), edition)) {
        CAPTURE(page.text);
        const auto path = folder.write(page.file, page.text);
        const std::string command =
            "groff -ww -man -Tutf8 -P-cbou -rLL=200n " + path.string() + " 2>&1";
        const std::string shown = run_in_shell(command).text;
        CAPTURE(shown);
        CHECK(shown.find("warning") == std::string::npos);
        std::size_t times = 0;
        for (std::size_t at = 0; (at = shown.find(hostile, at)) != std::string::npos; ++at) ++times;
        CHECK(times == (page.file == "lagline.1" ? 3 : 5));
    }
}

}  // namespace
}  // namespace lagline::cli
