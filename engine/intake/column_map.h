#pragma once

#include <functional>
#include <map>
#include <set>
#include <string>

namespace lagline {

/// What columns.yaml says of one file: how a site's headings and words are to be read.
struct ColumnMap {
    /// Heading of the site -> our heading, with a unit where one is needed.
    std::map<std::string, std::string, std::less<>> headings;
    /// Our column -> word of the site -> our word.
    std::map<std::string, std::map<std::string, std::string, std::less<>>, std::less<>> words;
    /// Headings that are the site's own and are kept for site rules.
    std::set<std::string, std::less<>> keep;
};

/// By file name: "segments.csv" -> its map, also where the table is a workbook.
using ColumnMaps = std::map<std::string, ColumnMap, std::less<>>;

}  // namespace lagline
