#include "ledger/rerun.h"

#include <algorithm>
#include <exception>

#include "blocks/scratch_folder.h"

namespace lagline {
namespace {

RunOutcome run_in(const std::filesystem::path& folder, const std::string& kind,
                  const std::vector<StoredFile>& inputs, const Rerun& rerun) {
    const auto stored = std::ranges::find(inputs, options_path, &StoredFile::path);
    if (stored == inputs.end()) return {{}, "the run has no options.json"};
    auto options = read_options(stored->bytes);
    if (!options) return {{}, "options.json of the run cannot be read"};
    std::vector<StoredFile> needed;
    std::ranges::copy_if(inputs, std::back_inserter(needed), [](const StoredFile& file) {
        return file.path.starts_with(plant_prefix) || file.path.starts_with(rules_prefix);
    });
    write_files(needed, folder);
    RunInputs run{kind, folder / "plant", folder / "rules", std::move(*options), {}};
    std::ranges::copy_if(inputs, std::back_inserter(run.given), [](const StoredFile& file) {
        return file.path.starts_with(given_prefix);
    });
    return rerun(run);
}

}  // namespace

RunOutcome run_again(const std::string& kind, const std::vector<StoredFile>& inputs,
                     const Rerun& rerun) {
    try {
        const ScratchFolder folder;
        return run_in(folder.path(), kind, inputs, rerun);
    } catch (const std::exception& error) {
        return {{}, error.what()};
    }
}

}  // namespace lagline
