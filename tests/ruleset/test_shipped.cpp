#include <doctest/doctest.h>

#include <cmath>

#include "rule_folder.h"

namespace lagline {
namespace {

TEST_CASE("the shipped set 'published' loads, every entry with a source that is listed") {
    const auto loaded = load_rules(LAGLINE_SOURCE_DIR "/rules", "published");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    CHECK(loaded.report.diagnostics().empty());
    const auto& rules = *loaded.rules;
    CHECK(rules.name == "published");
    const auto lines = all_entries(rules);
    CHECK(lines.size() > 100);
    for (const auto& line : lines) {
        CAPTURE(line.table->name);
        CAPTURE(line.entry->key);
        CHECK_FALSE(line.table->meaning.empty());
        CHECK(rules.sources.contains(line.entry->source.id));
        CHECK_FALSE(line.entry->source.where.empty());
        CHECK(line.entry->basis != Basis::site);  // a shipped set speaks for no site
        CHECK(std::isfinite(line.entry->value));
    }
    for (const auto& item : rules.defaults) {
        CAPTURE(item.first);
        CHECK_FALSE(item.second.reason.empty());
    }
}

TEST_CASE("base_rate reproduces API RP 581 (3rd ed., addendum 2, 2020), Table 16.2") {
    const auto loaded = load_rules(LAGLINE_SOURCE_DIR "/rules", "published");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    const auto& rate = loaded.rules->curve("base_rate");
    const auto& drivers = loaded.rules->vocabulary("driver");
    // degF, then mpy for severe, moderate, mild and dry, as printed.
    struct Row {
        double degf, severe, moderate, mild, dry;
    };
    const auto degc = [](double degf) {
        return convert(degf, *parse_unit("degF", Dimension::temperature),
                       base_unit(Dimension::temperature));
    };
    const auto check = [&](double degf, const char* driver, double mpy) {
        CAPTURE(degf);
        CAPTURE(driver);
        const auto hit = rate.find(*drivers.code(driver), degc(degf));
        CHECK(hit.value == doctest::Approx(mpy * 0.0254).epsilon(1e-12));
        CHECK(rate.entries[hit.entry].printed == mpy);
    };
    for (const auto& row : {Row{10, 0, 0, 0, 0}, Row{18, 3, 1, 0, 0}, Row{43, 10, 5, 3, 1},
                            Row{90, 10, 5, 3, 1}, Row{160, 20, 10, 5, 2}, Row{225, 10, 5, 1, 1},
                            Row{275, 10, 2, 1, 0}, Row{325, 5, 1, 0, 0}, Row{350, 0, 0, 0, 0}}) {
        check(row.degf, "severe", row.severe);
        check(row.degf, "moderate", row.moderate);
        check(row.degf, "mild", row.mild);
        check(row.degf, "dry", row.dry);
    }
    const auto beyond = rate.find(*drivers.code("severe"), degc(355));
    CHECK(beyond.above);
    CHECK(beyond.value == 0.0);
}

}  // namespace
}  // namespace lagline
