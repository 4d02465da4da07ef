#include "ledger/snapshot.h"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>
#include <stdexcept>
#include <string_view>

#include "diagnostics/text.h"
#include "intake/plant_files.h"
#include "ledger/entry.h"
#include "ruleset/layer.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

std::string bytes_of(const fs::path& file) {
    std::ifstream in{file, std::ios::binary};
    std::string bytes{std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
    if (!in) throw std::runtime_error("cannot read " + file.string() + " to store it");
    return bytes;
}

void add_file(const fs::path& file, const std::string& as, std::vector<StoredFile>& files) {
    if (!is_plain_path(as)) {
        throw std::runtime_error("the name of " + printable(file.string()) +
                                 " cannot be stored: control characters, or not UTF-8");
    }
    files.push_back({as, bytes_of(file)});
}

void add_plant(const fs::path& folder, std::vector<StoredFile>& files) {
    std::error_code none;
    for (const std::string_view name : plant_file_names()) {
        const fs::path file = folder / name;
        if (fs::is_regular_file(file, none)) {
            add_file(file, "plant/" + std::string{name}, files);
        }
    }
}

void add_rules(const fs::path& folder, const std::string& as, std::vector<StoredFile>& files) {
    Report ignored;  // the same folder has been read without an error
    for (const fs::path& file : rule_files(folder, folder.generic_string(), ignored)) {
        add_file(file, as + "/" + file.lexically_relative(folder).generic_string(), files);
    }
}

// Lower layers, which others name as what they lie on, keep their names.
std::string name_for(const fs::path& folder, std::set<std::string>& taken) {
    std::error_code error;
    const fs::path whole = fs::canonical(folder, error);
    std::string name = (error ? folder : whole).filename().string();
    while (!taken.insert(name).second) name += "-given";
    return name;
}

bool same_folder(const fs::path& a, const fs::path& b) {
    std::error_code error;
    return fs::equivalent(a, b, error) && !error;
}

}  // namespace

InputSnapshot snapshot_of(const fs::path& plant_folder, const RuleSet& rules) {
    InputSnapshot snapshot;
    add_plant(plant_folder, snapshot.files);
    std::set<std::string> taken;
    for (std::size_t i = 0; i < rules.folders.size(); ++i) {
        const fs::path& folder = rules.folders[i];
        const bool last = i + 1 == rules.folders.size();
        if (last && same_folder(folder, plant_folder / "rules")) {
            add_rules(folder, "plant/rules", snapshot.files);
            continue;
        }
        snapshot.rule_set = name_for(folder, taken);
        add_rules(folder, "rules/" + snapshot.rule_set, snapshot.files);
    }
    return snapshot;
}

void write_files(const std::vector<StoredFile>& files, const fs::path& folder) {
    for (const StoredFile& file : files) {
        if (!is_plain_path(file.path)) {
            throw std::runtime_error("the ledger names a file that leads elsewhere: " +
                                     printable(file.path));
        }
        const fs::path target = folder / file.path;
        fs::create_directories(target.parent_path());
        std::ofstream out{target, std::ios::binary};
        out.write(file.bytes.data(), static_cast<std::streamsize>(file.bytes.size()));
        out.close();
        if (!out) throw std::runtime_error("cannot write " + target.string());
    }
}

}  // namespace lagline
