#include "cut_plant.h"

#include <algorithm>
#include <filesystem>
#include <set>
#include <stdexcept>

#include "support/csv_records.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

std::string name_of(const std::string& row) { return row.substr(0, row.find(',')); }

std::string renamed(const std::string& row, const std::string& name) {
    return name + row.substr(row.find(','));
}

}  // namespace

Table table_of(const std::string& file) {
    const std::string text = file_text(file);
    Table table;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find('\n', at);
        std::string line = text.substr(at, end - at + 1);
        at += line.size();
        if (table.heading.empty()) {
            table.heading = std::move(line);
        } else {
            table.rows.push_back(std::move(line));
        }
    }
    return table;
}

CutPlant::CutPlant(std::size_t segments) {
    const fs::path sample = fs::path{LAGLINE_SOURCE_DIR} / "sample-plant" / "plant";
    for (const auto* name : {"plant.yaml", "turnarounds.csv"}) {
        fs::copy_file(sample / name, folder_.path() / name);
    }
    const Table all = table_of((sample / "segments.csv").string());
    segments_.heading = all.heading;
    std::set<std::string> names;
    for (std::size_t i = 0; i < std::min(segments, all.rows.size()); ++i) {
        const std::string name = name_of(all.rows[i]);
        segments_.rows.push_back(all.rows[i]);
        names.insert(name);
        if (i % 3 != 0) continue;
        segments_.rows.push_back(renamed(all.rows[i], "\"Z, " + name + "\""));
        // One that a spreadsheet would run as a formula.
        segments_.rows.push_back(renamed(all.rows[i], "-A" + name));
    }
    std::string text = segments_.heading;
    for (const std::string& row : segments_.rows) text += row;
    folder_.write("segments.csv", text);
    const Table inspections = table_of((sample / "inspections.csv").string());
    text = inspections.heading;
    for (const std::string& row : inspections.rows) {
        if (names.contains(name_of(row))) text += row;
    }
    folder_.write("inspections.csv", text);
    text = "segment,quantity,value,reason,who,when\n";
    for (std::size_t i = 0; i < names.size(); i += 5) {
        const std::string name = name_of(all.rows[i]);
        text += name + ",insulation_condition,below_average,seen open,A. Engineer,2026-02-11\n";
    }
    folder_.write("overrides.csv", text);
}

std::string CutPlant::whole(const Arguments& more) const {
    Arguments arguments{"rank", path(), "--today", portfolio_day, "--format", "csv"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Ran ran = run(arguments);
    if (ran.code != 0) throw std::runtime_error(ran.err);
    return ran.out;
}

Ran CutPlant::rank_part(std::size_t begin, std::size_t end, const Arguments& more) const {
    std::string text = segments_.heading;
    for (std::size_t i = begin; i < end; ++i) text += segments_.rows[i];
    const TempFolder piped;
    RunChoice choice;
    choice.in_from = piped.write("part.csv", text).string();
    Arguments arguments{"rank", path(), "--stdin", "--today", portfolio_day, "--format", "csv"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(arguments, choice);
}

std::vector<std::string> CutPlant::rank_parts(std::size_t rows, const Arguments& more) const {
    std::vector<std::string> files;
    for (std::size_t begin = 0; begin < segments_.rows.size(); begin += rows) {
        const Ran ran = rank_part(begin, std::min(begin + rows, segments_.rows.size()), more);
        if (ran.code != 0) throw std::runtime_error(ran.err);
        files.insert(files.begin(),
                     folder_.write("part-" + std::to_string(begin) + ".csv", ran.out).string());
    }
    return files;
}

Ran merge(const std::vector<std::string>& files, const Arguments& more, const RunChoice& choice) {
    Arguments arguments{"merge"};
    arguments.insert(arguments.end(), files.begin(), files.end());
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(arguments, choice);
}

}  // namespace lagline
