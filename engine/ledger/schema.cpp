#include "ledger/schema.h"

#include <SQLiteCpp/SQLiteCpp.h>

#include <algorithm>
#include <array>
#include <string>
#include <vector>

namespace lagline {
namespace {

// docs/ledger.md explains it table by table.  A trigger is what keeps a row from being changed by
// an honest hand; what a dishonest one does to the file, the digests show.
constexpr std::string_view version_1 = R"sql(
CREATE TABLE content (
    sha256 TEXT NOT NULL PRIMARY KEY CHECK (length(sha256) = 64),
    bytes INTEGER NOT NULL CHECK (bytes >= 0),
    gzip BLOB NOT NULL
) STRICT;
CREATE TABLE entry (
    number INTEGER NOT NULL PRIMARY KEY,
    previous TEXT NOT NULL CHECK (length(previous) = 64),
    digest TEXT NOT NULL UNIQUE CHECK (length(digest) = 64),
    at TEXT NOT NULL
) STRICT;
CREATE TABLE run (
    number INTEGER NOT NULL PRIMARY KEY,
    entry INTEGER NOT NULL UNIQUE REFERENCES entry (number),
    kind TEXT NOT NULL,
    engine TEXT NOT NULL
) STRICT;
CREATE TABLE item (
    run INTEGER NOT NULL REFERENCES run (number),
    path TEXT NOT NULL,
    sha256 TEXT NOT NULL REFERENCES content (sha256),
    PRIMARY KEY (run, path)
) STRICT;
CREATE TABLE signature (
    entry INTEGER NOT NULL PRIMARY KEY REFERENCES entry (number),
    run INTEGER NOT NULL REFERENCES run (number),
    name TEXT NOT NULL,
    role TEXT NOT NULL,
    note TEXT NOT NULL
) STRICT;

CREATE TRIGGER content_stays BEFORE UPDATE ON content
BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END;
CREATE TRIGGER content_remains BEFORE DELETE ON content
BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END;
CREATE TRIGGER content_once BEFORE INSERT ON content
WHEN EXISTS (SELECT 1 FROM content WHERE sha256 = NEW.sha256)
BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END;

CREATE TRIGGER entry_stays BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END;
CREATE TRIGGER entry_remains BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END;
CREATE TRIGGER entry_follows BEFORE INSERT ON entry
WHEN NEW.number IS NOT (SELECT coalesce(max(number), 0) + 1 FROM entry)
    OR NEW.previous IS NOT coalesce((SELECT digest FROM entry ORDER BY number DESC LIMIT 1),
        '0000000000000000000000000000000000000000000000000000000000000000')
BEGIN SELECT RAISE(ABORT, 'an entry follows the last one'); END;

CREATE TRIGGER run_stays BEFORE UPDATE ON run
BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END;
CREATE TRIGGER run_remains BEFORE DELETE ON run
BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END;
CREATE TRIGGER run_follows BEFORE INSERT ON run
WHEN NEW.number IS NOT (SELECT coalesce(max(number), 0) + 1 FROM run)
    OR NEW.entry IS NOT (SELECT max(number) FROM entry)
BEGIN SELECT RAISE(ABORT, 'a run belongs to the last entry'); END;

CREATE TRIGGER item_stays BEFORE UPDATE ON item
BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END;
CREATE TRIGGER item_remains BEFORE DELETE ON item
BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END;
CREATE TRIGGER item_follows BEFORE INSERT ON item
WHEN NEW.run IS NOT (SELECT number FROM run WHERE entry = (SELECT max(number) FROM entry))
    OR EXISTS (SELECT 1 FROM item WHERE run = NEW.run AND path = NEW.path)
BEGIN SELECT RAISE(ABORT, 'an item belongs to the last run'); END;

CREATE TRIGGER signature_stays BEFORE UPDATE ON signature
BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END;
CREATE TRIGGER signature_remains BEFORE DELETE ON signature
BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END;
CREATE TRIGGER signature_follows BEFORE INSERT ON signature
WHEN NEW.entry IS NOT (SELECT max(number) FROM entry)
    OR EXISTS (SELECT 1 FROM signature WHERE entry = NEW.entry)
    OR EXISTS (SELECT 1 FROM run WHERE entry = NEW.entry)
BEGIN SELECT RAISE(ABORT, 'a signature belongs to the last entry'); END;

CREATE VIEW manifest (entry, line, text) AS
SELECT number, 1, 'lagline ledger 1' FROM entry
UNION ALL SELECT number, 2, 'entry ' || number FROM entry
UNION ALL SELECT number, 3, 'previous ' || previous FROM entry
UNION ALL SELECT number, 4, 'at ' || at FROM entry
UNION ALL SELECT entry, 5, 'run ' || number FROM run
UNION ALL SELECT entry, 6, 'kind ' || kind FROM run
UNION ALL SELECT entry, 7, 'engine ' || engine FROM run
UNION ALL SELECT run.entry, 7 + row_number() OVER (PARTITION BY item.run ORDER BY item.path),
        item.sha256 || '  ' || item.path
    FROM item JOIN run ON run.number = item.run
UNION ALL SELECT entry, 5, 'signs run ' || run FROM signature
UNION ALL SELECT signature.entry, 6, 'digest ' || entry.digest
    FROM signature JOIN run ON run.number = signature.run JOIN entry ON entry.number = run.entry
UNION ALL SELECT entry, 7, 'name ' || name FROM signature
UNION ALL SELECT entry, 8, 'role ' || role FROM signature
UNION ALL SELECT entry, 9, 'note ' || note FROM signature;
)sql";

constexpr std::array migrations{version_1};

using SchemaRow = std::array<std::string, 4>;

std::vector<SchemaRow> schema_rows(SQLite::Database& database) {
    SQLite::Statement query{database,
                            "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema "
                            "ORDER BY type, name"};
    std::vector<SchemaRow> rows;
    while (query.executeStep()) {
        SchemaRow row;
        for (int i = 0; i < 4; ++i) {
            row.at(static_cast<std::size_t>(i)) = query.getColumn(i).getString();
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

}  // namespace

std::span<const std::string_view> ledger_migrations() { return migrations; }

int ledger_version(SQLite::Database& database) {
    return database.execAndGet("PRAGMA user_version").getInt();
}

void migrate(SQLite::Database& database, std::span<const std::string_view> steps) {
    if (ledger_version(database) >= static_cast<int>(steps.size())) return;
    SQLite::Transaction whole{database, SQLite::TransactionBehavior::IMMEDIATE};
    // Read again: another process may have been first.
    const auto from = static_cast<std::size_t>(ledger_version(database));
    for (std::size_t step = from; step < steps.size(); ++step) {
        database.exec(std::string{steps[step]});
    }
    database.exec("PRAGMA application_id = " + std::to_string(ledger_application_id));
    database.exec("PRAGMA user_version = " + std::to_string(std::max(from, steps.size())));
    whole.commit();
}

bool has_schema_of(SQLite::Database& database, std::span<const std::string_view> steps) {
    SQLite::Database fresh{":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
    migrate(fresh, steps);
    return schema_rows(database) == schema_rows(fresh);
}

}  // namespace lagline
