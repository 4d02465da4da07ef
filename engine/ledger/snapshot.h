#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "ruleset/ruleset.h"

namespace lagline {

/// A file of a run with its bytes.
struct StoredFile {
    std::string path;  ///< in the run: "plant/segments.csv"
    std::string bytes;

    friend bool operator==(const StoredFile&, const StoredFile&) = default;
};

/// What a run was made of, to be written into a ledger.
struct InputSnapshot {
    std::vector<StoredFile> files;  ///< plant/..., with the site's rules; rules/SET/...
    std::string rule_set;           ///< name of the topmost set under rules/
};

/// Every file that the readers of a plant folder and of its rules look at, byte for byte.
/// @param rules  as loaded for this plant; tells the folders of its layers
/// @throws std::runtime_error  when a file cannot be read, or has a name that cannot be stored
[[nodiscard]] InputSnapshot snapshot_of(const std::filesystem::path& plant_folder,
                                        const RuleSet& rules);

/// Writes files below `folder`.
/// @throws std::runtime_error  when one cannot be written, or its path leads out of the folder
void write_files(const std::vector<StoredFile>& files, const std::filesystem::path& folder);

}  // namespace lagline
