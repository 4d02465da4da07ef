#include <doctest/doctest.h>

#include "plant_folder.h"
#include "support/rules.h"

namespace lagline {
namespace {

const std::string site_list =
    "Tag,Line No.,Plant unit,Metal,NPS,Wall (in),Oper. Temp. (F),Insul,Since\n"
    "S-1,L-1,U1,CS,4,0.237,180,MW,1994\n";

const std::string site_map = R"text(segments.csv:
  headings:
    Tag: segment
    Line No.: line
    Plant unit: unit
    Metal: material
    NPS: nominal_size [NPS]
    Wall (in): nominal_wall [in]
    "Oper. Temp. (F)": operating_temperature [degF]
    Insul: insulation_type
    Since: in_service
  words:
    material: {CS: carbon_steel}
    insulation_type: {MW: mineral_wool}
)text";

TEST_CASE("a site's own headings and words are read as columns.yaml says") {
    const auto loaded = load({{"segments.csv", site_list}, {"columns.yaml", site_map}});
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant);
    const SegmentSheet& sheet = loaded.plant->segments;
    CHECK(sheet.texts(SegmentField::segment)[0] == "S-1");
    CHECK(sheet.numbers(SegmentField::nominal_wall)[0] ==
          doctest::Approx(0.237 * 25.4).epsilon(1e-15));  // 1 in = 25.4 mm
    CHECK(sheet.numbers(SegmentField::operating_temperature)[0] ==
          doctest::Approx(148.0 / 1.8).epsilon(1e-15));  // (180 - 32) / 1.8
    CHECK(sheet.codes(SegmentField::insulation_type)[0] ==
          code_of(published_rules(), "insulation_type", "mineral_wool"));
}

TEST_CASE("a site's words hold in overrides and in the defaults of plant.yaml too") {
    const auto loaded = load(
        {{"columns.yaml",
          "segments.csv:\n  words:\n    driver: {sea: severe}\n    jacket: {alu: aluminium}\n"},
         {"plant.yaml", "name: x\ncurrency: USD\ndefaults: {driver: sea}\n"},
         {"overrides.csv",
          "segment,quantity,value,reason,who,when\nS-1,jacket,alu,seen,A,2020-01-01\n"}});
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant);
    CHECK(loaded.plant->segments.codes(SegmentField::driver)[1] ==
          code_of(published_rules(), "driver", "severe"));
    CHECK(loaded.plant->segments.codes(SegmentField::jacket)[0] ==
          code_of(published_rules(), "jacket", "aluminium"));
}

TEST_CASE("errors of columns.yaml are told at their place") {
    struct Case {
        std::string yaml, problem, mend;
    };
    const std::vector<Case> cases{
        {"segment.csv: {}\n", "unknown-key columns.yaml:1:1 columns.yaml\n",
         "did you mean 'segments.csv'?"},
        {"segments.csv: {heading: {}}\n", "unknown-key columns.yaml:1:16 segments.csv\n",
         "did you mean 'headings'?"},
        {"segments.csv:\n  headings: {X: opperating_temperature}\n",
         "unknown-column columns.yaml:2:17 segments.csv -> headings -> X\n",
         "did you mean 'operating_temperature'?"},
        {"segments.csv:\n  words: {insulation: {MW: mineral_wool}}\n",
         "unknown-column columns.yaml:2:11 segments.csv -> words -> insulation\n", ""},
        {"segments.csv:\n  words: {insulation_type: {MW: mineralwoll}}\n",
         "unknown-word columns.yaml:2:33 segments.csv -> words -> insulation_type -> MW\n",
         "did you mean 'mineral_wool'?"},
        {"segments.csv:\n  words: {pooling: {j: ja}}\n",
         "unknown-word columns.yaml:2:24 segments.csv -> words -> pooling -> j\n",
         "map it to one of these words"},
        {"segments.csv:\n  words: {nominal_wall: {a: b}}\n",
         "unknown-word columns.yaml:2:11 segments.csv -> words -> nominal_wall\n", "remove it"},
        {"segments.csv: {keep: zone}\n", "yaml-shape columns.yaml:1:22 segments.csv -> keep\n",
         "write keep: [heading, heading]"},
        {"segments.csv: {keep: [a\n", "yaml-syntax columns.yaml:2:1\n", "check brackets"}};
    for (const Case& each : cases) {
        CAPTURE(each.yaml);
        const auto loaded = load({{"columns.yaml", each.yaml}});
        CHECK(summary(loaded.report) == each.problem);
        CHECK(holds(only(loaded).mend, each.mend));
    }
}

TEST_CASE("a kept column can be used by a factor of the site's overlay") {
    const TempFolder overlay;
    overlay.write("site.yaml",
                  R"(ruleset: {name: site, meaning: an invented site, based_on: published}
site_factors:
  near_tower:
    column: tower_zone
    meaning: drift of the cooling tower
    entries: {A: 1.3}
    otherwise: 1
    basis: site
    reason: measured here
)");
    const auto rules = load_rules(rules_root(), "published", overlay.path());
    INFO(to_text(rules.report));
    REQUIRE(rules.rules);
    const auto loaded = load({{"segments.csv", segments("tower_zone", "A")}}, {}, &*rules.rules);
    INFO(to_text(loaded.report));
    REQUIRE(loaded.plant);
    REQUIRE(rules.rules->site_factors.contains("near_tower"));
    CHECK(rules.rules->site_factors.at("near_tower").info.by ==
          loaded.plant->segments.site_columns.at(0).key);
    CHECK(loaded.plant->segments.site_columns.at(0).texts[0] == "A");
}

}  // namespace
}  // namespace lagline
