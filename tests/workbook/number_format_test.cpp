// Formats by ISO/IEC 29500-1 (ECMA-376, Part 1), sections 18.8.30 (built-in numbers) and 18.8.31
// (codes).
#include <doctest/doctest.h>

#include <string_view>

#include "workbook/cell_reference.h"
#include "workbook/number_format.h"

namespace lagline {
namespace {

TEST_CASE("built-in formats, 18.8.30") {
    for (const std::uint32_t date : {14U, 15U, 16U, 17U, 22U, 27U, 36U, 50U, 58U}) {
        CAPTURE(date);
        CHECK(meaning_of_built_in(date) == NumberMeaning::date);
    }
    for (const std::uint32_t time : {18U, 19U, 20U, 21U, 45U, 47U}) {
        CAPTURE(time);
        CHECK(meaning_of_built_in(time) == NumberMeaning::time);
    }
    CHECK(meaning_of_built_in(46) == NumberMeaning::elapsed);
    for (const std::uint32_t percent : {9U, 10U}) {
        CHECK(meaning_of_built_in(percent) == NumberMeaning::percent);
    }
    for (const std::uint32_t plain : {0U, 1U, 4U, 11U, 12U, 37U, 44U, 48U, 49U, 163U}) {
        CAPTURE(plain);
        CHECK(meaning_of_built_in(plain) == NumberMeaning::plain);
    }
}

TEST_CASE("codes, 18.8.31: what is quoted, escaped or in brackets is no date") {
    for (const std::string_view date :
         {"yyyy-mm-dd", "YYYY\\-MM\\-DD", "d/m/yy;@", "[$-409]d\\-mmm\\-yy;@", "mmm yyyy",
          "dd.mm.yyyy hh:mm", "[Red]yyyy", "yyyy\"-\"mm", "mmmm"}) {
        CAPTURE(date);
        CHECK(meaning_of_code(date) == NumberMeaning::date);
    }
    for (const std::string_view plain :
         {"General", "0.00", "#,##0", "0.00E+00", "0.0\" mm\"", "0 \\d", "[Red]0;[Blue]-0", "@",
          "#,##0.00 \"USD\"", "[>100]0;0.0", "_-* #,##0.00_-", "0\"days\"", ""}) {
        CAPTURE(plain);
        CHECK(meaning_of_code(plain) == NumberMeaning::plain);
    }
    for (const std::string_view percent : {"0%", "0.0\\ %", "#,##0.00%"}) {
        CAPTURE(percent);
        CHECK(meaning_of_code(percent) == NumberMeaning::percent);
    }
    for (const std::string_view time : {"hh:mm", "h:mm AM/PM", "mm:ss.0"}) {
        CAPTURE(time);
        CHECK(meaning_of_code(time) == NumberMeaning::time);
    }
    CHECK(meaning_of_code("[h]:mm:ss") == NumberMeaning::elapsed);
    CHECK(meaning_of_code("0\"%\"") == NumberMeaning::plain);
}

TEST_CASE("references of cells, up to XFD1048576") {
    CHECK(parse_cell_reference("A1") == CellReference{1, 1});
    CHECK(parse_cell_reference("Z9") == CellReference{9, 26});
    CHECK(parse_cell_reference("AA10") == CellReference{10, 27});
    CHECK(parse_cell_reference("XFD1048576") == CellReference{1048576, 16384});
    for (const std::string_view wrong : {"", "A", "1", "A0", "XFE1", "A1048577", "a1", "A-1", "A1B",
                                         "$A$1", "AAAAAAAAAAAAAA1", "A99999999999999999999"}) {
        CAPTURE(wrong);
        CHECK_FALSE(parse_cell_reference(wrong).has_value());
    }
}

}  // namespace
}  // namespace lagline
