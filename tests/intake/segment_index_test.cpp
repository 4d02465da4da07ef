// Names by row, held against the hash table of the standard library.
#include "intake/segment_index.h"

#include <doctest/doctest.h>

#include <random>
#include <string>
#include <unordered_map>
#include <vector>

#include "intake/cell_cache.h"

namespace lagline {
namespace {

TEST_CASE("the index of names is that of the standard library") {
    std::mt19937_64 random{3};
    for (const std::size_t count : {0U, 1U, 5U, 3000U, 20'000U}) {
        CAPTURE(count);
        std::vector<std::string> owned;
        for (std::size_t i = 0; i < count; ++i) {
            // Names of all lengths; about one in ten stands twice, some are empty.
            owned.push_back(i > 0 && random() % 10 == 0
                                ? owned[random() % i]
                                : std::string(random() % 30, 'x') + std::to_string(i));
            if (random() % 100 == 0) owned.back().clear();
        }
        const std::vector<std::string_view> names(owned.begin(), owned.end());
        std::unordered_map<std::string_view, std::uint32_t> expected;
        std::vector<std::pair<std::uint32_t, std::uint32_t>> doubles;
        for (std::uint32_t row = 0; row < names.size(); ++row) {
            if (names[row].empty()) continue;
            const auto [first, fresh] = expected.emplace(names[row], row);
            if (!fresh) doubles.emplace_back(row, first->second);
        }
        for (const unsigned threads : {1U, 3U}) {
            const SegmentIndex index{names, {100, threads, nullptr}};
            CHECK(index.size() == expected.size());
            CHECK(index.empty() == expected.empty());
            for (const auto& [name, row] : expected) CHECK(index.find(name) == row);
            CHECK_FALSE(index.find("not there"));
            CHECK_FALSE(index.find(""));
            REQUIRE(index.doubles().size() == doubles.size());
            for (std::size_t i = 0; i < doubles.size(); ++i) {
                CHECK(index.doubles()[i].row == doubles[i].first);
                CHECK(index.doubles()[i].first == doubles[i].second);
            }
        }
    }
    CHECK_FALSE(SegmentIndex{}.find("anything"));
}

TEST_CASE("a value is found again under its own text and column only") {
    CellCache cache{2};
    std::unordered_map<std::string, double> kept;
    std::mt19937_64 random{9};
    std::size_t found_again = 0;
    for (int round = 0; round < 20'000; ++round) {
        // What stands behind a text must not count.
        const std::string text = std::to_string(random() % 500) + std::string(random() % 18, '0');
        const std::string source = text + std::to_string(random());
        const auto key = CellCache::key_of(std::string_view{source}.substr(0, text.size()),
                                           random() % 2 == 0 ? source.size() : text.size());
        CHECK(key.usable() == (text.size() <= 16));
        CHECK(cache.find(1, key) == nullptr);
        if (const CellValue* value = cache.find(0, key)) {
            CHECK(value->number == kept.at(text));
            ++found_again;
        }
        CellValue value;
        value.number = kept[text] = static_cast<double>(round);
        cache.keep(0, key, value);
    }
    CHECK(found_again > 100);
    CHECK_FALSE(CellCache::key_of("", 0).usable());
}

}  // namespace
}  // namespace lagline
