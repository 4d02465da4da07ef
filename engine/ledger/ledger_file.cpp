#include "ledger/ledger_file.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <fcntl.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <string>

#include "ledger/schema.h"

namespace lagline {
namespace {

namespace fs = std::filesystem;

constexpr unsigned page_bytes = 4096;
constexpr int primary_code = 0xFF;  // the low byte; the rest says more closely what it was

LedgerFault fault_from(const SQLite::Exception& error, const fs::path& path, LedgerWork work) {
    return fault_of(error.getErrorCode() & primary_code, error.what(), path, work);
}

// '?', '#' and '%' have a meaning in the name of a URI.
std::string uri_of(const fs::path& path) {
    constexpr std::string_view digits = "0123456789ABCDEF";
    std::string uri = "file:";
    for (const char c : fs::absolute(path).string()) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '?' || c == '#' || c == '%') {
            uri += '%';
            uri += digits[byte >> 4U];
            uri += digits[byte & 0xFU];
        } else {
            uri += c;
        }
    }
    return uri;
}

void set_up(SQLite::Database& database) {
    database.exec("PRAGMA foreign_keys = ON");
    database.exec("PRAGMA trusted_schema = OFF");
    database.exec("PRAGMA cell_size_check = ON");
}

// Reads the head of the file, so that what cannot be read shows here.
void check_identity(SQLite::Database& database, const fs::path& path) {
    const int id = database.execAndGet("PRAGMA application_id").getInt();
    if (id != ledger_application_id) throw damaged_ledger(path, "a database of something else");
    const int version = ledger_version(database);
    const int known = static_cast<int>(ledger_migrations().size());
    if (version > known) throw newer_ledger(path, version, known);
    if (version < 1) throw damaged_ledger(path, "format " + std::to_string(version));
}

void check_schema(SQLite::Database& database, const fs::path& path) {
    if (has_schema_of(database, ledger_migrations())) return;
    throw damaged_ledger(path, "its tables, triggers or views are not those of a ledger");
}

std::unique_ptr<SQLite::Database> opened(const std::string& name, int flags, int wait_ms) {
    auto database = std::make_unique<SQLite::Database>(name, flags, wait_ms);
    set_up(*database);
    return database;
}

// True where the last writer was killed, and what it wrote waits to be taken in.
bool has_log(const fs::path& path) {
    std::error_code none;
    const fs::path log = path.string() + "-wal";
    return fs::exists(log, none) && fs::file_size(log, none) > 0;
}

// A ledger at rest can be read without the shared memory of WAL.
std::unique_ptr<SQLite::Database> opened_at_rest(const fs::path& path) {
    if (has_log(path)) {
        throw fault_of(SQLITE_CANTOPEN, "a write was cut short, and its folder cannot be written",
                       path, LedgerWork::reading);
    }
    return opened(uri_of(path) + "?immutable=1", SQLite::OPEN_READONLY | SQLite::OPEN_URI, 0);
}

// No place for the shared memory: a folder that may not be written, or a full disk.
bool cannot_share(const SQLite::Exception& error) {
    const int code = error.getErrorCode() & primary_code;
    return code == SQLITE_CANTOPEN || code == SQLITE_READONLY || code == SQLITE_FULL ||
           code == SQLITE_IOERR;
}

std::unique_ptr<SQLite::Database> opened_for_reading(const fs::path& path, int wait_ms) {
    try {
        auto database = opened(path.string(), SQLite::OPEN_READWRITE, wait_ms);
        check_identity(*database, path);
        migrate(*database, ledger_migrations());
        database->exec("PRAGMA query_only = ON");
        return database;
    } catch (const SQLite::Exception& error) {
        if (!cannot_share(error)) throw;
    }
    auto database = opened_at_rest(path);
    check_identity(*database, path);
    return database;
}

// What stands at `path` before anything is done; SQLite would take an empty file for a new one.
void check_file(const fs::path& path) {
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (!fs::exists(status)) throw missing_ledger(path);
    if (!fs::is_regular_file(status)) throw damaged_ledger(path, "not a file");
    const auto size = fs::file_size(path, error);
    if (size == 0) throw damaged_ledger(path, "an empty file");
    // SQLite would read what is missing of the last page as zeros.
    if (size % page_bytes != 0 && !has_log(path)) throw damaged_ledger(path, "it was cut");
}

