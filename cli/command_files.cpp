#include "cli/command_files.h"

#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <fstream>
#include <iostream>
#include <string_view>

#include "cli/app.h"
#include "cli/session.h"
#include "diagnostics/text.h"
#include "intake/plant_files.h"
#include "ledger/ledger_file.h"
#include "ledger/schema.h"
#include "report/own_output.h"

namespace lagline::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::array<std::string_view, 4> ledger_endings{"", "-wal", "-shm", "-journal"};

constexpr std::string_view elsewhere =
    ", and is never written over; name a file that is not there yet, outside of what is read";

// The same whatever case a file system takes for the same.
std::string folded(std::string text) {
    for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return text;
}

fs::path resolved(const fs::path& path) {
    std::error_code error;
    fs::path whole = fs::weakly_canonical(fs::absolute(path, error), error);
    return error || whole.empty() ? path : whole;
}

/// Which file it is, by whatever path it is reached.
struct FileIdentity {
    dev_t device = 0;
    ino_t number = 0;
    bool operator==(const FileIdentity&) const = default;
};

std::optional<FileIdentity> identity_of(const struct stat& status) {
    if (!S_ISREG(status.st_mode)) return std::nullopt;
    return FileIdentity{status.st_dev, status.st_ino};
}

std::optional<FileIdentity> identity_of(const fs::path& path) {
    struct stat status {};
    return ::stat(path.c_str(), &status) == 0 ? identity_of(status) : std::nullopt;
}

std::optional<FileIdentity> identity_of(int fd) {
    struct stat status {};
    return ::fstat(fd, &status) == 0 ? identity_of(status) : std::nullopt;
}

bool same_folder(const fs::path& a, const fs::path& b) {
    std::error_code error;
    return fs::equivalent(a.empty() ? fs::path{"."} : a, b, error) && !error;
}

// Whether a path, resolved, is the folder or leads into it.
bool leads_into(const fs::path& target, const fs::path& folder) {
    for (fs::path at = target;; at = at.parent_path()) {
        if (same_folder(at, folder) || folded(at.string()) == folded(folder.string())) return true;
        if (at == at.parent_path()) return false;
    }
}

bool is_rule_name(const fs::path& path) {
    const std::string ending = folded(path.extension().string());
    return ending == ".yaml" || ending == ".yml";
}

bool has_in(const fs::path& folder, const FileIdentity& file) {
    std::error_code error;
    fs::recursive_directory_iterator at(folder, error);
    for (; !error && at != fs::recursive_directory_iterator(); at.increment(error)) {
        if (identity_of(at->path()) == file) return true;
    }
    return false;
}

// A database says in its head which program it belongs to.
bool holds_ledger(const fs::path& file) {
    constexpr std::string_view start{"SQLite format 3\0", 16};
    constexpr std::size_t id_at = 68;
    std::array<char, id_at + 4> head{};
    std::ifstream in{file, std::ios::binary};
    if (!in.read(head.data(), head.size())) return false;
    std::uint32_t id = 0;
    for (std::size_t i = id_at; i < head.size(); ++i) {
        id = id << 8U | static_cast<unsigned char>(head[i]);
    }
    return std::string_view{head.data(), head.size()}.starts_with(start) &&
           id == static_cast<std::uint32_t>(ledger_application_id);
}

std::string tables_of_plant(const fs::path& folder, std::string_view name) {
    return printable(std::string{name}) + " of the plant folder " + printable(folder.string());
}

int refuse(const std::string& refusal) {
    std::cerr << "lagline: " << refusal << "; nothing was written\n"
              << "Run with --help for more information.\n";
    return wrong_use;
}

// What a file is that holds a ledger which no option names, or stands beside one as a part of it.
std::string ledger_by_content(const std::string& name) {
    for (const std::string_view ending : ledger_endings) {
        if (!name.ends_with(ending)) continue;
        if (holds_ledger(name.substr(0, name.size() - ending.size()))) {
            return std::string{ending.empty() ? "" : "a part of "} + "a ledger of stored runs";
        }
    }
    return "";
}

}  // namespace

bool is_standard_output(const fs::path& path) {
    constexpr std::array<std::string_view, 3> names{"/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"};
    return std::ranges::find(names, path.native()) != names.end();
}

std::vector<fs::path> CommandFiles::plant_folders() const {
    std::vector<fs::path> folders;
    std::error_code none;
    for (const std::string* folder : plants_) {
        if (!folder->empty()) folders.emplace_back(*folder);
    }
    for (const std::string* given : ledgers_) {
        if (fs::is_directory(*given, none)) folders.emplace_back(*given);
    }
    return folders;
}

std::vector<fs::path> CommandFiles::rule_folders() const {
    std::vector<fs::path> folders{resolved(rules_root())};
    std::error_code none;
    for (const std::string* rules : rules_) {
        if (fs::is_directory(*rules, none)) folders.push_back(resolved(*rules));
    }
    for (const fs::path& plant : plant_folders()) folders.push_back(resolved(plant / "rules"));
    return folders;
}

