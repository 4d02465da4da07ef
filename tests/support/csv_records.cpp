#include "support/csv_records.h"

#include <fstream>
#include <iterator>
#include <stdexcept>

namespace lagline {

std::vector<std::vector<std::string>> csv_records(std::string_view csv) {
    std::vector<std::vector<std::string>> records;
    std::vector<std::string> record(1);
    bool quoted = false;
    for (std::size_t i = 0; i < csv.size(); ++i) {
        const char c = csv[i];
        if (quoted && c == '"' && i + 1 < csv.size() && csv[i + 1] == '"') {
            record.back() += csv[++i];
        } else if (c == '"') {
            quoted = !quoted;
        } else if (!quoted && c == ',') {
            record.emplace_back();
        } else if (!quoted && c == '\n') {
            records.push_back(std::move(record));
            record.assign(1, "");
        } else {
            record.back() += c;
        }
    }
    if (record.size() > 1 || !record.front().empty()) records.push_back(std::move(record));
    return records;
}

std::string file_text(const std::string& path) {
    std::ifstream file{path, std::ios::binary};
    if (!file) throw std::runtime_error("cannot read " + path);
    return {std::istreambuf_iterator<char>{file}, {}};
}

}  // namespace lagline
