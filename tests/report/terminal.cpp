#include <doctest/doctest.h>

#include <sstream>
#include <string>
#include <vector>

#include "diagnostics/text.h"
#include "intake/gaps.h"
#include "ranking/explain.h"
#include "ranking/rule_checks.h"
#include "report/cautions.h"
#include "report/explain_text.h"
#include "report/gaps_text.h"
#include "report/ranking_table.h"
#include "report/rules_text.h"
#include "support/rules.h"
#include "support/small_plant.h"

namespace lagline {
namespace {

std::string without_colour(const std::string& text) {
    std::string bare;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\x1b') {
            i = text.find('m', i);
            continue;
        }
        bare += text[i];
    }
    return bare;
}

// Only a line that holds nothing but one word too long to break may be longer.
void require_fits(const std::string& text, std::size_t width) {
    std::istringstream lines{without_colour(text)};
    for (std::string line; std::getline(lines, line);) {
        if (display_width(line) <= width) continue;
        CAPTURE(line);
        REQUIRE(trimmed(line).find(' ') == std::string_view::npos);
    }
}

std::vector<TextStyle> styles() {
    std::vector<TextStyle> all;
    for (const std::size_t width : {80U, 100U, 120U}) {
        all.push_back({.width = width, .colour = false});
        all.push_back({.width = width, .colour = true});
    }
    return all;
}

// Names longer than any column, and with what a terminal would act on.
Plant hostile_plant() {
    SmallPlant small{
        .segments = {segment_cells(std::string(70, 'S')),
                     segment_cells("\x1b[2J\x07tab\there", {{"line", std::string(90, 'L')},
                                                            {"unit", std::string(90, 'U')}}),
                     segment_cells("Stra\u00dfe-1", {{"leak_cost", "123456789012 USD"}})}};
    small.description.name = std::string(200, 'P');
    return assemble(small, published_rules());
}

TEST_CASE("the ranking table fits 80, 100 and 120 columns") {
    for (const Plant& plant : {sample_plant(published_rules()), hostile_plant()}) {
        const Ranking ranking = rank(plant, published_rules());
        for (const TextStyle& style : styles()) {
            CAPTURE(style.width);
            const std::string text = ranking_table(plant, published_rules(), ranking, 0, style);
            require_fits(text, style.width);
            CHECK(without_colour(text).find('\x07') == std::string::npos);
        }
    }
}

TEST_CASE("colour changes nothing but colour; without it no escape is written") {
    const Plant plant = hostile_plant();
    const Ranking ranking = rank(plant, published_rules());
    for (const std::size_t width : {80U, 120U}) {
        const std::string plain =
            ranking_table(plant, published_rules(), ranking, 0, {.width = width, .colour = false});
        const std::string colours =
            ranking_table(plant, published_rules(), ranking, 0, {.width = width, .colour = true});
        CHECK(plain.find('\x1b') == std::string::npos);
        CHECK(colours.find('\x1b') != std::string::npos);
        CHECK(without_colour(colours) == plain);
    }
}

TEST_CASE(
    "the ranking table tells the rows left over, the bands, what is not ranked, the caution") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    const std::string text =
        ranking_table(plant, published_rules(), ranking, 5, {.width = 200, .colour = false});
    CHECK(text.find("Ranked at 2027-04-05 (as asked)") != std::string::npos);
    CHECK(text.find(counted(ranking.rows() - 5, "row") + " more") != std::string::npos);
    CHECK(text.find(counted(ranking.rows(), "segment") + " ranked") != std::string::npos);
    CHECK(text.find("no mechanism for duplex_stainless") != std::string::npos);
    CHECK(text.find(screening_caution) != std::string::npos);
    const auto first =
        plant.segments.texts(SegmentField::segment)[ranking.segment_rows[ranking.order.front()]];
    CHECK(text.find(first) != std::string::npos);
}

TEST_CASE("an explanation fits 80, 100 and 120 columns, for every row of the sample plant") {
    const Plant plant = sample_plant(published_rules());
    const Ranking ranking = rank(plant, published_rules());
    for (std::uint32_t row = 0; row < ranking.rows(); row += 5) {
        const Explanation told = explain(plant, published_rules(), ranking, row);
        for (const TextStyle& style : styles()) {
            CAPTURE(told.segment);
            CAPTURE(style.width);
            require_fits(explain_text(told, style), style.width);
        }
    }
    const Plant hostile = hostile_plant();
    const Ranking ranked = rank(hostile, published_rules());
    for (std::uint32_t row = 0; row < ranked.rows(); ++row) {
        const Explanation told = explain(hostile, published_rules(), ranked, row);
        for (const TextStyle& style : styles()) {
            const std::string text = explain_text(told, style);
            require_fits(text, style.width);
            CHECK(without_colour(text).find('\x07') == std::string::npos);
        }
    }
}

TEST_CASE("an explanation warns of a wall near its minimum, and only of that") {
    const Plant plant = assemble(
        {.segments = {segment_cells("thin", {{"driver", "severe"}, {"coating_quality", "none"}}),
                      segment_cells("sound", {{"driver", "dry"}})}},
        published_rules());
    const Ranking ranking = rank(plant, published_rules());
    const auto text = [&](std::string_view segment) {
        return explain_text(
            explain(plant, published_rules(), ranking, find_row(plant, ranking, segment).value()),
            {.width = 200, .colour = false});
    };
    CHECK(text("thin").find("do not strip it in service") != std::string::npos);
    CHECK(text("sound").find("do not strip it in service") == std::string::npos);
    for (const std::string_view caution : field_cautions) {
        CHECK(text("sound").find(caution) != std::string::npos);
    }
}

TEST_CASE("register of assumptions, summary and rule listings fit 80, 100 and 120 columns") {
    const Plant plant = sample_plant(published_rules());
    const auto gaps = find_gaps(plant, published_rules(), fields_read(published_rules()));
    const auto outcomes = run_rule_checks(published_rules());
    REQUIRE_FALSE(gaps.empty());
    for (const TextStyle& style : styles()) {
        CAPTURE(style.width);
        require_fits(plant_summary(plant, style), style.width);
        require_fits(gaps_text(gaps, plant.segments.rows(), style), style.width);
        require_fits(rules_list(published_rules(), style), style.width);
        require_fits(rules_sources(published_rules(), style), style.width);
        require_fits(rules_recalled(published_rules(), style), style.width);
        require_fits(rules_checked(outcomes, style), style.width);
        for (const auto& line : all_entries(published_rules())) {
            require_fits(rules_table(published_rules(), line.table->name, style), style.width);
        }
    }
}

TEST_CASE("a rule table that is not there gives an empty text") {
    CHECK(rules_table(published_rules(), "no_such_table", {}).empty());
}

}  // namespace
}  // namespace lagline
