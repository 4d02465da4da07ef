#include "report/layout.h"

#include <doctest/doctest.h>

#include <string>

namespace lagline {
namespace {

TEST_CASE("text_table: columns as wide as their content, numbers at the right, no blanks at ends") {
    const std::string table =
        text_table({{"name", false, 0}, {"mm", true, 0}}, {{"a", "7.11"}, {"longer", "12"}}, {});
    CHECK(table ==
          "name      mm\n"
          "──────  ────\n"
          "a       7.11\n"
          "longer    12\n");
}

TEST_CASE("text_table: what does not fit is cut with an ellipsis, numbers never") {
    const std::string table =
        text_table({{"text", false, 0}, {"number", true, 0}},
                   {{"a text that is much too long for it", "123456789"}}, {.width = 30});
    CHECK(table.find("123456789") != std::string::npos);
    CHECK(table.find("…") != std::string::npos);
    CHECK(table.find("much too long for it") == std::string::npos);
}

TEST_CASE("text_table: a colour takes no room") {
    const TextStyle style{.width = 80, .colour = true};
    const std::string cell = coloured("high", Tone::bad, style);
    CHECK(cell != "high");
    const std::string with = text_table({{"band", false, 0}, {"n", true, 0}}, {{cell, "1"}}, style);
    const std::string without =
        text_table({{"band", false, 0}, {"n", true, 0}}, {{"high", "1"}}, style);
    CHECK(with.size() == without.size() + cell.size() - 4);
    CHECK(coloured("high", Tone::bad, {}) == "high");
}

TEST_CASE("wrapped breaks between words and indents what follows") {
    CHECK(wrapped("one two three four", 9, 2) == "one two\n  three\n  four");
    CHECK(wrapped("  one\n two ", 80, 0) == "one two");
    CHECK(wrapped("", 80, 0) == "");
    CHECK(wrapped("unbreakable", 5, 0) == "unbreakable");
}

TEST_CASE("counted and grouped") {
    CHECK(counted(0, "segment") == "0 segments");
    CHECK(counted(1, "segment") == "1 segment");
    CHECK(counted(12345, "segment") == "12 345 segments");
    CHECK(counted(2, "quantity") == "2 quantities");
    CHECK(grouped(12345678) == "12 345 678");
    CHECK(grouped(100000) == "100 000");
    CHECK(grouped(-1234567) == "-1 234 567");
    CHECK(grouped(-123) == "-123");
    CHECK(grouped(999.5) == "1 000");
    CHECK(grouped(0) == "0");
}

}  // namespace
}  // namespace lagline
