// The distributions of the shipped sets, and what is drawn from each kind.
#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "ranking/draw_cell.h"
#include "ranking/uncertainty.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

TEST_CASE("every input that can be missing or imprecise has a distribution or says why not") {
    for (const std::string_view name : {"published", "extended"}) {
        const RuleSet rules = rules_from(rules_root(), name);
        std::string without;
        for (const std::size_t field : fields_without_distribution(rules)) {
            without += std::string{segment_fields()[field].key} + " ";
        }
        CAPTURE(name);
        CHECK(without == "");
        for (const auto& [key, made] : rules.distributions) {
            CAPTURE(key);
            CHECK(!made.reason.empty());
            CHECK(!made.info.meaning.empty());
            CHECK(!made.entries.empty());
        }
    }
}

TEST_CASE("a column whose distribution is taken away is told") {
    RuleSet rules = published_rules();
    rules.distributions.erase("missing_pooling");
    const auto without = fields_without_distribution(rules);
    REQUIRE(without.size() == 1);
    CHECK(segment_fields()[without[0]].key == "pooling");
}

TEST_CASE("normal quantiles: NIST/SEMATECH e-Handbook 1.3.6.7.1, to its printed digits") {
    CHECK(normal_quantile(0.5) == doctest::Approx(0.0));
    CHECK(std::abs(normal_quantile(0.84134) - 1.0) < 1e-4);
    CHECK(std::abs(normal_quantile(0.97500) - 1.96) < 1e-4);
    CHECK(std::abs(normal_quantile(0.00135) + 3.0) < 1e-3);
}

struct Drawn {
    Plant plant;
    std::vector<std::uint8_t> classes;
};

// Draws the cell of column `field` in segments that differ only in their number.
Drawn draw(const RuleSet& rules, SegmentField field, const Cells& changes,
           const std::vector<double>& uniform) {
    SmallPlant made;
    for (std::size_t i = 0; i < uniform.size(); ++i) {
        made.segments.push_back(segment_cells("S-" + std::to_string(i), changes));
    }
    Drawn drawn{assemble(made, rules), std::vector<std::uint8_t>(uniform.size())};
    const InputDraws draws(drawn.plant, rules, fields_by_mechanism(rules));
    for (const InputDraw& each : draws.draws()) {
        const bool of_segments = each.from->file == DistributionFile::segments;
        if (!of_segments || each.from->field != index_of(field)) continue;
        if (each.from->cell != DoubtfulCell::missing) continue;
        CellSamples samples{.sheet = drawn.plant.segments,
                            .uniform = uniform,
                            .classes = drawn.classes,
                            .intervals = 4};
        draw_cell(each, samples);
    }
    return drawn;
}

TEST_CASE("shares: a word by the share that the number falls into, by band of the year") {
    const RuleSet& rules = published_rules();
    const auto code = [&](std::string_view word) {
        return code_of(rules, "insulation_condition", word);
    };
    const std::vector<double> uniform{0.419, 0.421, 0.889, 0.891};
    // Before 1995: 0.42 below average, 0.47 average, 0.11 above average.
    const Drawn old =
        draw(rules, SegmentField::insulation_condition,
             {{"insulation_condition", ""}, {"insulation_installed", "1994-12-31"}}, uniform);
    const auto codes = old.plant.segments.codes(SegmentField::insulation_condition);
    CHECK(codes[0] == code("below_average"));
    CHECK(codes[1] == code("average"));
    CHECK(codes[2] == code("average"));
    CHECK(codes[3] == code("above_average"));
    CHECK(old.classes[3] == codes[3]);
    CHECK(old.plant.segments.state(SegmentField::insulation_condition, 0) == CellState::given);
    // From 1995 on 0.30 below average; the year comes from in_service where there is no other.
    const Drawn later = draw(
        rules, SegmentField::insulation_condition,
        {{"insulation_condition", ""}, {"insulation_installed", ""}, {"in_service", "1995-01-01"}},
        uniform);
    CHECK(later.plant.segments.codes(SegmentField::insulation_condition)[0] == code("average"));
}

TEST_CASE("points: straight between quantiles, in the unit of the column") {
    const RuleSet& rules = published_rules();
    const Drawn drawn = draw(rules, SegmentField::design_pressure, {{"design_pressure", ""}},
                             {1e-12, 0.125, 0.25, 0.75, 1.0 - 1e-12});
    const auto mpa = drawn.plant.segments.numbers(SegmentField::design_pressure);
    constexpr double psi = 0.00689475729316836;
    const std::array<double, 5> wanted_psi{50.0, 100.0, 150.0, 512.5, 1480.0};
    for (std::size_t i = 0; i < wanted_psi.size(); ++i) {
        CAPTURE(i);
        CHECK(mpa[i] == doctest::Approx(wanted_psi[i] * psi).epsilon(1e-9));
    }
    CHECK(drawn.classes[1] == 0);
    CHECK(drawn.classes[3] == 3);
}

TEST_CASE("between: any day from the first to the last, both of them too") {
    const RuleSet& rules = published_rules();
    const Drawn drawn = draw(rules, SegmentField::coating_date,
                             {{"coating_date", ""},
                              {"in_service", "2000-01-01"},
                              {"insulation_installed", "2000-01-10"}},
                             {0.01, 0.55, 0.99});
    const auto days = drawn.plant.segments.days(SegmentField::coating_date);
    CHECK(to_string(Date{days[0]}) == "2000-01-01");
    CHECK(to_string(Date{days[1]}) == "2000-01-06");
    CHECK(to_string(Date{days[2]}) == "2000-01-10");
    // Without a later day the day in service stands, as derived.
    const Drawn none = draw(
        rules, SegmentField::coating_date,
        {{"coating_date", ""}, {"in_service", "2000-01-01"}, {"insulation_installed", ""}}, {0.99});
    CHECK(to_string(Date{none.plant.segments.days(SegmentField::coating_date)[0]}) == "2000-01-01");
    CHECK(none.plant.segments.state(SegmentField::coating_date, 0) == CellState::derived);
}

}  // namespace
}  // namespace lagline
