#pragma once

#include <filesystem>
#include <memory>
#include <span>
#include <string_view>

#include "ledger/ledger_fault.h"

namespace SQLite {  // NOLINT(readability-identifier-naming): as the library has it
class Database;
}

namespace lagline {

/// Name of the ledger in a plant folder.
inline constexpr const char* ledger_name = "lagline.db";

/// The ledger that `given` means: the file itself, or lagline.db of the folder.
[[nodiscard]] std::filesystem::path ledger_at(const std::filesystem::path& given);

/// How long a process waits for another that is writing.
inline constexpr int usual_wait_ms = 5000;

/// An open ledger file of today's version and with today's tables.
/// Closing it leaves one file: what was written meanwhile is taken in.
struct LedgerFile {
    std::filesystem::path path;
    std::unique_ptr<SQLite::Database> database;
    LedgerFile();
    LedgerFile(LedgerFile&&) noexcept;
    LedgerFile& operator=(LedgerFile&&) noexcept;
    ~LedgerFile();
};

/// @throws LedgerFault  missing, damaged, of another program, of a newer version, unreadable
[[nodiscard]] LedgerFile open_to_read(const std::filesystem::path& path,
                                      int wait_ms = usual_wait_ms);

/// Starts the ledger where there is none: it is there whole, or not at all.
/// @throws LedgerFault  as above, or when it cannot be written
[[nodiscard]] LedgerFile open_to_write(const std::filesystem::path& path,
                                       int wait_ms = usual_wait_ms);

}  // namespace lagline
