#include <SQLiteCpp/SQLiteCpp.h>
#include <doctest/doctest.h>

#include <memory>

#include "ledger/gzip.h"
#include "ledger/sha256.h"
#include "ledger/verify.h"
#include "made_ledger.h"

namespace lagline {
namespace {

const std::string zeros(64, '0');

TEST_CASE("no row can be changed, taken out, replaced or put where it does not follow") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 2);
    const auto before = all_it_says(file);
    const std::string x = "'" + std::string(64, 'a') + "'";
    {
        SQLite::Database database{file.string(), SQLite::OPEN_READWRITE};
        for (const std::string& statement : {
                 std::string{"UPDATE content SET bytes = 1"},
                 std::string{"UPDATE entry SET at = '2031-01-01T00:00:00Z' WHERE number = 1"},
                 std::string{"UPDATE run SET engine = '9' WHERE number = 1"},
                 std::string{"UPDATE item SET path = 'x' WHERE run = 1"},
                 std::string{"UPDATE signature SET note = 'other'"},
                 std::string{"DELETE FROM content"},
                 std::string{"DELETE FROM entry WHERE number = 3"},
                 std::string{"DELETE FROM run WHERE number = 2"},
                 std::string{"DELETE FROM item WHERE run = 2"},
                 std::string{"DELETE FROM signature"},
                 std::string{"INSERT OR REPLACE INTO content SELECT sha256, 1, gzip FROM content"},
                 "INSERT OR REPLACE INTO entry VALUES (3, '" + zeros + "', " + x + ", 'now')",
                 "INSERT INTO entry VALUES (4, '" + zeros + "', " + x + ", 'now')",
                 "INSERT INTO entry SELECT 9, digest, " + x + ", 'now' FROM entry WHERE number = 3",
                 std::string{"INSERT OR REPLACE INTO run VALUES (1, 3, 'rank', '9')"},
                 std::string{"INSERT INTO run VALUES (3, 1, 'rank', '9')"},
                 std::string{"INSERT INTO item SELECT 1, 'more', sha256 FROM content LIMIT 1"},
                 std::string{"INSERT OR REPLACE INTO item SELECT 2, 'options.json', sha256 FROM "
                             "content LIMIT 1"},
                 std::string{"INSERT INTO signature VALUES (3, 2, 'n', 'r', 't')"},
                 std::string{"INSERT OR REPLACE INTO signature VALUES (2, 1, 'n', 'r', 't')"},
             }) {
            CAPTURE(statement);
            CHECK_THROWS_AS(database.exec(statement), SQLite::Exception);
        }
    }
    CHECK(all_it_says(file) == before);
    CHECK(check_content(file).report.ok());
}

// Who drops the triggers can change rows; the digests show it.
void check_shown(const std::string& drop, const std::string& change) {
    const TempFolder folder;
    const auto file = made_ledger(folder, 2);
    REQUIRE(check_content(file).report.ok());
    SQLite::Database database{file.string(), SQLite::OPEN_READWRITE};
    SQLite::Statement trigger{database, "SELECT sql FROM sqlite_schema WHERE name = ?"};
    trigger.bind(1, drop);
    REQUIRE(trigger.executeStep());
    const std::string sql = trigger.getColumn(0).getString();
    trigger.reset();
    database.exec("DROP TRIGGER " + drop);
    CHECK_FALSE(check_content(file).report.ok());
    CHECK(database.exec(change) > 0);
    database.exec(sql);
    CAPTURE(change);
    CHECK_FALSE(check_content(file).report.ok());
}

TEST_CASE("a change past the triggers is found") {
    check_shown("entry_stays", "UPDATE entry SET at = '2031-01-01T00:00:00Z' WHERE number = 1");
    check_shown("run_stays", "UPDATE run SET engine = '9' WHERE number = 1");
    check_shown("item_stays", "UPDATE item SET path = 'plant/x' WHERE path = 'plant/plant.yaml'");
    check_shown("item_remains", "DELETE FROM item WHERE path = 'options.json' AND run = 2");
    check_shown("item_follows", "INSERT INTO item SELECT 1, 'more', sha256 FROM content LIMIT 1");
    check_shown("signature_stays", "UPDATE signature SET note = 'something else'");
    check_shown("signature_remains", "DELETE FROM signature");
    check_shown("content_stays", "UPDATE content SET bytes = bytes + 1");
    check_shown("content_stays", "UPDATE content SET gzip = substr(gzip, 1, 20)");
    check_shown("content_once",
                "INSERT INTO content VALUES ('" + std::string(64, 'a') + "', 0, x'00')");
}

