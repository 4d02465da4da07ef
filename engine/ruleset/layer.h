#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "ruleset/table_draft.h"
#include "ruleset/yaml_reader.h"

namespace lagline {

/// The rule files of one folder, and what their `ruleset` says.
struct Layer {
    std::filesystem::path folder;
    std::vector<std::unique_ptr<YamlFile>> files;  ///< by relative path
    std::string name;                              ///< the folder's name where the files give none
    std::string meaning;
    std::string based_on;
    const YamlNode* name_at = nullptr;      ///< null when the files give none
    const YamlNode* based_on_at = nullptr;  ///< null when on nothing
    bool overlay = false;                   ///< lies on another layer, so may change it
};

/// Rule files below `folder`, by relative path.  What looks like one but is not read is reported.
/// @param shown  as below
[[nodiscard]] std::vector<std::filesystem::path> rule_files(const std::filesystem::path& folder,
                                                            const std::string& shown,
                                                            Report& report);

/// Reads all rule files of the folder and the layer's `ruleset`.
/// @param shown  name of the folder in places and messages
Layer read_layer_files(const std::filesystem::path& folder, const std::string& shown,
                       Report& report);

/// Adds what the layer says to what the layers below said.
void add_layer(const Layer& layer, RuleDraft& draft, Report& report);

/// `checks` of one file.
void read_checks(const YamlNode& list, RuleSet& rules, const Scope& scope);
/// `site_factors` of one file.
void read_site_factors(const YamlNode& map, RuleSet& rules, bool overlay, const Scope& scope);

/// Reports a name that is there twice, naming both places.
void report_twice(const YamlNode& at, const std::string& what, const Place& first,
                  const std::string& mend, const Scope& scope);

}  // namespace lagline
