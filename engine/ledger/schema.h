#pragma once

#include <span>
#include <string_view>

namespace SQLite {  // NOLINT(readability-identifier-naming): as the library has it
class Database;
}

namespace lagline {

/// "LAGL": tells a ledger from any other SQLite file.
inline constexpr int ledger_application_id = 0x4C41474C;

/// Steps from an empty file to the ledger of today: step i leads to version i + 1.  A step that
/// has been shipped is never changed, and never touches a row: every row is under a digest.
[[nodiscard]] std::span<const std::string_view> ledger_migrations();

/// Version of the file (PRAGMA user_version).
[[nodiscard]] int ledger_version(SQLite::Database& database);

/// Takes the file through the steps it lacks, all in one transaction.
/// @throws SQLite::Exception  and the file is as it was
void migrate(SQLite::Database& database, std::span<const std::string_view> steps);

/// True when the file holds exactly the tables, triggers and views that `steps` make.
[[nodiscard]] bool has_schema_of(SQLite::Database& database,
                                 std::span<const std::string_view> steps);

}  // namespace lagline
