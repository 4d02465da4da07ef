#include "made_ledger.h"

#include <SQLiteCpp/SQLiteCpp.h>

#include <algorithm>
#include <fstream>
#include <memory>
#include <stdexcept>

#include "ledger/gzip.h"
#include "report/csv_text.h"
#include "support/csv_records.h"
#include "support/shell.h"

namespace lagline {

namespace fs = std::filesystem;

NewRun small_run(int seed) {
    const std::string number = std::to_string(seed);
    return {"rank",
            "0.1.0",
            {{"results/ranking.csv", "rank,segment\n1,S-" + number + "\n" + noise(4000, seed)},
             {"options.json", "{\"today\":\"2030-04-08\"}\n"},
             {"plant/segments.csv", "segment\nS-" + number + "\n"},
             {"plant/plant.yaml", "name: Invented\n"},
             {"rules/published/a.yaml", std::string(3000, 'r')}}};
}

std::string noise(std::size_t size, int seed) {
    std::mt19937 random{static_cast<std::uint32_t>(seed)};
    std::string bytes;
    for (std::size_t i = 0; i < size; ++i) bytes += static_cast<char>(random() & 0xFFU);
    return bytes;
}

fs::path made_ledger(const TempFolder& folder, int runs) {
    const fs::path file = folder.path() / ledger_name;
    Ledger ledger = Ledger::to_write(file);
    for (int i = 1; i <= runs; ++i) {
        ledger.store(small_run(i), some_time);
        if (i == 1) ledger.sign({1, "A. Engineer", "integrity engineer", "looked at"}, some_time);
    }
    return file;
}

std::vector<std::string> all_it_says(const fs::path& file) {
    SQLite::Database database{file.string(), SQLite::OPEN_READWRITE};
    std::vector<std::string> said;
    const auto add = [&](const std::string& query) {
        SQLite::Statement rows{database, query};
        while (rows.executeStep()) {
            std::string row;
            for (int i = 0; i < rows.getColumnCount(); ++i) {
                row += rows.getColumn(i).getString() + "|";
            }
            said.push_back(row);
        }
    };
    add("PRAGMA user_version");
    add("PRAGMA application_id");
    add("SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name");
    for (const auto* table : {"entry", "run", "signature"}) {
        add(std::string{"SELECT * FROM "} + table + " ORDER BY 1");
    }
    add("SELECT * FROM item ORDER BY run, path");
    SQLite::Statement content{database, "SELECT sha256, bytes, gzip FROM content ORDER BY sha256"};
    while (content.executeStep()) {
        const std::int64_t size = content.getColumn(1).getInt64();
        const auto packed = content.getColumn(2).getString();
        said.push_back(content.getColumn(0).getString() + "|" + std::to_string(size) + "|" +
                       unzipped(packed, static_cast<std::size_t>(size)).value_or("damaged"));
    }
    return said;
}

std::vector<std::string> shell(const std::string& command) {
    const auto [text, status] = run_in_shell(command);
    if (status != 0) throw std::runtime_error(command + " failed:\n" + text);
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        lines.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return lines;
}

std::string sample_copy(const TempFolder& folder, const std::string& name) {
    const fs::path plant = folder.path() / name;
    fs::copy(fs::path{LAGLINE_SOURCE_DIR} / "sample-plant" / "plant", plant,
             fs::copy_options::recursive);
    return plant.string();
}

void set_cell(const std::string& file, std::string_view segment, std::string_view column,
              const std::string& value) {
    auto records = csv_records(file_text(file));
    const auto& headings = records.front();
    const auto at = std::ranges::find(headings, column) - headings.begin();
    const auto row = std::ranges::find(
        records, segment, [](const std::vector<std::string>& record) { return record.front(); });
    if (row == records.end() || at == std::ssize(headings)) throw std::runtime_error("no cell");
    row->at(static_cast<std::size_t>(at)) = value;
    std::string csv;
    for (const auto& record : records) {
        for (std::size_t i = 0; i < record.size(); ++i) {
            if (i > 0) csv += ',';
            append_csv_text(csv, record[i]);
        }
        csv += '\n';
    }
    std::ofstream{file, std::ios::binary} << csv;
}

}  // namespace lagline
