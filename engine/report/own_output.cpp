#include "report/own_output.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <iterator>
#include <limits>
#include <span>
#include <string>

#include "intake/heading.h"
#include "plant/field.h"
#include "workbook/zip_archive.h"

namespace lagline {
namespace {

// All marks but those of a workbook stand in the first bytes.
constexpr std::size_t head_bytes = 16'384;

// The first columns of each table that is written as CSV.
constexpr std::array<std::string_view, 5> csv_starts{
    "rank,segment,line,unit,mechanism,rank_today,", "rank,segment,line,unit,risk,expected_risk,",
    "segment,date,due_date,due_by,", "segment,line,unit,scaffold_group,rank,action,window,",
    "ranked_at,until,segment,line,unit,inspected,found,"};
constexpr std::string_view matrix_start = "probability_category,probability_above [1/y],";
constexpr std::string_view pool_columns = ",readings,told,own_factor,";  // after the grouping one

// Phrases that stand in this order in the first sentences of a text, wherever its lines break.
using Phrases = std::array<std::string_view, 4>;
constexpr std::array<Phrases, 15> text_phrases{
    {{"Ranked at ", " by rules ", "; money in ", "rank today segment "},
     {" line ", ", unit ", ", mechanism ", "Rank "},
     {"If nothing is done from ", " to ", "Due by: ", ""},
     {"Segments by probability and cost of a leak at ", " by rules ", "; costs in ", ""},
     {"How sure the ranking at ", " by rules ", " What is not known was drawn ", ""},
     {"Rankings of the past, each by what was known on its day", "", "", ""},
     {"Measured over expected loss of wall, by ", "", "", ""},
     {"Plan from ", ": work in ", " later money at ", ""},
     {"Values on trial; no file is changed. Ranked at ", "", "", ""},
     {"Scope of work: ", "Sheets of `lagline plan`, by window and scaffold group.", "", ""},
     {"New coating for ", " By rules ", "; costs in ", ""},
     {"What can be done with ", "Present values from ", "Left alone, its leaks cost ", ""},
     {"From run ", " to run ", "What differs", ""},
     {"Made by `lagline dictionary", "", "", ""},
     {"# Factors on the corrosion rate by ", "This file does nothing where it lies.", "", ""}}};
constexpr std::string_view man_page_start = ".TH LAGLINE";

std::string bytes_of(const std::filesystem::path& file, std::size_t most) {
    std::ifstream in{file, std::ios::binary};
    std::string bytes;
    if (most == std::numeric_limits<std::size_t>::max()) {
        bytes.assign(std::istreambuf_iterator<char>{in}, {});
        return bytes;
    }
    bytes.resize(most);
    in.read(bytes.data(), static_cast<std::streamsize>(most));
    bytes.resize(static_cast<std::size_t>(in.gcount()));
    return bytes;
}

bool holds(std::string_view text, std::string_view part) { return text.find(part) != text.npos; }

// Every run of blanks and line ends as one blank.
std::string without_line_ends(std::string_view text) {
    std::string joined;
    for (const char c : text) {
        const bool blank = c == ' ' || c == '\n';
        if (!blank || !joined.ends_with(' ')) joined += blank ? ' ' : c;
    }
    return joined;
}

bool has_in_order(std::string_view text, const Phrases& phrases) {
    for (const std::string_view phrase : phrases) {
        const auto at = text.find(phrase);
        if (at == text.npos) return false;
        text.remove_prefix(at + phrase.size());
    }
    return true;
}

bool is_own_json(std::string_view head) {
    const std::string first =
        "{ \"" + std::string{made_by_key} + "\": \"" + std::string{made_by} + "\"";
    return without_line_ends(head).starts_with(first);
}

// What stands between a tag of the archive's part and its end.
std::string_view in_tag(std::string_view xml, std::string_view tag) {
    const auto open = xml.find("<" + std::string{tag});
    const auto from = open == xml.npos ? open : xml.find('>', open);
    const auto to = from == xml.npos ? from : xml.find("</", from);
    return to == xml.npos ? std::string_view{} : xml.substr(from + 1, to - from - 1);
}

// A program that saves it sets the time of the change, or leaves out who made it where nobody is
// named.
bool is_own_workbook(const std::filesystem::path& file) {
    constexpr auto any = std::numeric_limits<std::size_t>::max();
    const std::string bytes = bytes_of(file, any);
    ZipArchive archive{bytes, {.file_bytes = any}};
    std::string properties;
    const auto take = [&](std::string_view piece) {
        properties += piece;
        return properties.size() < head_bytes;
    };
    if (archive.fault() || archive.unpack("docProps/core.xml", take)) return false;
    return in_tag(properties, "dc:description") == workbook_mark &&
           holds(properties, "<cp:lastModifiedBy></cp:lastModifiedBy>") &&
           in_tag(properties, "dcterms:created") == in_tag(properties, "dcterms:modified");
}

// The rest of a row behind its first field.
std::string_view behind_first(std::string_view row) {
    bool quoted = false;
    for (std::size_t i = 0; i < row.size(); ++i) {
        if (row[i] == '"') quoted = !quoted;
        if (row[i] == ',' && !quoted) return row.substr(i);
    }
    return {};
}

// Of a row as it was written only segment and technique are filled.
bool is_unfilled(std::string_view row) {
    const std::string_view rest = behind_first(row);
    if (!rest.starts_with(",,")) return false;
    const auto technique = rest.substr(0, rest.find(',', 2)).size();
    return std::ranges::all_of(rest.substr(technique), [](char c) { return c == ','; });
}

// A table for findings, as long as nobody has typed into it.
bool is_blank_findings(const std::filesystem::path& file) {
    const std::string heading = heading_line(inspection_fields());
    const std::string bytes = bytes_of(file, std::numeric_limits<std::size_t>::max());
    if (!bytes.starts_with(heading)) return false;
    std::string_view rows = std::string_view{bytes}.substr(heading.size());
    while (!rows.empty()) {
        const auto end = rows.find('\n');
        if (end == rows.npos || !is_unfilled(rows.substr(0, end))) return false;
        rows.remove_prefix(end + 1);
    }
    return true;
}

bool is_own_csv(std::string_view head) {
    const std::string_view heading = head.substr(0, head.find('\n'));
    const auto starts = [&](std::string_view start) { return heading.starts_with(start); };
    if (std::ranges::any_of(csv_starts, starts) || starts(matrix_start)) return true;
    const auto first = heading.find(',');
    return first != heading.npos && heading.substr(first).starts_with(pool_columns);
}

bool is_own_text(std::string_view head) {
    if (head.starts_with(man_page_start)) return true;
    const std::string sentences = without_line_ends(head);
    return std::ranges::any_of(
        text_phrases, [&](const Phrases& phrases) { return has_in_order(sentences, phrases); });
}

}  // namespace

bool is_own_output(const std::filesystem::path& file) {
    std::error_code error;
    if (std::filesystem::file_size(file, error) == 0 && !error) return true;
    const std::string head = bytes_of(file, head_bytes);
    if (head.empty()) return false;
    if (head.starts_with("PK\x03\x04")) return is_own_workbook(file);
    if (head.starts_with('{')) return is_own_json(head);
    if (head.starts_with("<svg ")) return holds(head, svg_mark);
    if (head.starts_with("<!DOCTYPE html>")) return holds(head, html_mark);
    return is_own_csv(head) || is_own_text(head) || is_blank_findings(file);
}

}  // namespace lagline
