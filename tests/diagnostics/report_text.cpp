#include <doctest/doctest.h>

#include <sstream>
#include <string>
#include <vector>

#include "diagnostics/diagnostic.h"
#include "diagnostics/text.h"

using namespace lagline;

namespace {

Diagnostic unit_mismatch() {
    Diagnostic diagnostic;
    diagnostic.problem = Problem::unit_mismatch;
    diagnostic.where = {"segments.csv", 41, 16};
    diagnostic.subject = "operating_temperature";
    diagnostic.found = "a length (mm)";
    diagnostic.expected = "a temperature (degC, degF, K)";
    diagnostic.mend = "write 93 degC";
    diagnostic.excerpt = {"S-0107,L-12,U2,93 mm,3", 15, 5};
    return diagnostic;
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    return lines;
}

std::size_t count_of(const std::string& text, const std::string& part) {
    std::size_t count = 0;
    for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
    return count;
}

/// What stands above the first carets; for lines of one byte a character.
std::string marked_by_caret(const std::string& text) {
    const auto lines = lines_of(text);
    for (std::size_t i = 1; i < lines.size(); ++i) {
        const auto caret = lines[i].find('^');
        if (caret == std::string::npos) continue;
        return lines[i - 1].substr(caret, lines[i].size() - caret);
    }
    return {};
}

}  // namespace

TEST_CASE("the text form shows place, line with caret, found, expected, mend and a count") {
    Report report;
    report.add(unit_mismatch());
    CHECK(to_text(report) ==
          "segments.csv:41:16: error [unit-mismatch] operating_temperature\n"
          "   41 | S-0107,L-12,U2,93 mm,3\n"
          "      |                ^^^^^\n"
          "  found     a length (mm)\n"
          "  expected  a temperature (degC, degF, K)\n"
          "  mend      write 93 degC\n"
          "\n"
          "1 error, 0 warnings\n");
}

TEST_CASE("what is empty is left out") {
    Report report;
    Diagnostic diagnostic;
    diagnostic.severity = Severity::warning;
    diagnostic.problem = Problem::empty_file;
    diagnostic.where.file = "inspections.csv";
    report.add(diagnostic);
    CHECK(to_text(report) == "inspections.csv: warning [empty-file]\n\n0 errors, 1 warning\n");
    CHECK(to_text(Report{}) == "0 errors, 0 warnings\n");
}

TEST_CASE("long texts are wrapped with a hanging indent") {
    Report report;
    auto diagnostic = unit_mismatch();
    diagnostic.mend = "write 93 degC, or put the unit in the heading: operating_temperature [degC]";
    report.add(diagnostic);
    const auto text = to_text(report, {.width = 50});
    CHECK(text.find("  mend      write 93 degC, or put the unit in the\n"
                    "            heading: operating_temperature [degC]\n") != std::string::npos);
}

TEST_CASE("no line is wider than asked, whatever the input holds") {
    Report report;
    report.add(unit_mismatch());
    auto awkward = unit_mismatch();
    awkward.where = {std::string(120, 'd') + "/segments.csv", 1'234'567, 400};
    awkward.subject = "published -> base_rate -> severe -> " + std::string(90, 'k');
    awkward.found = std::string(200, 'x') + "\xFF\x1b[2J \u00B0\u00B0\u00B0";
    awkward.expected = "one of a great many words, among them " + std::string(70, '\t');
    awkward.mend = "   spaces   kept   inside   " + std::string(150, ' ') + "end";
    awkward.excerpt = {std::string(300, 'a') + "\xC3(\u00E9" + std::string(300, 'b'), 299, 120};
    report.add(awkward);
    for (const std::size_t width : {24U, 40U, 80U, 100U, 200U}) {
        for (const auto& line : lines_of(to_text(report, {.width = width}))) {
            CAPTURE(line);
            CHECK(display_width(line) <= width);
            CHECK(first_invalid_utf8(line) == std::string::npos);
            CHECK(line.find('\x1b') == std::string::npos);
            CHECK(line.find('\t') == std::string::npos);
        }
    }
}

TEST_CASE("the caret stays below its mark when the line is cut") {
    for (const std::size_t mark : {0U, 5U, 40U, 66U, 150U, 290U, 295U}) {
        CAPTURE(mark);
        auto diagnostic = unit_mismatch();
        std::string line(300, '.');
        line.replace(mark, 5, "WRONG");
        diagnostic.excerpt = {line, mark, 5};
        Report report;
        report.add(diagnostic);
        // The ellipsis takes three bytes and one column: put one byte in its place to compare.
        auto text = to_text(report, {.width = 80});
        for (auto at = text.find("\u2026"); at != std::string::npos; at = text.find("\u2026")) {
            text.replace(at, 3, 1, '~');
        }
        CHECK(marked_by_caret(text) == "WRONG");
    }
}

TEST_CASE("tabs, controls and bad bytes take one column, so the caret does not move") {
    auto diagnostic = unit_mismatch();
    diagnostic.excerpt = {"a\t\x01\xFFWRONG", 4, 5};
    Report report;
    report.add(diagnostic);
    CHECK(marked_by_caret(to_text(report)) == "WRONG");
}

TEST_CASE("a mark at the end of the line still gets a caret") {
    auto diagnostic = unit_mismatch();
    diagnostic.excerpt = {"S-0107,L-12", 11, 1};
    Report report;
    report.add(diagnostic);
    CHECK(to_text(report).find("      |            ^\n") != std::string::npos);
}

TEST_CASE("at most most_per_kind of a file and kind are printed, the rest are counted") {
    Report report;
    for (int i = 0; i < 7; ++i) report.add(unit_mismatch());
    auto other = unit_mismatch();
    other.where.file = "inspections.csv";
    for (int i = 0; i < 3; ++i) report.add(other);
    const auto text = to_text(report, {.most_per_kind = 3});
    CHECK(count_of(text, "segments.csv:41:16: error") == 3);
    CHECK(count_of(text, "inspections.csv:41:16: error") == 3);
    CHECK(count_of(text, "more of") == 1);
    CHECK(
        text.ends_with("... and 4 more of [unit-mismatch] in segments.csv\n\n"
                       "10 errors, 0 warnings\n"));
}

TEST_CASE("25 000 diagnostics print in bounded length and none is lost from the counts") {
    Report report;
    for (int i = 0; i < 25'000; ++i) report.add(unit_mismatch());
    const auto text = to_text(report);
    CHECK(text.size() < 10'000);
    CHECK(text.find("... and 24980 more of [unit-mismatch] in segments.csv\n") !=
          std::string::npos);
    CHECK(text.ends_with("25000 errors, 0 warnings\n"));
}

TEST_CASE("colour is added only when asked for, and changes nothing else") {
    Report report;
    report.add(unit_mismatch());
    const auto plain = to_text(report);
    CHECK(plain.find('\x1b') == std::string::npos);
    auto coloured = to_text(report, {.colour = true});
    CHECK(coloured.find('\x1b') != std::string::npos);
    for (auto at = coloured.find('\x1b'); at != std::string::npos; at = coloured.find('\x1b')) {
        coloured.erase(at, coloured.find('m', at) - at + 1);
    }
    CHECK(coloured == plain);
}
