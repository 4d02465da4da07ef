#include <doctest/doctest.h>

#include "intake/source_file.h"
#include "intake/what_if.h"
#include "made_plan.h"
#include "support/rules.h"
#include "support/temp_folder.h"

namespace lagline {
namespace {

TEST_CASE("a change on trial is a selector, a column and a value") {
    const auto change = read_trial_change("S-1.2.operating_temperature=95.5 degC");
    REQUIRE(change);
    CHECK(change->selector == "S-1.2");
    CHECK(change->column == "operating_temperature");
    CHECK(change->value == "95.5 degC");
    for (const char* wrong : {"", "S-1", "S-1.length", "S-1.length=", ".length=3 m", "S-1.=3 m"}) {
        CAPTURE(wrong);
        CHECK(!read_trial_change(wrong));
    }
}

SmallPlant three() {
    return {.segments = {segment_cells("S-1", {{"line", "L-1"}, {"length", "5 m"}}),
                         segment_cells("S-2", {{"line", "L-1"}, {"length", "5 m"}}),
                         segment_cells("S-3", {{"line", "L-2"}, {"length", "5 m"}})}};
}

PlantSources sources_of(Report& report) {
    PlantSources sources;
    sources.file = {three().description, three().defaults};
    sources.segments = source_from_text(csv_of(three().segments), "segments.csv", report);
    return sources;
}

std::vector<double> lengths(const PlantSources& sources, Report report) {
    auto loaded =
        assemble_plant(sources, published_rules(), {three().at, three().at, {}}, std::move(report));
    REQUIRE(loaded.plant);
    const auto numbers = loaded.plant->segments.numbers(SegmentField::length);
    return {numbers.begin(), numbers.end()};
}

TEST_CASE("changes on trial reach one segment, a line or all, and say nothing to the files") {
    const Plant plant = assemble(three(), published_rules());
    Report report;
    const auto with = [&](const std::vector<TrialChange>& changes) {
        return with_changes(sources_of(report), plant, changes, report);
    };
    CHECK(lengths(with({{"S-2", "length", "7 m"}}), {})[1] == 7.0);
    CHECK(lengths(with({{"line:L-1", "length", "8 m"}}), {}) == std::vector<double>{8.0, 8.0, 5.0});
    CHECK(lengths(with({{"all", "length", "9 m"}, {"S-3", "length", "1 m"}}), {}) ==
          std::vector<double>{9.0, 9.0, 1.0});  // the last word counts
    CHECK(report.ok());
    (void)with({{"unit:nowhere", "length", "9 m"}});
    CHECK(!report.ok());
}

}  // namespace
}  // namespace lagline
