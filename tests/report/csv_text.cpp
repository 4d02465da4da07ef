#include "report/csv_text.h"

#include <doctest/doctest.h>

#include <string>
#include <string_view>

#include "support/csv_records.h"

namespace lagline {
namespace {

std::string field(std::string_view text) {
    std::string csv;
    append_csv_text(csv, text);
    return csv;
}

TEST_CASE("a field is quoted where RFC 4180, section 2, rules 6 and 7, asks for it, else not") {
    CHECK(field("") == "");
    CHECK(field("plain text") == "plain text");
    CHECK(field("a,b") == "\"a,b\"");
    CHECK(field("say \"no\"") == "\"say \"\"no\"\"\"");
    CHECK(field("two\nlines") == "\"two\nlines\"");
    CHECK(field("two\r\nlines") == "\"two\r\nlines\"");
    CHECK(field("Stra\u00dfe") == "Stra\u00dfe");
}

TEST_CASE("what a spreadsheet would run as a formula is made a text") {
    for (const std::string_view formula : {"=1+1", "=HYPERLINK(\"x\")", "+cmd", "-1+1", "@SUM(A1)",
                                           "\tx", "\rx", "=", "-", "+", "@"}) {
        CAPTURE(formula);
        const auto records = csv_records(field(formula) + "\n");
        REQUIRE(records.size() == 1);
        REQUIRE(records[0].size() == 1);
        CHECK(records[0][0] == "'" + std::string{formula});
    }
}

TEST_CASE("numbers with a sign, and signs inside a text, are left alone") {
    for (const std::string_view plain :
         {"-5", "+5", "-0.25", "1e-3", "-1e-3", "S-0107", "a=b", "x@y"}) {
        CAPTURE(plain);
        CHECK(field(plain) == plain);
    }
}

TEST_CASE("every field reads back as it was") {
    for (const std::string_view text :
         {"a", "a,b", "\"", "\"\"", ",", "\n", "a\"b,c\nd", " blank "}) {
        const auto records = csv_records(field(text) + ",end\n");
        REQUIRE(records.size() == 1);
        REQUIRE(records[0].size() == 2);
        CHECK(records[0][0] == text);
        CHECK(records[0][1] == "end");
    }
}

}  // namespace
}  // namespace lagline
