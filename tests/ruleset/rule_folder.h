#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "ruleset/ruleset.h"

namespace lagline {

/// A folder of shipped rule sets for one test, removed at its end.
class RuleFolder {
  public:
    RuleFolder();
    ~RuleFolder();
    RuleFolder(const RuleFolder&) = delete;
    RuleFolder& operator=(const RuleFolder&) = delete;

    /// Writes `root/name`, making the folders on the way.
    void write(const std::string& name, std::string_view text) const;
    [[nodiscard]] const std::filesystem::path& root() const { return root_; }

  private:
    std::filesystem::path root_;
};

/// A small set of rules without problems, but for its tables.
extern const std::string_view small_head;
/// The same with a table of each kind.
extern const std::string_view small_tables;

/// Loads a set "base" made of `small_head` and `tables.yaml`.
LoadedRules load_tables(const RuleFolder& folder, std::string_view tables);
/// Loads "base" (small_head and small_tables) with this overlay of a site on it.
LoadedRules load_overlay(const RuleFolder& folder, std::string_view overlay);

/// Code of the problem and place within its file: "unknown-key 3:5"; all of them, by ", ".
std::string summary(const Report& report);
/// The whole report as text, for messages.
std::string full(const Report& report);

}  // namespace lagline
