#include "diagnostics/nearest.h"

#include <doctest/doctest.h>

#include <array>
#include <string>
#include <string_view>

using namespace lagline;

namespace {
constexpr std::array<std::string_view, 4> materials{"carbon_steel", "low_alloy_steel",
                                                    "austenitic_stainless", "duplex_stainless"};
}

TEST_CASE("nearest finds the word that was meant") {
    struct Row {
        std::string_view written, meant;
    };
    for (const auto& row :
         {Row{"carbon_steel", "carbon_steel"}, Row{"Carbon Steel", "carbon_steel"},
          Row{"carbon-steal", "carbon_steel"}, Row{"cabron_steel", "carbon_steel"},
          Row{"carbonsteel", "carbon_steel"}, Row{"low_aloy_steel", "low_alloy_steel"},
          Row{"austentic stainless", "austenitic_stainless"}}) {
        CAPTURE(row.written);
        CHECK(nearest(row.written, materials) == row.meant);
    }
}

TEST_CASE("nearest stays silent beyond a third of the word's length") {
    CHECK_FALSE(nearest("titanium", materials));
    CHECK_FALSE(nearest("", materials));
    CHECK_FALSE(nearest("-_ ", materials));
    constexpr std::array<std::string_view, 1> six{"abcdef"};
    CHECK(nearest("abcdxx", six) == "abcdef");  // 2 of 6
    CHECK_FALSE(nearest("abcxxx", six));        // 3 of 6
    constexpr std::array<std::string_view, 1> two{"mm"};
    CHECK(nearest("MM", two) == "mm");
    CHECK_FALSE(nearest("mn", two));
}

TEST_CASE("nearest counts a swap of neighbours as one edit") {
    constexpr std::array<std::string_view, 1> word{"abc"};
    CHECK(nearest("acb", word) == "abc");
    CHECK_FALSE(nearest("cab", word));
}

TEST_CASE("nearest gives a tie to the earlier candidate") {
    constexpr std::array<std::string_view, 2> words{"wool", "word"};
    constexpr std::array<std::string_view, 2> turned{"word", "wool"};
    CHECK(nearest("woo", words) == "wool");
    CHECK(nearest("wood", words) == "wool");
    CHECK(nearest("wood", turned) == "word");
}

TEST_CASE("nearest takes a very long word without harm") {
    CHECK_FALSE(nearest(std::string(1'000'000, 'x'), materials));
}

TEST_CASE("did_you_mean is a question or nothing") {
    CHECK(did_you_mean("carbon_stel", materials) == "did you mean 'carbon_steel'?");
    CHECK(did_you_mean("glass", materials).empty());
}

TEST_CASE("listing joins words for a sentence") {
    constexpr std::array<std::string_view, 7> words{"a", "b", "c", "d", "e", "f", "g"};
    const std::span<const std::string_view> all(words);
    CHECK(listing(all.first(0)).empty());
    CHECK(listing(all.first(1)) == "a");
    CHECK(listing(all.first(2)) == "a or b");
    CHECK(listing(all.first(3)) == "a, b or c");
    CHECK(listing(all, 3) == "a, b, c or 4 more");
    CHECK(listing(all, 7) == "a, b, c, d, e, f or g");
    CHECK(listing(all, 0) == "7 more");
}
