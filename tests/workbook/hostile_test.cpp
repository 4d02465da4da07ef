// Files made to break a reader: each is refused with a message, within the limits.
#include <doctest/doctest.h>

#include <cstdint>
#include <string>

#include "zipped.h"

namespace lagline {
namespace {

// What is said of the parts, all of it one refusal.
std::string refusal(const Parts& parts, const WorkbookLimits& limits = {}) {
    const ReadSheet read = read_first(zipped(parts), limits);
    CHECK_FALSE(read.table);
    return only(read.report);
}

Parts with_sheet(std::string text) {
    Parts parts = workbook_parts("");
    parts["xl/worksheets/sheet1.xml"] = std::move(text);
    return parts;
}

TEST_CASE("a part that unpacks to far more than its size") {
    const Parts bomb = with_sheet("<worksheet>" + std::string(std::size_t{24} << 20, ' '));
    CHECK(refusal(bomb) ==
          "damaged-workbook made.xlsx:pipes: part xl/worksheets/sheet1.xml, which unpacks to more "
          "than 200 times its size");
}

TEST_CASE("more than the limit once all is unpacked, whatever the ratio") {
    const Parts large = with_sheet("<worksheet>" + std::string(std::size_t{3} << 20, ' '));
    WorkbookLimits limits;
    limits.unpacked_bytes = std::size_t{2} << 20;
    CHECK(refusal(large, limits) ==
          "damaged-workbook made.xlsx:pipes: more than 2 MiB once unpacked");
}

TEST_CASE("a document type, and with it entities that expand a billionfold") {
    const Parts laughs = with_sheet(
        "<!DOCTYPE x [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">"
        "<!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;\">]><worksheet><sheetData><row><c t=\"str\"><v>&c;"
        "</v></c></row></sheetData></worksheet>");
    CHECK(refusal(laughs) ==
          "damaged-workbook made.xlsx:pipes: part xl/worksheets/sheet1.xml with a document type, "
          "which could hold entities");
    const Parts outside =
        with_sheet("<!DOCTYPE x SYSTEM \"file:///etc/passwd\"><worksheet><sheetData/></worksheet>");
    CHECK(refusal(outside).find("a document type") != std::string::npos);
}

TEST_CASE("the same through texts that many cells share") {
    std::string cells;
    for (int i = 0; i < 200; ++i) cells += "<c t=\"s\"><v>0</v></c>";
    std::string rows;
    for (int i = 0; i < 20; ++i) rows += "<row>" + cells + "</row>";
    Parts parts = workbook_parts(rows);
    parts["xl/sharedStrings.xml"] = "<sst><si><t>" + std::string(10'000, 'x') + "</t></si></sst>";
    WorkbookLimits limits;
    limits.text_bytes = std::size_t{1} << 20;
    CHECK(refusal(parts, limits) == "damaged-workbook made.xlsx:pipes: more than 1 MiB of text");
}

TEST_CASE("too many texts, or too much of one") {
    Parts parts = workbook_parts("");
    parts["xl/sharedStrings.xml"] = "<sst><si/><si/><si/><si/></sst>";
    WorkbookLimits limits;
    limits.entries = 3;
    CHECK(refusal(parts, limits) == "damaged-workbook made.xlsx: more than 3 texts");
    parts["xl/sharedStrings.xml"] =
        "<sst><si><t>" + std::string(3'000'000, 'x') + "</t></si></sst>";
    limits.text_bytes = std::size_t{1} << 20;
    CHECK(refusal(parts, limits) == "damaged-workbook made.xlsx: more than 1 MiB of text");
    const Parts cell =
        workbook_parts("<row><c t=\"str\"><v>" + std::string(3'000'000, 'x') + "</v></c></row>");
    CHECK(refusal(cell, {.text_bytes = std::size_t{1} << 20}) ==
          "damaged-workbook made.xlsx:pipes: more than 1 MiB of text");
}

TEST_CASE("elements deep inside each other, and a tag without end") {
    std::string deep = "<worksheet>";
    for (int i = 0; i < 100'000; ++i) deep += "<a>";
    CHECK(refusal(with_sheet(deep)) ==
          "damaged-workbook made.xlsx:pipes: part xl/worksheets/sheet1.xml with more than 64 "
          "elements inside each other");
    std::string wide = "<worksheet><a b=\"";
    std::uint32_t seed = 1;  // text that does not pack well
    for (int i = 0; i < 3'000'000; ++i) {
        seed = seed * 1664525U + 1013904223U;
        wide += static_cast<char>('a' + (seed >> 24U) % 26U);
    }
    CHECK(refusal(with_sheet(wide)) ==
          "damaged-workbook made.xlsx:pipes: part xl/worksheets/sheet1.xml with a tag of more than "
          "1048576 bytes");
}

TEST_CASE("references that no sheet has, twice the same, or backwards") {
    struct Row {
        std::string rows;
        std::string found;
    };
    for (const Row& row :
         {Row{R"(<row r="1048577"><c><v>1</v></c></row>)", "a row numbered '1048577' behind row 0"},
          Row{R"(<row r="0"><c><v>1</v></c></row>)", "a row numbered '0' behind row 0"},
          Row{R"(<row r="-1"><c><v>1</v></c></row>)", "a row numbered '-1' behind row 0"},
          Row{R"(<row r="4294967297"><c><v>1</v></c></row>)",
              "a row numbered '4294967297' behind row 0"},
          Row{R"(<row r="3"/><row r="3"/>)", "a row numbered '3' behind row 3"},
          Row{R"(<row r="1048576"/><row/>)", "more rows than a sheet has"},
          Row{R"(<row r="1"><c r="XFE1"><v>1</v></c></row>)", "a cell named 'XFE1' in row 1"},
          Row{R"(<row r="1"><c r="A2"><v>1</v></c></row>)", "a cell named 'A2' in row 1"},
          Row{R"(<row r="1"><c r="B1"><v>1</v></c><c r="A1"><v>2</v></c></row>)",
              "a cell named 'A1' in row 1"},
          Row{R"(<row r="1"><c r="XFD1"><v>1</v></c><c><v>2</v></c></row>)",
              "more columns than a sheet has"}}) {
        CAPTURE(row.rows);
        CHECK(refusal(workbook_parts(row.rows)) ==
              "damaged-workbook made.xlsx:pipes: " + row.found);
    }
    CHECK(refusal(workbook_parts("<row><c><v>1</v></c></row>",
                                 R"(<mergeCells><mergeCell ref="A1:ZZZ9"/></mergeCells>)")) ==
          "damaged-workbook made.xlsx:pipes: merged cells 'A1:ZZZ9'");
}

TEST_CASE("parts that are missing") {
    struct Row {
        std::string part;
        std::string told;
    };
    for (const Row& row :
         {Row{"_rels/.rels", "made.xlsx: no part _rels/.rels"},
          Row{"xl/workbook.xml", "made.xlsx: no part xl/workbook.xml"},
          Row{"xl/_rels/workbook.xml.rels", "made.xlsx: no part xl/_rels/workbook.xml.rels"},
          Row{"xl/sharedStrings.xml", "made.xlsx: no part xl/sharedStrings.xml"},
          Row{"xl/styles.xml", "made.xlsx: no part xl/styles.xml"},
          Row{"xl/worksheets/sheet1.xml", "made.xlsx: no part for the sheet 'pipes'"}}) {
        CAPTURE(row.part);
        Parts parts = workbook_parts("<row><c><v>1</v></c></row>");
        parts.erase(row.part);
        CHECK(refusal(parts) == "damaged-workbook " + row.told);
    }
    CHECK(refusal({{"mimetype", "application/zip"}}) ==
          "damaged-workbook made.xlsx: no part _rels/.rels");
    Parts outside = workbook_parts("");
    outside["xl/_rels/workbook.xml.rels"] =
        R"(<Relationships><Relationship Id="s1" Type="x/worksheet" TargetMode="External" Target="file:///etc/passwd"/></Relationships>)";
    CHECK(refusal(outside) == "damaged-workbook made.xlsx: no part for the sheet 'pipes'");
}

TEST_CASE("what is no archive, an old binary workbook, and one too large") {
    CHECK(only(read_first("segment,line\n").report).find("an archive that cannot be opened") !=
          std::string::npos);
    const std::string old = "\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1" + std::string(600, '\0');
    CHECK(only(read_first(old).report) ==
          "damaged-workbook made.xlsx: a workbook in the old binary form, or one with a password");
    const std::string bytes = zipped(workbook_parts(""));
    CHECK(only(read_first(bytes, {.file_bytes = bytes.size() - 1}).report) ==
          "damaged-workbook made.xlsx: a file of 0 MiB");
    CHECK(only(read_first(bytes, {.parts = 3}).report) ==
          "damaged-workbook made.xlsx: an archive of 6 parts");
}

TEST_CASE("cut off at any byte: refused, never read as less") {
    const std::string bytes = zipped(workbook_parts("<row><c><v>1</v></c></row>"));
    for (std::size_t size = 0; size < bytes.size(); ++size) {
        const ReadSheet read = read_first(bytes.substr(0, size));
        if (read.report.errors() != 1) FAIL("read though cut off at byte " << size);
    }
}

TEST_CASE("any byte changed: the same cells, or a refusal") {
    const std::string bytes = zipped(workbook_parts("<row><c t=\"s\"><v>1</v></c></row>"));
    const std::vector<std::string> cells{"A1=NPS 6"};
    std::size_t refused = 0;
    for (std::size_t at = 0; at < bytes.size(); ++at) {
        std::string changed = bytes;
        changed[at] = static_cast<char>(changed[at] ^ 0x55);
        const ReadSheet read = read_first(changed);
        refused += read.report.ok() ? 0U : 1U;
        if (read.report.ok() && read.cells != cells) FAIL("other cells by byte " << at);
    }
    CHECK(refused > bytes.size() / 2);
}

}  // namespace
}  // namespace lagline
