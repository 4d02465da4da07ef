#pragma once

#include <cstdint>
#include <filesystem>
#include <random>
#include <string>
#include <vector>

#include "ledger/ledger.h"
#include "support/temp_folder.h"

namespace lagline {

inline const std::string some_time = "2030-04-08T09:30:00Z";

/// A run of a few small files; some are the same for every seed, some are not.
[[nodiscard]] NewRun small_run(int seed);

/// `size` bytes that do not compress.
[[nodiscard]] std::string noise(std::size_t size, int seed);

/// A ledger with so many small runs, the first of them signed.
[[nodiscard]] std::filesystem::path made_ledger(const TempFolder& folder, int runs);

/// Everything a ledger says, read past Lagline: version, tables and their rows, content unpacked.
[[nodiscard]] std::vector<std::string> all_it_says(const std::filesystem::path& file);

/// Lines of what a shell command prints.  @throws std::runtime_error  when it fails
[[nodiscard]] std::vector<std::string> shell(const std::string& command);

/// The sample plant in a folder of its own, to be changed.
[[nodiscard]] std::string sample_copy(const TempFolder& folder, const std::string& name);

/// Puts `value` into a cell of a CSV file.
void set_cell(const std::string& file, std::string_view segment, std::string_view column,
              const std::string& value);

}  // namespace lagline
