#pragma once

#include <cstdint>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <utility>

#include "diagnostics/diagnostic.h"

namespace lagline {

/// Why a ledger could not be read or written, with what to do about it.
class LedgerFault : public std::runtime_error {
  public:
    explicit LedgerFault(Diagnostic diagnostic)
        : std::runtime_error(diagnostic.found), diagnostic_(std::move(diagnostic)) {}
    [[nodiscard]] const Diagnostic& diagnostic() const { return diagnostic_; }
    /// True when the ledger itself is at fault, not the disk, a permission or another process.
    [[nodiscard]] bool ledger_is_bad() const;

  private:
    Diagnostic diagnostic_;
};

/// What was being done when a fault came up.
enum class LedgerWork { reading, writing };

/// What a result code of SQLite means to a person.
/// @param code     primary result code (https://www.sqlite.org/rescode.html)
/// @param message  of the library
[[nodiscard]] LedgerFault fault_of(int code, const std::string& message,
                                   const std::filesystem::path& file, LedgerWork work);

[[nodiscard]] LedgerFault missing_ledger(const std::filesystem::path& file);
/// @param found  what shows that the file is not as it was written
[[nodiscard]] LedgerFault damaged_ledger(const std::filesystem::path& file, std::string found);
[[nodiscard]] LedgerFault newer_ledger(const std::filesystem::path& file, int version, int known);
[[nodiscard]] LedgerFault unknown_run(const std::filesystem::path& file, std::int64_t run,
                                      std::int64_t runs);
/// @param what  of the thing that cannot be stored: "the name of who signs"
[[nodiscard]] LedgerFault not_storable(const std::filesystem::path& file, const std::string& what,
                                       std::string found, std::string expected);

}  // namespace lagline