std::string reason() { return std::strerror(errno); }

LedgerFault cannot_start(const fs::path& path, const std::string& why) {
    const bool full = errno == ENOSPC || errno == EFBIG || errno == EDQUOT;
    return fault_of(full ? SQLITE_FULL : SQLITE_CANTOPEN, why, path, LedgerWork::writing);
}

// The name of a new file is on the disk once its folder is; where that cannot be asked for, the
// system does it in its own time.
void put_on_disk(const fs::path& folder) {
    const int fd = ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_CLOEXEC);
    if (fd < 0) return;
    ::fsync(fd);
    ::close(fd);
}

// A new ledger under another name, gone again with this object.
class Newborn {
  public:
    explicit Newborn(const fs::path& beside)
        : name_((beside.parent_path() / ("." + beside.filename().string() + ".XXXXXX")).string()) {
        const int fd = ::mkostemp(name_.data(), O_CLOEXEC);
        if (fd < 0) throw cannot_start(beside, reason());
        ::close(fd);
    }
    Newborn(const Newborn&) = delete;
    Newborn& operator=(const Newborn&) = delete;
    ~Newborn() { ::unlink(name_.c_str()); }

    void fill() const {
        SQLite::Database memory{":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
        memory.exec("PRAGMA page_size = " + std::to_string(page_bytes));
        migrate(memory, ledger_migrations());
        SQLite::Statement copy{memory, "VACUUM INTO ?"};
        copy.bind(1, name_);
        copy.exec();
    }
    // Fails where another process was first; then its ledger is used.
    void take_place(const fs::path& path) const {
        const int fd = ::open(name_.c_str(), O_RDWR | O_CLOEXEC);
        const mode_t mask = ::umask(0);
        ::umask(mask);
        const bool on_disk = fd >= 0 && ::fchmod(fd, 0666U & ~mask) == 0 && ::fsync(fd) == 0;
        if (!on_disk) {
            const std::string why = reason();  // before close() can change it
            if (fd >= 0) ::close(fd);
            throw cannot_start(path, why);
        }
        ::close(fd);
        if (::link(name_.c_str(), path.c_str()) != 0 && errno != EEXIST) {
            throw cannot_start(path, reason());
        }
        put_on_disk(path.parent_path());
    }

  private:
    std::string name_;
};

void start_if_missing(const fs::path& path) {
    std::error_code none;
    if (fs::exists(fs::symlink_status(path, none))) return;
    const Newborn ledger{path};
    ledger.fill();
    ledger.take_place(path);
}

}  // namespace

LedgerFile::LedgerFile() = default;
LedgerFile::LedgerFile(LedgerFile&&) noexcept = default;
LedgerFile& LedgerFile::operator=(LedgerFile&&) noexcept = default;
LedgerFile::~LedgerFile() = default;

fs::path ledger_at(const fs::path& given) {
    std::error_code none;
    return fs::is_directory(given, none) ? given / ledger_name : given;
}

LedgerFile open_to_read(const fs::path& path, int wait_ms) {
    check_file(path);
    LedgerFile file;
    file.path = path;
    try {
        file.database = opened_for_reading(path, wait_ms);
        check_schema(*file.database, path);
    } catch (const SQLite::Exception& error) {
        throw fault_from(error, path, LedgerWork::reading);
    }
    return file;
}

LedgerFile open_to_write(const fs::path& path, int wait_ms) {
    LedgerFile file;
    file.path = path;
    try {
        start_if_missing(path);
        check_file(path);
        file.database = opened(path.string(), SQLite::OPEN_READWRITE, wait_ms);
        check_identity(*file.database, path);
        migrate(*file.database, ledger_migrations());
        check_schema(*file.database, path);
        // Readers go on while a run is stored; FULL: a stored run outlives a loss of power.
        file.database->exec("PRAGMA journal_mode = WAL");
        file.database->exec("PRAGMA synchronous = FULL");
    } catch (const SQLite::Exception& error) {
        throw fault_from(error, path, LedgerWork::writing);
    }
    return file;
}

}  // namespace lagline
