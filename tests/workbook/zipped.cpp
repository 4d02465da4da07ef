#include "zipped.h"

#include <zip.h>

#include <memory>
#include <stdexcept>

namespace lagline {
namespace {

constexpr std::string_view relations_head =
    R"(<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">)";
constexpr std::string_view relation_type =
    "http://schemas.openxmlformats.org/officeDocument/2006/relationships/";

std::string relation(std::string_view id, std::string_view type, std::string_view target) {
    return "<Relationship Id=\"" + std::string{id} + "\" Type=\"" + std::string{relation_type} +
           std::string{type} + "\" Target=\"" + std::string{target} + "\"/>";
}

std::string relations(const std::string& inside) {
    return std::string{relations_head} + inside + "</Relationships>";
}

std::string found_text(const Diagnostic& each) {
    return std::string{code_of(each.problem)} + " " + to_string(each.where) + ": " + each.found;
}

}  // namespace

Parts workbook_parts(std::string_view sheet_data, std::string_view behind) {
    Parts parts;
    parts["_rels/.rels"] = relations(relation("r1", "officeDocument", "xl/workbook.xml"));
    parts["xl/workbook.xml"] =
        R"(<workbook xmlns:r="x"><sheets><sheet name="pipes" sheetId="1" r:id="s1"/></sheets></workbook>)";
    parts["xl/_rels/workbook.xml.rels"] =
        relations(relation("s1", "worksheet", "worksheets/sheet1.xml") +
                  relation("s2", "sharedStrings", "sharedStrings.xml") +
                  relation("s3", "styles", "styles.xml"));
    parts["xl/worksheets/sheet1.xml"] = "<worksheet><sheetData>" + std::string{sheet_data} +
                                        "</sheetData>" + std::string{behind} + "</worksheet>";
    parts["xl/sharedStrings.xml"] =
        "<sst><si><t>first</t></si>"
        "<si><r><t>NPS </t></r><r><t>6</t></r><rPh><t>no</t></rPh></si>"
        "<si><t>a_x000D_b_x005F_x0041_</t></si></sst>";
    // Styles: 0 plain, 1 a date of the built-in format 14, 2 percent, 3 a code for dates, 4 hours.
    parts["xl/styles.xml"] =
        R"(<styleSheet><numFmts><numFmt numFmtId="164" formatCode="yyyy\-mm\-dd hh:mm"/></numFmts>)"
        R"(<cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs><xf numFmtId="0"/>)"
        R"(<xf numFmtId="14"/><xf numFmtId="9"/><xf numFmtId="164"/><xf numFmtId="46"/>)"
        R"(</cellXfs></styleSheet>)";
    return parts;
}

std::string zipped(const Parts& parts) {
    zip_error_t error;
    ::zip_error_init(&error);
    zip_source_t* into = ::zip_source_buffer_create(nullptr, 0, 0, &error);
    zip_t* archive = ::zip_open_from_source(into, ZIP_TRUNCATE, &error);
    if (archive == nullptr) throw std::runtime_error("no archive");
    ::zip_source_keep(into);
    for (const auto& [name, text] : parts) {
        zip_source_t* from = ::zip_source_buffer(archive, text.data(), text.size(), 0);
        if (::zip_file_add(archive, name.c_str(), from, 0) >= 0) continue;
        ::zip_source_free(from);
        ::zip_discard(archive);
        ::zip_source_free(into);
        throw std::runtime_error("no name of a part: " + name);
    }
    if (::zip_close(archive) != 0) {
        ::zip_discard(archive);
        ::zip_source_free(into);
        throw std::runtime_error("the archive cannot be closed");
    }
    zip_stat_t status;
    ::zip_stat_init(&status);
    ::zip_source_stat(into, &status);
    std::string bytes(status.size, '\0');
    ::zip_source_open(into);
    ::zip_source_read(into, bytes.data(), bytes.size());
    ::zip_source_close(into);
    ::zip_source_free(into);
    return bytes;
}

ReadSheet read_first(std::string bytes, const WorkbookLimits& limits) {
    ReadSheet read;
    auto workbook = Workbook::open(std::move(bytes), "made.xlsx", read.report, limits);
    if (!workbook) return read;
    read.opened = true;
    const auto take = [&read](std::uint32_t row, std::span<const SheetCell> cells) {
        for (const SheetCell& cell : cells) {
            read.cells.push_back(column_letters(static_cast<int>(cell.column)) +
                                 std::to_string(row) + "=" + std::string{cell.text});
        }
        return true;
    };
    read.table = workbook->read(workbook->sheets().front(), take, read.report);
    return read;
}

ReadSheet read_cells(std::string_view sheet_data, std::string_view behind) {
    return read_first(zipped(workbook_parts(sheet_data, behind)));
}

std::string only(const Report& report) {
    if (report.diagnostics().size() == 1) return found_text(report.diagnostics().front());
    throw std::runtime_error(to_text(report));
}

}  // namespace lagline
