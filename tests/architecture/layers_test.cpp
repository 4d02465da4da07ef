// The checks themselves are checked here, on wrong examples: a test that cannot fail says nothing.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "architecture/layers.h"
#include "architecture/source_text.h"

using namespace architecture;
using Lines = std::vector<std::string>;

TEST_CASE("the data flow has one direction") {
    CHECK(may_see("quantity", "diagnostics"));
    CHECK(may_see("intake", "ruleset"));
    CHECK(may_see("intake", "intake"));
    CHECK(may_see("ledger", "planning"));
    CHECK(may_see("cli", "ledger"));
    CHECK_FALSE(may_see("diagnostics", "quantity"));
    CHECK_FALSE(may_see("plant", "ruleset"));
    CHECK_FALSE(may_see("ranking", "cli"));
    CHECK_FALSE(may_see("ranking", "no_such_folder"));
}

TEST_CASE("report, ledger and synthesis stand beside each other") {
    CHECK(may_see("report", "planning"));
    CHECK_FALSE(may_see("report", "ledger"));
    CHECK_FALSE(may_see("ledger", "report"));
    CHECK(may_see("synthesis", "plant"));
    CHECK_FALSE(may_see("synthesis", "ruleset"));
    CHECK_FALSE(may_see("ranking", "report"));
    CHECK_FALSE(may_see("ranking", "synthesis"));
    for (const auto* side : {"report", "synthesis", "ledger"}) CHECK(may_see("cli", side));
}

TEST_CASE("a wrong include is found with its line") {
    const auto* source =
        "#include <vector>\n"
        "#include \"plant/field.h\"\n"
        "#include \"ranking/rank.h\"\n"
        "  #  include <report/table.h>\n"
        "#include \"field.h\"\n"
        "#include \"../plant/field.h\"\n";
    CHECK(wrong_includes("ruleset", source) ==
          Lines{"3: ruleset must not see ranking", "4: ruleset must not see report",
                "5: \"field.h\" is not written as \"folder/file.h\"",
                "6: \"../plant/field.h\" is not written as \"folder/file.h\""});
    CHECK(wrong_includes("ruleset", "#include \"plant/field.h\"\n#include <yaml-cpp/yaml.h>")
              .empty());
}

TEST_CASE("a wrong link is found") {
    CHECK(
        wrong_links("plant", "lagline_folder(plant SOURCES a.cpp LINKS lagline_quantity)").empty());
    CHECK(wrong_links("plant", "lagline_folder(plant SOURCES a.cpp\n    LINKS lagline_intake)") ==
          Lines{"plant must not link lagline_intake"});
    CHECK(wrong_links("plant",
                      "lagline_folder (plant SOURCES a.cpp)  # lagline_folder(cli)\n"
                      "target_link_libraries(lagline_plant PUBLIC lagline::ranking yaml-cpp)") ==
          Lines{"plant must not link lagline::ranking"});
    CHECK(wrong_links("plant", "lagline_folder(quantity SOURCES a.cpp)") ==
          Lines{"lagline_folder of quantity", "no lagline_folder(plant ...)"});
    CHECK(wrong_links("plant", "# nothing\n") == Lines{"no lagline_folder(plant ...)"});
}

TEST_CASE("writing to a stream is found, speaking of it is not") {
    CHECK(stream_writes(
              "#include <iostream>\nvoid f() {\n    std::cout << 1;\n    fputs(\"\", out);\n}") ==
          Lines{"1: <iostream>", "3: std::cout", "4: fputs"});
    CHECK(
        stream_writes("// std::cout\nconst char* a = \"printf\"; /* std::cerr\n puts */").empty());
    CHECK(stream_writes("auto a = R\"x(puts \" )\" std::cerr)x\"; auto b = '\"'; printf(a);") ==
          Lines{"1: printf"});
    CHECK(stream_writes("long n = 1'000; std::snprintf(a, 1, \"\"); int outputs = 0;").empty());
}

TEST_CASE("literals and comments are blanked, line breaks stay") {
    CHECK(without_comments_and_strings("a \"b\\\"\" c\n/*d\n*/e//f\ng") ==
          "a       c\n   \n  e   \ng");
}
