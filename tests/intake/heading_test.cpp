#include <doctest/doctest.h>

#include <algorithm>

#include "plant_folder.h"

namespace lagline {
namespace {

std::string replaced(std::string text, std::string_view from, std::string_view to) {
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

TEST_CASE("headings that cannot be used, each at its place with what to do") {
    struct Case {
        std::string from, to, problem, mend;
    };
    const std::vector<Case> cases{
        {"material", "matter", "missing-column segments.csv:1:1 material\n",
         "add the column, or map your heading in columns.yaml; headings not known: matter"},
        {"insulation_type", "insulaton_type", "unknown-column segments.csv:1:94 insulaton_type\n",
         "did you mean 'insulation_type'?"},
        {"nominal_wall [mm]", "nominal_wall [degC]",
         "unit-mismatch segments.csv:1:47 nominal_wall [degC]\n",
         "write the heading as nominal_wall [mm]"},
        {"nominal_wall [mm]", "nominal_wall [furlong]",
         "unknown-unit segments.csv:1:47 nominal_wall [furlong]\n",
         "write the heading as nominal_wall [mm]"},
        {"material", "material [mm]", "unit-mismatch segments.csv:1:19 material [mm]\n",
         "write the heading as material"},
        {"nominal_size [NPS]", "nominal_size", "missing-unit segments.csv:1:28 nominal_size\n",
         "write the heading as nominal_size [NPS] if that is the unit of the numbers"},
        {"operating_temperature [degC]", "operating_temperature",
         "missing-unit segments.csv:1:65 operating_temperature\n",
         "write the heading as operating_temperature [degC] if that is the unit of the numbers"},
        {"unit,", ",", "unknown-column segments.csv:1:14\nmissing-column segments.csv:1:1 unit\n",
         "name the column, or remove it"}};
    for (const Case& each : cases) {
        CAPTURE(each.to);
        const auto loaded = load({{"segments.csv", replaced(segments(), each.from, each.to)}});
        std::string expected = each.problem;
        if (expected.starts_with("unknown-column segments.csv:1:14")) {
            expected = "missing-column segments.csv:1:1 unit\nunknown-column segments.csv:1:14\n";
        }
        CHECK(summary(loaded.report) == expected);
        const auto& told = loaded.report.diagnostics();
        CHECK(std::ranges::any_of(told,
                                  [&](const Diagnostic& d) { return holds(d.mend, each.mend); }));
    }
}

TEST_CASE("bare numbers are told once, with their count and first line") {
    const auto loaded =
        load({{"segments.csv", replaced(segments(), "nominal_wall [mm]", "nominal_wall")}});
    CHECK(only(loaded).found == "2 numbers without a unit, the first in line 2");
}

TEST_CASE("a heading misspelt in a line of known ones, and one put in `keep`") {
    const auto refused = load({{"segments.csv", segments("jackt", "x")}});
    CHECK(summary(refused.report) == "unknown-column segments.csv:1:121 jackt\n");
    CHECK(holds(only(refused).mend, "did you mean 'jacket'?"));
    CHECK(holds(only(refused).mend, "`keep` in columns.yaml"));
    const auto kept = load({{"segments.csv", segments("jackt", "x")},
                            {"columns.yaml", "segments.csv: {keep: [jackt]}\n"}});
    INFO(to_text(kept.report));
    REQUIRE(kept.plant);
    REQUIRE(kept.plant->segments.site_columns.size() == 1);
    CHECK(kept.plant->segments.site_columns[0].key == "jackt");
    CHECK(kept.plant->segments.site_columns[0].texts[1] == "x");
}

TEST_CASE("a column far from ours is kept as the site's own") {
    const auto loaded = load({{"segments.csv", segments("tower zone,PM no", "A,\"1 \"\"x\"\"\"")}});
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant);
    const auto& own = loaded.plant->segments.site_columns;
    REQUIRE(own.size() == 2);
    CHECK(own[0].key == "tower zone");
    CHECK(own[0].texts[0] == "A");
    CHECK(own[1].texts[1] == "1 \"x\"");
}

TEST_CASE("two columns of a name: one problem, and neither is read") {
    const auto ours = load({{"segments.csv", segments("driver,driver", "bad,moderate")}});
    CHECK(summary(ours.report) == "duplicate-column segments.csv:1:128 driver\n");
    CHECK(holds(only(ours).found, "the first is column 10"));
    const auto needed = load({{"segments.csv", segments("material", "x")}});
    CHECK(summary(needed.report) == "duplicate-column segments.csv:1:121 material\n");
    const auto own = load({{"segments.csv", segments("zone,zone", "A,B")}});
    CHECK(summary(own.report) == "duplicate-column segments.csv:1:126 zone\n");
}

TEST_CASE("semicolons, tabs and a missing heading row are told once") {
    struct Case {
        char separator;
        std::string found, mend;
    };
    for (const Case& each :
         {Case{';', "fields apart by semicolons", "spreadsheet set to a European region"},
          Case{'\t', "fields apart by tabs", "export it as CSV with commas"}}) {
        std::string text = segments();
        std::ranges::replace(text, ',', each.separator);
        const auto loaded = load({{"segments.csv", text}});
        CHECK(summary(loaded.report) == "csv-field-count segments.csv:1:1\n");
        CHECK(only(loaded).found == each.found);
        CHECK(holds(only(loaded).mend, each.mend));
    }
    const auto headless = load({{"segments.csv", std::string{one_row} + "\n"},
                                {"inspections.csv",
                                 "segment,date,technique,coverage [%]\n"
                                 "S-1,2020-01-01,strip_and_measure,50\n"}});
    CHECK(summary(headless.report) == "missing-column segments.csv:1:1\n");
    CHECK(holds(only(headless).found, "the heading row is missing"));
}

TEST_CASE("the heading may stand behind blank lines and in quotes") {
    const auto loaded = load({{"segments.csv", "\n,,\n\"segment\"" + segments().substr(7)}});
    INFO(to_text(loaded.report));
    CHECK(loaded.plant);
    const auto missing =
        load({{"segments.csv", "\n\n" + replaced(segments(), "material", "matter")}});
    CHECK(summary(missing.report) == "missing-column segments.csv:3:1 material\n");
}

}  // namespace
}  // namespace lagline