// Changes rows as one who knows how digests are made; the triggers are put back afterwards.
template <class Change>
void past_triggers(const std::filesystem::path& file, const std::vector<std::string>& triggers,
                   const Change& change) {
    SQLite::Database database{file.string(), SQLite::OPEN_READWRITE};
    std::vector<std::string> made;
    for (const std::string& name : triggers) {
        SQLite::Statement sql{database, "SELECT sql FROM sqlite_schema WHERE name = ?"};
        sql.bind(1, name);
        REQUIRE(sql.executeStep());
        made.push_back(sql.getColumn(0).getString());
    }
    for (const std::string& name : triggers) database.exec("DROP TRIGGER " + name);
    change(database);
    for (const std::string& sql : made) database.exec(sql);
}

void insert_content(SQLite::Database& database, const std::string& sha256,
                    const std::string& bytes) {
    const std::string packed = gzip_of(bytes);
    SQLite::Statement insert{database, "INSERT OR REPLACE INTO content VALUES (?, ?, ?)"};
    insert.bind(1, sha256);
    insert.bind(2, static_cast<std::int64_t>(bytes.size()));
    insert.bind(3, packed.data(), static_cast<int>(packed.size()));
    insert.exec();
}

TEST_CASE("a run that is made up with a digest that fits breaks the chain behind it") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 3);
    RunEntry forged = Ledger::to_read(file).run(2);
    forged.engine = "9";
    past_triggers(file, {"run_stays", "entry_stays"}, [&](SQLite::Database& database) {
        database.exec("UPDATE run SET engine = '9' WHERE number = 2");
        database.exec("UPDATE entry SET digest = '" + sha256_of(manifest_of(forged)) +
                      "' WHERE number = " + std::to_string(forged.chain.entry));
    });
    const Report report = check_content(file).report;
    REQUIRE(report.errors() == 1);
    CHECK(report.diagnostics().front().subject == "entry 4");
    CHECK(report.diagnostics().front().found == "it is not chained to the entry before it");
}

TEST_CASE("content that is whole but not what its digest says, or of no run, is found") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 1);
    insert_content(*std::make_unique<SQLite::Database>(file.string(), SQLite::OPEN_READWRITE),
                   sha256_of("of no run"), "of no run");
    CHECK(check_content(file).report.errors() == 1);
    const TempFolder other;
    const auto second = made_ledger(other, 1);
    const std::string digest = sha256_of("name: Invented\n");
    past_triggers(second, {"content_once"}, [&](SQLite::Database& database) {
        database.exec("PRAGMA foreign_keys = OFF");
        insert_content(database, digest, "name: Otherwise");
    });
    const Report report = check_content(second).report;
    REQUIRE(report.errors() == 1);
    CHECK(report.diagnostics().front().found == "content that does not have its digest " + digest);
}

TEST_CASE("a run whose content or digest is not whole is not signed, nor followed") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 1);
    SQLite::Database database{file.string(), SQLite::OPEN_READWRITE};
    SQLite::Statement sql{database, "SELECT sql FROM sqlite_schema WHERE name = 'signature_stays'"};
    REQUIRE(sql.executeStep());
    const std::string trigger = sql.getColumn(0).getString();
    sql.reset();
    database.exec("DROP TRIGGER signature_stays");
    database.exec("UPDATE signature SET note = 'something else'");
    database.exec(trigger);
    Ledger ledger = Ledger::to_write(file);
    CHECK_THROWS_AS(ledger.store(small_run(9), some_time), LedgerFault);
    CHECK_THROWS_AS(ledger.sign({1, "B", "inspector", "fine"}, some_time), LedgerFault);
    CHECK(ledger.runs().size() == 1);
}

}  // namespace
}  // namespace lagline
