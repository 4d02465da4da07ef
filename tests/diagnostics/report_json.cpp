#include <doctest/doctest.h>
#include <rapidjson/document.h>

#include <string>
#include <utility>

#include "diagnostics/diagnostic.h"
#include "diagnostics/text.h"

using namespace lagline;

namespace {

Diagnostic diagnostic_with(std::string found) {
    Diagnostic diagnostic;
    diagnostic.severity = Severity::warning;
    diagnostic.problem = Problem::unknown_word;
    diagnostic.where = {"segments.csv", 3, 9};
    diagnostic.subject = "jacket";
    diagnostic.found = std::move(found);
    diagnostic.expected = "aluminium";
    diagnostic.mend = "write aluminium";
    return diagnostic;
}

rapidjson::Document parsed(const std::string& json) {
    rapidjson::Document document;
    document.Parse<rapidjson::kParseValidateEncodingFlag>(json.c_str());
    REQUIRE_FALSE(document.HasParseError());
    REQUIRE(document.IsObject());
    return document;
}

}  // namespace

TEST_CASE("the JSON form is this text") {
    Report report;
    report.add(diagnostic_with("alu\"minum\""));
    CHECK(to_json(report) ==
          "{\n"
          "  \"errors\": 0,\n"
          "  \"warnings\": 1,\n"
          "  \"diagnostics\": [\n"
          "    {\n"
          "      \"severity\": \"warning\",\n"
          "      \"code\": \"unknown-word\",\n"
          "      \"file\": \"segments.csv\",\n"
          "      \"line\": 3,\n"
          "      \"column\": 9,\n"
          "      \"subject\": \"jacket\",\n"
          "      \"found\": \"alu\\\"minum\\\"\",\n"
          "      \"expected\": \"aluminium\",\n"
          "      \"mend\": \"write aluminium\"\n"
          "    }\n"
          "  ],\n"
          "  \"not_shown\": []\n"
          "}\n");
}

TEST_CASE("the JSON form reads back what was said, text byte for byte") {
    Report report;
    const std::string text = "tab\t newline\n quote\" back\\slash \u00B0 \U0001F527";
    report.add(diagnostic_with(text));
    const auto document = parsed(to_json(report));
    const auto& first = document["diagnostics"][0];
    CHECK(std::string(first["found"].GetString()) == text);
    CHECK(first["line"].GetInt() == 3);
}

TEST_CASE("bad UTF-8 anywhere leaves the JSON valid") {
    for (const std::string bad :
         {"\xFF", "\xC0\xAF", "\xED\xA0\x80", "\xE2\x82", "caf\xE9 au lait"}) {
        Report report;
        auto diagnostic = diagnostic_with(bad);
        diagnostic.where.file = bad;
        diagnostic.subject = bad;
        diagnostic.expected = bad;
        diagnostic.mend = bad;
        for (std::size_t i = 0; i <= Report::most_kept; ++i) report.add(diagnostic);
        const auto json = to_json(report);
        CHECK(first_invalid_utf8(json) == std::string::npos);
        const auto document = parsed(json);
        const std::string shown = printable(bad);
        CHECK(document["diagnostics"][0]["found"].GetString() == shown);
        CHECK(document["not_shown"][0]["file"].GetString() == shown);
    }
}

TEST_CASE("what was counted only is listed as not shown") {
    Report report;
    for (std::size_t i = 0; i < Report::most_kept + 42; ++i) report.add(diagnostic_with("x"));
    const auto document = parsed(to_json(report));
    CHECK(document["warnings"].GetUint64() == Report::most_kept + 42);
    CHECK(document["diagnostics"].Size() == Report::most_kept);
    REQUIRE(document["not_shown"].Size() == 1);
    const auto& row = document["not_shown"][0];
    CHECK(std::string(row["code"].GetString()) == "unknown-word");
    CHECK(row["count"].GetUint64() == 42);
}

TEST_CASE("the same report gives the same bytes") {
    Report report;
    report.add(diagnostic_with("x"));
    const Report copy = report;
    CHECK(to_json(report) == to_json(copy));
    CHECK(to_text(report) == to_text(copy));
}
