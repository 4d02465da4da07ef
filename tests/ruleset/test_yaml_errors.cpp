#include <doctest/doctest.h>

#include <filesystem>

#include "rule_folder.h"
#include "support/cpu_seconds.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

Report load_text(const RuleFolder& folder, std::string_view text) {
    return load_tables(folder, text).report;
}

TEST_CASE("a syntax error has its line and column, and the other files are still read") {
    const RuleFolder folder;
    folder.write("base/head.yaml", small_head);
    folder.write("base/a.yaml", "tables:\n  x: [1, 2\n  y: 3\n");
    folder.write("base/b.yaml", "tabels: {}\n");
    const auto loaded = load_rules(folder.root(), "base");
    INFO(full(loaded.report));
    CHECK_FALSE(loaded.rules.has_value());
    CHECK(summary(loaded.report) == "yaml-syntax 3:4, unknown-key 1:1");
    CHECK(loaded.report.diagnostics()[0].where.file == "rules/base/a.yaml");
    CHECK(loaded.report.diagnostics()[1].mend == "did you mean 'tables'?");
}

TEST_CASE("the place and excerpt of a problem count characters, not bytes") {
    const RuleFolder folder;
    const auto report =
        load_text(folder, "# \xC3\xA9\nwords: {w: {\"\xC3\xA9\xC3\xA9\": a, b: [x]}}\n");
    INFO(full(report));
    REQUIRE(summary(report) == "yaml-shape 2:25");
    const auto& problem = report.diagnostics()[0];
    CHECK(problem.subject == "base -> words -> w -> b");
    CHECK(problem.excerpt.line == "words: {w: {\"\xC3\xA9\xC3\xA9\": a, b: [x]}}");
    CHECK(problem.excerpt.mark == 24);
    CHECK(problem.excerpt.width == 1);
}

TEST_CASE("the marked part of an excerpt is the value, and a long line is cut around it") {
    const RuleFolder folder;
    const auto report =
        load_text(folder, "sources: {s: {title: '" + std::string(300, 'x') + "', edition: ''}}\n");
    REQUIRE(report.diagnostics().size() == 1);
    const auto& excerpt = report.diagnostics()[0].excerpt;
    CHECK(excerpt.line.size() <= 120);
    CHECK(excerpt.line.substr(excerpt.mark, excerpt.width) == "''");
}

TEST_CASE("a key that is there twice in a map is found, with both places") {
    const RuleFolder folder;
    const auto report = load_text(folder, "words:\n  w: {a: x, b: y, a: z}\n");
    REQUIRE(summary(report) == "duplicate-key 2:19");
    CHECK(report.diagnostics()[0].mend.find("tables.yaml:2:7") != std::string::npos);
}

