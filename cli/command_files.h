#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace lagline::cli {

class CommandFiles;

/// A file that a command writes in place of standard output.
struct OutFile {
    std::optional<std::string> file;
    bool force = false;                   ///< replace a file that Lagline did not write
    const CommandFiles* files = nullptr;  ///< of the command, set before it runs
    explicit operator bool() const { return file.has_value(); }
};

/// Whether a path is a name for standard output, wherever the shell sends that.
[[nodiscard]] bool is_standard_output(const std::filesystem::path& path);

/// What a command reads and what it writes, as its options declare it.  Of what is read, of the
/// shipped rules and of ledgers nothing is ever written over, by whatever path; a file of anybody
/// else is replaced only when that was asked for.
///
/// Whatever is handed over is a place that the parser fills, and outlives this object.
class CommandFiles {
  public:
    /// A plant folder; an empty text: none.
    void reads_plant(const std::string& folder) { plants_.push_back(&folder); }
    /// A rule set by its name or its folder.
    void reads_rules(const std::string& rules) { rules_.push_back(&rules); }
    void reads_file(const std::string& file) { single_.push_back(&file); }
    void reads_files(const std::vector<std::string>& files) { lists_.push_back(&files); }
    /// A ledger, or the plant folder it lies in.
    void reads_ledger(const std::string& given) { ledgers_.push_back(&given); }
    /// A ledger that is added to, where one is given.
    void adds_to_ledger(const std::optional<std::string>& given) { stores_.push_back(&given); }
    /// @param force  whether files of others may be replaced
    void writes(OutFile& out, const bool& force) { outs_.emplace_back(&out, &force); }
    /// A folder that is made, where one is given.
    void makes_folder(std::function<std::optional<std::string>()> folder) {
        folders_.push_back(std::move(folder));
    }

    /// Looks at all that is to be written, before any work; what must not be is told on standard
    /// error.  @return an ExitCode
    [[nodiscard]] int check();
    /// Why `target` must not be written; empty: it may.
    [[nodiscard]] std::string refusal(const std::filesystem::path& target, bool force) const;

  private:
    [[nodiscard]] std::vector<std::filesystem::path> plant_folders() const;
    [[nodiscard]] std::vector<std::filesystem::path> rule_folders() const;
    [[nodiscard]] std::string input_at(const std::filesystem::path& target) const;
    [[nodiscard]] std::string place_of_input(const std::filesystem::path& target) const;
    [[nodiscard]] std::string ledger_at_place(const std::filesystem::path& target) const;
    [[nodiscard]] std::string refusal_of_ledger(const std::filesystem::path& ledger) const;
    [[nodiscard]] std::string refusal_of_folder(const std::filesystem::path& folder) const;
    [[nodiscard]] std::string refusal_of_twins() const;

    std::vector<const std::string*> plants_, rules_, single_, ledgers_;
    std::vector<const std::vector<std::string>*> lists_;
    std::vector<const std::optional<std::string>*> stores_;
    std::vector<std::pair<OutFile*, const bool*>> outs_;
    std::vector<std::function<std::optional<std::string>()>> folders_;
};

}  // namespace lagline::cli