// By device and number: links of both kinds lead to the same.
std::string CommandFiles::input_at(const fs::path& target) const {
    const auto file = identity_of(target);
    if (!file) return "";
    for (const fs::path& plant : plant_folders()) {
        for (const std::string_view name : plant_file_names()) {
            if (identity_of(plant / name) == file) return tables_of_plant(plant, name);
        }
    }
    for (const fs::path& folder : rule_folders()) {
        if (has_in(folder, *file)) return "a file of the rules in " + printable(folder.string());
    }
    std::vector<std::string> given;
    for (const std::string* single : single_) given.push_back(*single);
    for (const auto* list : lists_) given.insert(given.end(), list->begin(), list->end());
    for (const std::string& each : given) {
        if (identity_of(fs::path{each}) == file) return printable(each) + ", which is read";
    }
    if (identity_of(STDIN_FILENO) == file) return "what standard input is read from";
    return "";
}

// A file that is not there yet would be read the next time.
std::string CommandFiles::place_of_input(const fs::path& target) const {
    const fs::path whole = resolved(target);
    for (const fs::path& plant : plant_folders()) {
        if (!same_folder(whole.parent_path(), plant)) continue;
        const std::string name = folded(whole.filename().string());
        const auto names = plant_file_names();
        if (std::ranges::find(names, name) == names.end()) continue;
        return "the place of " + tables_of_plant(plant, name);
    }
    for (const fs::path& folder : rule_folders()) {
        if (is_rule_name(whole) && leads_into(whole.parent_path(), folder)) {
            return "the place of a rule file: what lies in " + printable(folder.string()) +
                   " acts as a rule";
        }
    }
    return "";
}

std::string CommandFiles::ledger_at_place(const fs::path& target) const {
    std::vector<fs::path> ledgers;
    for (const fs::path& plant : plant_folders()) ledgers.push_back(plant / ledger_name);
    for (const std::string* given : ledgers_) ledgers.push_back(ledger_at(*given));
    for (const auto* given : stores_) {
        if (*given) ledgers.push_back(ledger_at(**given));
    }
    const fs::path whole = resolved(target);
    const auto file = identity_of(target);
    for (const fs::path& ledger : ledgers) {
        for (const std::string_view ending : ledger_endings) {
            const fs::path part = ledger.string() + std::string{ending};
            const bool same_place =
                same_folder(whole.parent_path(), resolved(part).parent_path()) &&
                folded(whole.filename().string()) == folded(resolved(part).filename().string());
            if (same_place || (file && identity_of(part) == file)) {
                return "the ledger " + printable(ledger.string()) +
                       (ending.empty() ? "" : " or a part of it");
            }
        }
    }
    return ledger_by_content(whole.string());
}

std::string CommandFiles::refusal(const fs::path& target, bool force) const {
    if (is_standard_output(target)) return "";
    struct stat status {};
    const bool exists = ::stat(target.c_str(), &status) == 0;
    // Devices and pipes keep nothing; a folder is told by what writes.
    if (exists && !S_ISREG(status.st_mode)) return "";
    for (const std::string& what :
         {input_at(target), ledger_at_place(target), place_of_input(target)}) {
        if (!what.empty()) {
            return "cannot write " + printable(target.string()) + ": it is " + what +
                   std::string{elsewhere};
        }
    }
    if (!exists || force || is_own_output(target)) return "";
    return "cannot write " + printable(target.string()) +
           ": a file is there that Lagline did not write, or that was changed since; name another, "
           "or say --force to replace it";
}

std::string CommandFiles::refusal_of_ledger(const fs::path& ledger) const {
    for (const std::string& what : {input_at(ledger), place_of_input(ledger)}) {
        if (!what.empty()) {
            return "cannot store a run in " + printable(ledger.string()) + ": it is " + what +
                   std::string{elsewhere};
        }
    }
    return "";
}

std::string CommandFiles::refusal_of_folder(const fs::path& folder) const {
    const fs::path whole = resolved(folder);
    for (const fs::path& rules : rule_folders()) {
        if (leads_into(whole, rules)) {
            return "cannot make the folder " + printable(folder.string()) + ": what lies in " +
                   printable(rules.string()) + " acts as a rule; name a folder elsewhere";
        }
    }
    const std::string what = place_of_input(folder);
    if (what.empty()) return "";
    return "cannot make the folder " + printable(folder.string()) + ": it is " + what +
           std::string{elsewhere};
}

std::string CommandFiles::refusal_of_twins() const {
    std::vector<fs::path> places;
    std::error_code none;
    for (const auto& [out, force] : outs_) {
        if (!out->file) continue;
        const fs::path place = resolved(*out->file);
        const bool device = fs::is_other(fs::status(place, none));
        if (!device && std::ranges::find(places, place) != places.end()) {
            return printable(*out->file) + " is named for two outputs; name two files";
        }
        places.push_back(place);
    }
    return "";
}

int CommandFiles::check() {
    // What standard output is sent to by the shell is as good as named.
    const std::string sent_to = input_at("/dev/stdout");
    if (!sent_to.empty()) {
        return refuse("standard output is sent to " + sent_to + std::string{elsewhere});
    }
    for (const auto* given : stores_) {
        const std::string refused = *given ? refusal_of_ledger(ledger_at(**given)) : "";
        if (!refused.empty()) return refuse(refused);
    }
    for (const auto& folder : folders_) {
        const auto given = folder();
        const std::string refused = given ? refusal_of_folder(*given) : "";
        if (!refused.empty()) return refuse(refused);
    }
    for (const auto& [out, force] : outs_) {
        out->force = *force;
        out->files = this;
        const std::string refused = out->file ? refusal(*out->file, *force) : "";
        if (!refused.empty()) return refuse(refused);
    }
    const std::string twins = refusal_of_twins();
    return twins.empty() ? done : refuse(twins);
}

}  // namespace lagline::cli