TEST_CASE("a line too long to look ahead in is refused before the parser sees it") {
    const RuleFolder folder;
    const auto report =
        load_text(folder, "words: {w: {a: b}}\n# " + std::string(100'000, '[') + "\n");
    REQUIRE(summary(report) == "yaml-shape 2:1");
    CHECK(report.diagnostics()[0].found == "a line of 100002 bytes");
    CHECK(report.diagnostics()[0].excerpt.line.size() < 400);
}

TEST_CASE("brackets that are never closed are refused before the parser keeps them all") {
    const RuleFolder folder;
    std::string text = "words: ";
    for (int line = 0; line < 100; ++line) text += std::string(90'000, '[') + "\n";
    const auto report = load_text(folder, text);
    REQUIRE(summary(report) == "yaml-shape 1:1");
    CHECK(report.diagnostics()[0].found == "90000 brackets open at once");
    // Fewer are refused where the depth is passed.
    CHECK(summary(load_text(folder, "words: " + std::string(70, '[') + "\n")).starts_with("yaml-"));
}

TEST_CASE("many faults in long lines take time that grows with the bytes") {
    const RuleFolder folder;
    std::string text = "words:\n";
    for (int line = 0; line < 20; ++line) {
        text += "  w" + std::to_string(line) + ": [";
        for (int i = 0; i < 20'000; ++i) text += "x, ";
        text += "]\n";
    }
    const double start = cpu_seconds();
    CHECK(load_text(folder, text).errors() >= 20);
    CHECK(cpu_seconds() - start < 20.0);
}

TEST_CASE("anchors, aliases, tags, second documents and odd keys are refused") {
    const RuleFolder folder;
    const auto code = [&](std::string_view text) { return summary(load_text(folder, text)); };
    CHECK(code("words: &w {a: x}\n") == "yaml-shape 1:8");
    CHECK(code("words: {a: &w {b: x}, c: *w}\n") == "yaml-shape 1:12");
    CHECK(code("words: !!set {a: x}\n") == "yaml-shape 1:8");
    CHECK(code("words: {w: {a: x}}\n---\nwords: {}\n") == "yaml-shape 2:1");
    CHECK(code("? [a]\n: 1\n") == "yaml-shape 1:3");
    CHECK(code("~: 1\n") == "yaml-shape 1:1");
    CHECK(code("- a\n") == "yaml-shape 1:1");
}

TEST_CASE("an alias that would grow without bound is refused at its first anchor") {
    const RuleFolder folder;
    std::string text = "a: &a [x, x, x, x, x, x, x, x, x]\n";
    for (char c = 'b'; c < 'l'; ++c) {
        const std::string before(1, static_cast<char>(c - 1));
        text += std::string(1, c) + ": &" + c + " [";
        for (int i = 0; i < 9; ++i) text += "*" + before + (i < 8 ? "," : "]\n");
    }
    CHECK(summary(load_text(folder, text)) == "yaml-shape 1:4");
}

TEST_CASE("deep nesting is refused, within the limit it is not") {
    const RuleFolder folder;
    const auto nested = [](std::size_t depth) {
        return "words: " + std::string(depth, '[') + std::string(depth, ']') + "\n";
    };
    CHECK(summary(load_text(folder, nested(63))) == "yaml-shape 1:8");  // a list, not a map
    const auto report = load_text(folder, nested(64));
    REQUIRE(summary(report) == "yaml-shape 1:71");
    CHECK(report.diagnostics()[0].found == "values nested deeper than 64");
    CHECK(load_text(folder, nested(200'000)).errors() == 1);
}

TEST_CASE("files that are too large, not text, or no files are refused") {
    const RuleFolder folder;
    folder.write("base/head.yaml", small_head);
    folder.write("base/big.yaml", "# " + std::string(16U * 1024U * 1024U, 'x'));
    folder.write("base/latin.yaml", "words:\n  w: {a: \"caf\xE9\"}\n");
    folder.write("base/utf16.yaml", std::string_view("w\0o\0r\0d\0", 8));
    folder.write("base/empty.yaml", "# nothing yet\n");
    folder.write("base/other.yml", "words: {}\n");
    fs::create_symlink("nowhere", folder.root() / "base/lost.yaml");
    const auto loaded = load_rules(folder.root(), "base");
    INFO(full(loaded.report));
    CHECK(summary(loaded.report) ==
          "unreadable-file 0:0, empty-file 0:0, not-utf8 2:14, not-a-file 0:0, not-a-file 0:0, "
          "not-utf8 1:2");
    CHECK(loaded.report.warnings() == 2);  // the empty one and the .yml
}

TEST_CASE("a rule set that is not there is named with what is meant") {
    const RuleFolder folder;
    folder.write("published/head.yaml", small_head);
    const auto loaded = load_rules(folder.root(), "publisched");
    REQUIRE(summary(loaded.report) == "missing-file 0:0");
    CHECK(loaded.report.diagnostics()[0].mend == "did you mean 'published'?");
    fs::create_directories(folder.root() / "hollow");
    CHECK(summary(load_rules(folder.root(), "hollow").report) == "missing-file 0:0");
    CHECK(summary(load_rules(folder.root(), "").report) == "missing-file 0:0");
}

TEST_CASE("a layer has one ruleset, with its keys") {
    const RuleFolder folder;
    folder.write("none/a.yaml", "words: {w: {a: x}}\n");
    CHECK(summary(load_rules(folder.root(), "none").report) == "missing-key 0:0");
    folder.write("two/a.yaml", "ruleset: {name: two, meaning: m}\n");
    folder.write("two/b.yaml", "ruleset: {name: two, meaning: m}\n");
    CHECK(summary(load_rules(folder.root(), "two").report) == "duplicate-key 1:1");
    folder.write("bare/a.yaml", "ruleset: {nam: bare}\n");
    CHECK(summary(load_rules(folder.root(), "bare").report) ==
          "missing-key 1:10, missing-key 1:10, unknown-key 1:11");
}

TEST_CASE("a circle of based_on is found") {
    const RuleFolder folder;
    folder.write("a/a.yaml", "ruleset: {name: a, meaning: m, based_on: b}\n");
    folder.write("b/b.yaml", "ruleset: {name: b, meaning: m, based_on: a}\n");
    const auto loaded = load_rules(folder.root(), "a");
    INFO(full(loaded.report));
    CHECK_FALSE(loaded.rules.has_value());
    REQUIRE(summary(loaded.report) == "contradiction 1:42");
    CHECK(loaded.report.diagnostics()[0].where.file == "rules/b/b.yaml");
    folder.write("c/c.yaml", "ruleset: {name: c, meaning: m, based_on: ../a}\n");
    CHECK(summary(load_rules(folder.root(), "c").report) == "missing-file 1:42");
}

}  // namespace
}  // namespace lagline
