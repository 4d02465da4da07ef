#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <string>

#include "extended/made_plant.h"

namespace lagline {
namespace {

constexpr std::array drivers{"severe", "moderate", "mild", "dry"};

std::string word_at(const RuleSet& rules, const char* table, const char* driver, double degc) {
    const RuleHit hit = rules.band(table).find(word_code(rules, "driver", driver), degc);
    CHECK_FALSE(hit.outside());
    return rules.vocabulary("susceptibility").words[hit.code].key;
}

TEST_CASE("susceptibility: API RP 581, 3rd edition, Part 2, Table 18.2, every cell and band end") {
    // Printed: below 49, 49 to 93, 93 to 149, above 149 degC.  93, printed twice, takes the worse.
    struct Row {
        std::array<double, 4> degc;
        std::array<const char*, 4> by_driver;
    };
    for (const RuleSet* rules : {&shipped_published(), &shipped_extended()}) {
        for (const auto& row : {Row{{-100.0, 20.0, 48.9, std::nextafter(49.0, 0.0)},
                                    {"none", "none", "none", "none"}},
                                Row{{49.0, 60.0, 92.9, 93.0}, {"high", "high", "medium", "low"}},
                                Row{{std::nextafter(93.0, 100.0), 93.1, 120.0, 149.0},
                                    {"high", "medium", "low", "none"}},
                                Row{{std::nextafter(149.0, 200.0), 149.1, 200.0, 400.0},
                                    {"none", "none", "none", "none"}}}) {
            for (const double degc : row.degc) {
                for (std::size_t i = 0; i < drivers.size(); ++i) {
                    CAPTURE(degc);
                    CAPTURE(drivers[i]);
                    CHECK(word_at(*rules, "scc_susceptibility", drivers[i], degc) ==
                          row.by_driver[i]);
                }
            }
        }
    }
}

TEST_CASE("susceptibility of duplex: extended only, never above austenitic, none below 80 degC") {
    CHECK_FALSE(shipped_published().bands.contains("scc_susceptibility_duplex"));
    const RuleSet& rules = shipped_extended();
    for (const char* driver : drivers) {
        for (double degc = 0.0; degc < 200.0; degc += 0.5) {
            CAPTURE(driver);
            CAPTURE(degc);
            const std::uint8_t code = word_code(rules, "driver", driver);
            const auto duplex = rules.band("scc_susceptibility_duplex").find(code, degc).code;
            const auto austenitic = rules.band("scc_susceptibility").find(code, degc).code;
            const int one_class_less = std::max(0, austenitic - 1);
            CHECK(static_cast<int>(duplex) == (degc < 80.0 ? 0 : one_class_less));
        }
    }
}

TEST_CASE("severity index: high 50, medium 10, low 1, none 0, API RP 581 section 18 (recalled)") {
    const RuleSet& rules = shipped_extended();
    const LookupTable& severity = rules.lookup("scc_severity");
    for (const auto& [word, index] : {std::pair{"none", "s0"}, std::pair{"low", "s1"},
                                      std::pair{"medium", "s10"}, std::pair{"high", "s50"}}) {
        CHECK(severity.entries[word_code(rules, "susceptibility", word)].word == index);
    }
}

TEST_CASE("base damage factor: API RP 581, 3rd edition, Part 2, Table 6.3, every row (recalled)") {
    struct Row {
        const char* index;
        std::array<double, 25> printed;  // E, then D C B A once to six times
    };
    const RuleSet& rules = shipped_extended();
    const GridTable& table = rules.grid("scc_base_damage_factor");
    for (const auto& row :
         {Row{"s1", {1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}},
          Row{"s10", {10, 8, 3, 1, 1, 6, 2, 1, 1, 4, 1, 1, 1, 2, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}},
          Row{"s50",
              {50, 40, 17, 5, 3, 30, 10, 2, 1, 20, 5, 1, 1, 10, 2, 1, 1, 5, 1, 1, 1, 1, 1, 1, 1}},
          Row{"s100", {100, 80, 33, 10, 5,  60, 20, 4, 1, 40, 10, 2, 1,
                       20,  5,  1,  1,  10, 2,  1,  1, 5, 1,  1,  1}},
          Row{"s500", {500, 400, 170, 50, 25, 300, 100, 20, 5,  200, 50, 8, 1,
                       100, 25,  2,   1,  50, 10,  1,   1,  25, 5,   1,  1}},
          Row{"s1000", {1000, 800, 330, 100, 50,  600, 200, 40, 10, 400, 100, 16, 2,
                        200,  50,  5,   1,   100, 25,  2,   1,  50, 10,  1,   1}},
          Row{"s5000", {5000, 4000, 1670, 500, 250, 3000, 1000, 250, 50,  2000, 500, 80, 10,
                        1000, 250,  25,   2,   500, 125,  5,    1,   250, 50,   2,   1}}}) {
        for (std::size_t column = 0; column < row.printed.size(); ++column) {
            CAPTURE(row.index);
            CAPTURE(column);
            CHECK(table
                      .at(word_code(rules, "severity_index", row.index),
                          static_cast<std::uint8_t>(column))
                      .value == row.printed[column]);
        }
    }
}

}  // namespace
}  // namespace lagline
