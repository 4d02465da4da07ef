#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "blocks/parallel.h"
#include "diagnostics/diagnostic.h"
#include "plant/sheet.h"

namespace lagline {

/// All bytes of a file, or nothing with the reason in `report`: missing, not a file, unreadable.
[[nodiscard]] std::optional<std::string> read_bytes(const std::filesystem::path& path,
                                                    const std::string& shown, Report& report);

/// The same as a text that is not checked yet; a large file is read by the threads of `plan`, and
/// refused where it has a line of a megabyte, before the rest of it takes memory.
[[nodiscard]] std::optional<SourceText> read_unchecked(const std::filesystem::path& path,
                                                       const std::string& shown, Report& report,
                                                       const WorkPlan& plan);

/// A problem of a whole file.
void refuse_file(Report& report, Problem problem, const std::string& shown, std::string found,
                 std::string expected, std::string mend);

/// What a thread reads or checks at a time.
inline constexpr std::size_t chunk_bytes = std::size_t{1} << 20U;

/// Calls `work(chunk number, bytes)` for every chunk of `bytes` bytes, on the threads of `plan`.
void for_each_chunk(std::size_t bytes, const WorkPlan& plan,
                    const std::function<void(std::size_t, RowRange)>& work);

}  // namespace lagline
