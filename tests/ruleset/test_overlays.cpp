#include <doctest/doctest.h>

#include "rule_folder.h"

namespace lagline {
namespace {

const std::string site = "ruleset: {name: site, meaning: an invented plant, based_on: base}\n";

TEST_CASE("an overlay changes values of every kind of table, and each change is written down") {
    const RuleFolder folder;
    const auto loaded = load_overlay(folder, site + R"(changes:
  - {table: limit, to: 0.1 in, reason: r1, who: A. Engineer}
  - {table: factor, entry: red, to: 1.4, reason: r2, source: {id: doc, where: p. 9}, basis: published}
  - {table: rate, entry: {colour: red, at: 50 degF}, to: 0.635 mm/y, reason: r3}
  - {table: mark, entry: {colour: red, at: 60 %}, to: bad, reason: r4}
  - {table: table_of_two, entry: {grade: bad, colour: blue}, to: 0.07, reason: r5}
  - {default: complexity, to: above_average, reason: r6}
)");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    const auto& rules = *loaded.rules;
    CHECK(rules.name == "site");
    CHECK(rules.layers == std::vector<std::string>{"base", "site"});

    const auto& limit = rules.value("limit").entries[0];
    CHECK(limit.value == doctest::Approx(2.54).epsilon(1e-15));
    CHECK(limit.replaced == "2 mm");
    CHECK(limit.reason == "r1");
    CHECK(limit.basis == Basis::site);
    CHECK(limit.source.id.empty());
    CHECK(limit.place.line == 3);
    const auto& factor = rules.lookup("factor").entries[0];
    CHECK(factor.value == 1.4);
    CHECK(factor.basis == Basis::published);
    CHECK(factor.source.where == "p. 9");
    const auto& rate = rules.curve("rate").entries[1];
    CHECK(rate.key == "red at 50 degF");
    CHECK(rate.value == 0.635);
    CHECK(rate.printed == doctest::Approx(25.0).epsilon(1e-14));  // 0.635 mm / 0.0254 mm
    CHECK(rules.band("mark").find(0, 0.9).code == 1);
    // "%" table, number alone: percent.
    CHECK(rules.grid("table_of_two").at(1, 2).value == doctest::Approx(0.0007).epsilon(1e-14));
    CHECK(rules.defaults.at("complexity").text == "above_average");
    CHECK(rules.defaults.at("complexity").replaced == "average");
    CHECK(rules.defaults.at("complexity").reason == "r6");

    REQUIRE(rules.changes.size() == 6);
    const auto& first = rules.changes[0];
    CHECK(first.what == "limit");
    CHECK(first.from == "2 mm");
    CHECK(first.to == "2.54 mm");
    CHECK(first.reason == "r1");
    CHECK(first.who == "A. Engineer");
    CHECK(rules.changes[1].what == "factor: red");
    CHECK(rules.changes[1].from == "1.5");
    CHECK(rules.changes[1].to == "1.4");
    CHECK(rules.changes[2].from == "10 mpy");
    CHECK(rules.changes[3].what == "mark: red, up to 100 %");
    CHECK(rules.changes[3].from == "good");
    CHECK(rules.changes[5].what == "default: complexity");
    CHECK(rules.changes[5].to == "above_average");
}

TEST_CASE("a whole table can be replaced") {
    const RuleFolder folder;
    const auto loaded = load_overlay(folder, site + R"(changes:
  - table: factor
    reason: measured here
    replace: {kind: lookup, meaning: m, by: colour, unit: "-", entries: {red: 7, green: 8, blue: 9}}
)");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    const auto& factor = loaded.rules->lookup("factor");
    CHECK(factor.value(2) == 9.0);
    CHECK(factor.info.basis == Basis::site);
    CHECK(factor.entries[1].replaced == "2");
    CHECK(factor.entries[1].reason == "measured here");
    REQUIRE(loaded.rules->changes.size() == 1);
    CHECK(loaded.rules->changes[0].what == "factor");
    CHECK(loaded.rules->changes[0].from.find("tables.yaml:3:3") != std::string::npos);
}

TEST_CASE("a word that an overlay adds needs a value in every table") {
    const RuleFolder folder;
    const auto words = site + "words: {grade: {middling: \"\"}}\n";
    const auto without = load_overlay(folder, words);
    INFO(full(without.report));
    CHECK(summary(without.report) == "missing-entry 2:17, missing-entry 2:17, missing-entry 2:17");
    CHECK(without.report.diagnostics()[0].found == "no value for middling, red");
    const auto loaded = load_overlay(folder, words + R"(changes:
  - {table: table_of_two, entry: {grade: middling, colour: red}, to: 10, reason: r}
  - {table: table_of_two, entry: {grade: middling, colour: green}, to: 20, reason: r}
  - {table: table_of_two, entry: {grade: middling, colour: blue}, to: 30, reason: r}
)");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    CHECK(loaded.rules->vocabulary("grade").code("middling") == 2);
    CHECK(loaded.rules->grid("table_of_two").at(2, 1).value == doctest::Approx(0.2));
    CHECK(loaded.rules->changes[0].from.empty());
}

TEST_CASE("a word added to columns or curves shifts nothing else") {
    const RuleFolder folder;
    const auto loaded = load_overlay(folder, site + R"(words: {colour: {grey: dull}}
changes:
  - {table: factor, entry: grey, to: 4, reason: r}
  - {table: rate, entry: {colour: grey, at: 10}, to: 1, reason: r}
  - {table: rate, entry: {colour: grey, at: 50}, to: 2, reason: r}
  - {table: rate, entry: {colour: grey, at: 150}, to: 3, reason: r}
  - table: mark
    reason: r
    replace:
      kind: bands
      meaning: m
      by: colour
      axis: {quantity: coverage, unit: "%"}
      gives: grade
      bands: {red: [{above: true, is: good}], green: [{above: true, is: good}],
              blue: [{above: true, is: good}], grey: [{above: true, is: bad}]}
  - {table: table_of_two, entry: {grade: good, colour: grey}, to: 10, reason: r}
  - {table: table_of_two, entry: {grade: bad, colour: grey}, to: 20, reason: r}
)");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    const auto& rules = *loaded.rules;
    CHECK(rules.lookup("factor").value(3) == 4.0);
    CHECK(rules.curve("rate").entries[11].key == "grey at 150 degF");
    CHECK(rules.curve("rate").entries[4].key == "green at 50 degF");
    CHECK(rules.grid("table_of_two").at(1, 0).printed == 4.0);
    CHECK(rules.grid("table_of_two").at(1, 3).printed == 20.0);
    CHECK(rules.band("mark").find(3, 0.5).code == 1);
}

TEST_CASE("an overlay may bring new tables, defaults, sources and site factors") {
    const RuleFolder folder;
    const auto loaded =
        load_overlay(folder, site + R"(sources: {survey: {title: Site survey, edition: 2024}}
tables: {extra: {kind: value, meaning: m, unit: mm, value: 1, source: {id: survey, where: p. 1}, basis: published}}
defaults: {pooling: {take: "no", reason: r, basis: site}}
site_factors:
  tower: {column: tower_zone, meaning: m, entries: {A: 1.3}, otherwise: 1, basis: site, reason: drift}
)");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    CHECK(loaded.rules->value("extra").value() == 1.0);
    CHECK(loaded.rules->site_factors.at("tower").entries[0].reason == "drift");
    CHECK(all_entries(*loaded.rules).size() == 24 + 1 + 2);
}

TEST_CASE("the layers of a chain apply from the lowest up") {
    const RuleFolder folder;
    folder.write("base/head.yaml", small_head);
    folder.write("base/tables.yaml", small_tables);
    folder.write("more/more.yaml",
                 "ruleset: {name: more, meaning: m, based_on: base}\n"
                 "changes: [{table: limit, to: 3, reason: r1}]\n");
    folder.write("site/site.yaml", site + "changes: [{table: limit, to: 4, reason: r2}]\n");
    const auto loaded = load_rules(folder.root(), "more", folder.root() / "site");
    INFO(full(loaded.report));
    REQUIRE(loaded.rules.has_value());
    CHECK(loaded.rules->layers == std::vector<std::string>{"base", "more", "site"});
    CHECK(loaded.rules->value("limit").value() == 4.0);
    CHECK(loaded.rules->value("limit").entries[0].replaced == "3 mm");
    REQUIRE(loaded.rules->changes.size() == 2);
    CHECK(loaded.rules->changes[0].from == "2 mm");
    CHECK(loaded.rules->changes[1].from == "3 mm");
}

TEST_CASE("problems of changes") {
    const auto code = [](const std::string& changes) {
        const RuleFolder folder;
        const auto loaded = load_overlay(folder, site + "changes:\n  - " + changes + "\n");
        CHECK_FALSE(loaded.rules.has_value());
        return summary(loaded.report);
    };
    CHECK(code("{table: limits, to: 1, reason: r}") == "missing-table 3:13");
    CHECK(code("{table: limit, to: 1}") == "missing-reason 3:5");
    CHECK(code("{table: limit, to: 1, reason: \"\"}") == "missing-value 3:35");
    CHECK(code("{table: limit, reason: r}") == "missing-key 3:5");
    CHECK(code("{to: 1, reason: r}") == "missing-key 3:5");
    CHECK(code("{table: limit, default: pooling, to: 1, reason: r}") == "contradiction 3:5");
    CHECK(code("{table: limit, to: 1, reson: x, reason: r}") == "unknown-key 3:27");
    CHECK(code("{table: limit, to: 1 degC, reason: r}") == "unit-mismatch 3:24");
    CHECK(code("{table: limit, to: 1 furlong, reason: r}") == "unknown-unit 3:24");
    CHECK(code("{table: limit, to: few, reason: r}") == "not-a-number 3:24");
    CHECK(code("{table: limit, entry: x, to: 1, reason: r}") == "contradiction 3:20");
    CHECK(code("{table: factor, to: 1, reason: r}") == "missing-key 3:5");
    CHECK(code("{table: factor, entry: pink, to: 1, reason: r}") == "unknown-word 3:28");
    CHECK(code("{table: rate, entry: {colour: red, at: 60 degF}, to: 1, reason: r}") ==
          "missing-entry 3:44");
    CHECK(code("{table: rate, entry: {colour: red}, to: 1, reason: r}") == "missing-key 3:26");
    CHECK(code("{table: rate, entry: {colours: red, colour: red, at: 50}, to: 1, reason: r}") ==
          "unknown-key 3:27");
    CHECK(code("{table: rate, entry: {colour: red, at: 50 mm}, to: 1, reason: r}") ==
          "unit-mismatch 3:44");
    CHECK(code("{table: mark, entry: {colour: red, at: 200}, to: bad, reason: r}") ==
          "missing-entry 3:44");
    CHECK(code("{table: mark, entry: {colour: red, at: 10}, to: worse, reason: r}") ==
          "unknown-word 3:53");
    CHECK(code("{table: limit, to: 1, replace: {}, reason: r}") == "contradiction 3:27");
    CHECK(code("{default: pooling, to: \"no\", reason: r}") == "missing-entry 3:15");
    CHECK(code("{default: poling, to: \"no\", reason: r}") == "unknown-key 3:15");
    CHECK(code("{table: limit, to: 1, reason: r}\n  - {table: limit, to: 2, reason: r}") ==
          "duplicate-key 4:24");
    CHECK(code("{table: limit, to: 1, reason: r, basis: published}") == "missing-source 3:45");
    CHECK(code("just a text") == "yaml-shape 3:5");
}

TEST_CASE("an overlay may not write over a table, a default, a source or a word in silence") {
    const RuleFolder folder;
    const auto loaded = load_overlay(folder, site + R"(sources: {doc: {title: t, edition: e}}
words: {colour: {red: hot}}
tables: {limit: {kind: value, meaning: m, unit: mm, value: 1, basis: site}}
defaults: {complexity: {take: average, reason: r, basis: site}}
site_factors: {f: {column: c, meaning: m, entries: {A: 1}, otherwise: 1, basis: site}}
)");
    INFO(full(loaded.report));
    CHECK(summary(loaded.report) ==
          "duplicate-key 2:11, duplicate-key 3:18, duplicate-key 4:10, duplicate-key 5:12, "
          "missing-reason 6:19");
    CHECK(loaded.report.diagnostics()[2].mend.find("changes") != std::string::npos);
}

TEST_CASE("an overlay made for another rule set is refused") {
    const RuleFolder folder;
    const auto loaded =
        load_overlay(folder, "ruleset: {name: site, meaning: m, based_on: other}\n");
    CHECK(summary(loaded.report) == "contradiction 1:45");
    const RuleFolder named;
    CHECK(summary(load_overlay(named, "ruleset: {name: base, meaning: m}\n").report) ==
          "duplicate-key 1:17");
    const RuleFolder none;
    none.write("base/head.yaml", small_head);
    CHECK(summary(load_rules(none.root(), "base", none.root() / "nowhere").report)
              .find("missing-file 0:0") != std::string::npos);
}

TEST_CASE("problems of all layers are reported together") {
    const RuleFolder folder;
    folder.write("base/head.yaml", small_head);
    folder.write("base/a.yaml", "tables: {t: {kind: valu}}\n");
    folder.write("base/b.yaml", "words: [x]\n");
    folder.write("site/site.yaml", site + "changes: [{table: t, to: 1}]\n");
    const auto loaded = load_rules(folder.root(), "base", folder.root() / "site");
    INFO(full(loaded.report));
    CHECK(summary(loaded.report) == "missing-reason 2:11, unknown-word 1:20, yaml-shape 1:8");
}

}  // namespace
}  // namespace lagline
