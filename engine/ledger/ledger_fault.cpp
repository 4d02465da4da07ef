#include "ledger/ledger_fault.h"

#include <sqlite3.h>

#include <utility>

namespace lagline {
namespace {

namespace fs = std::filesystem;

LedgerFault fault(Problem problem, const fs::path& file, std::string subject, std::string found,
                  std::string expected, std::string mend) {
    return LedgerFault{{.problem = problem,
                        .where = {file.string(), 0, 0},
                        .subject = std::move(subject),
                        .found = std::move(found),
                        .expected = std::move(expected),
                        .mend = std::move(mend),
                        .excerpt = {}}};
}

LedgerFault busy(const fs::path& file) {
    return fault(Problem::ledger_busy, file, "ledger", "another process is writing to it",
                 "a ledger that nobody else is writing to",
                 "wait until the other has ended and run the command again; nothing was changed");
}

LedgerFault no_room(const fs::path& file, const std::string& message) {
    return fault(Problem::not_stored, file, "ledger", "it cannot grow: " + message,
                 "room on the disk for the run",
                 "make room and run the command again; nothing of the run was kept, all earlier "
                 "runs are as they were");
}

LedgerFault no_permission(const fs::path& file, const std::string& message) {
    return fault(Problem::not_stored, file, "ledger", "it cannot be written: " + message,
                 "a folder and a ledger that may be written",
                 "check owner and permissions, or give --ledger FILE in a folder you may write; "
                 "nothing was changed");
}

LedgerFault unreadable(const fs::path& file, const std::string& message) {
    return fault(Problem::unreadable_file, file, "ledger", "it cannot be read: " + message,
                 "a ledger that may be read",
                 "check owner and permissions; where lagline.db-wal stands beside it, copy both to "
                 "a folder you may write and read them there");
}

}  // namespace

bool LedgerFault::ledger_is_bad() const {
    const Problem problem = diagnostic_.problem;
    return problem == Problem::ledger_damaged || problem == Problem::missing_file ||
           problem == Problem::newer_format || problem == Problem::unknown_run;
}

LedgerFault fault_of(int code, const std::string& message, const fs::path& file, LedgerWork work) {
    const bool writing = work == LedgerWork::writing;
    switch (code) {
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
        case SQLITE_PROTOCOL:
            return busy(file);
        case SQLITE_FULL:
        case SQLITE_IOERR:
        case SQLITE_TOOBIG:
            return writing ? no_room(file, message) : unreadable(file, message);
        case SQLITE_READONLY:
        case SQLITE_PERM:
        case SQLITE_CANTOPEN:
        case SQLITE_AUTH:
            return writing ? no_permission(file, message) : unreadable(file, message);
        default:
            return damaged_ledger(file, message);
    }
}

LedgerFault missing_ledger(const fs::path& file) {
    return fault(Problem::missing_file, file, "ledger", "no such file", "a ledger of runs",
                 "`lagline rank PLANT --store` starts one in the plant folder");
}

LedgerFault damaged_ledger(const fs::path& file, std::string found) {
    return fault(Problem::ledger_damaged, file, "ledger", std::move(found),
                 "a ledger as Lagline wrote it",
                 "put back a copy that `lagline verify` finds whole; keep the damaged file, other "
                 "runs in it may still be read");
}

LedgerFault newer_ledger(const fs::path& file, int version, int known) {
    return fault(Problem::newer_format, file, "ledger",
                 "format " + std::to_string(version) + ", of a newer Lagline",
                 "format " + std::to_string(known) + " or older", "use the newer Lagline");
}

LedgerFault unknown_run(const fs::path& file, std::int64_t run, std::int64_t runs) {
    return fault(
        Problem::unknown_run, file, "run", "no run " + std::to_string(run),
        runs == 0 ? "a stored run; there is none yet" : "a run from 1 to " + std::to_string(runs),
        "`lagline runs` lists them");
}

LedgerFault not_storable(const fs::path& file, const std::string& what, std::string found,
                         std::string expected) {
    return fault(Problem::not_stored, file, what, std::move(found), std::move(expected),
                 "give it as expected; nothing was stored");
}

}  // namespace lagline
