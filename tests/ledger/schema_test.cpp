#include "ledger/schema.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <doctest/doctest.h>

#include <vector>

#include "ledger/verify.h"
#include "made_ledger.h"

namespace lagline {
namespace {

TEST_CASE("an empty file becomes a ledger of today's version, once") {
    SQLite::Database database{":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
    CHECK(ledger_version(database) == 0);
    CHECK_FALSE(has_schema_of(database, ledger_migrations()));
    for (int times = 0; times < 2; ++times) {
        migrate(database, ledger_migrations());
        CHECK(ledger_version(database) == static_cast<int>(ledger_migrations().size()));
        CHECK(has_schema_of(database, ledger_migrations()));
    }
}

TEST_CASE("every table is STRICT and every reference is one of SQLite") {
    SQLite::Database database{":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
    migrate(database, ledger_migrations());
    CHECK(database
              .execAndGet("SELECT count(*) FROM pragma_table_list "
                          "WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND strict = 1")
              .getInt() == 5);
    CHECK(database
              .execAndGet("SELECT count(*) FROM pragma_table_list "
                          "WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND strict = 0")
              .getInt() == 0);
}

// A step as a later version may have it: it adds, and touches no row.
std::vector<std::string_view> steps_with_one_more() {
    std::vector<std::string_view> steps{ledger_migrations().begin(), ledger_migrations().end()};
    steps.emplace_back(
        "CREATE TABLE remark (entry INTEGER NOT NULL PRIMARY KEY, text TEXT) STRICT;");
    return steps;
}

TEST_CASE("a ledger with runs goes up one version and keeps every row and digest") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 3);
    const auto before = Ledger::to_read(file).runs();
    {
        SQLite::Database database{file.string(), SQLite::OPEN_READWRITE};
        migrate(database, steps_with_one_more());
        CHECK(ledger_version(database) == static_cast<int>(ledger_migrations().size()) + 1);
        CHECK(has_schema_of(database, steps_with_one_more()));
        CHECK_FALSE(has_schema_of(database, ledger_migrations()));
        for (std::size_t i = 0; i < before.size(); ++i) {
            SQLite::Statement digest{database, "SELECT digest FROM entry WHERE number = ?"};
            digest.bind(1, before[i].chain.entry);
            REQUIRE(digest.executeStep());
            CHECK(digest.getColumn(0).getString() == before[i].chain.digest);
        }
    }
    // This version does not know that one, and says so rather than guess.
    const ContentCheck check = check_content(file);
    REQUIRE(check.report.errors() == 1);
    CHECK(check.report.diagnostics().front().problem == Problem::newer_format);
    CHECK_THROWS_AS(static_cast<void>(Ledger::to_write(file)), LedgerFault);
}

TEST_CASE("a step that fails leaves the ledger at the version it had") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 1);
    auto steps = steps_with_one_more();
    steps.emplace_back("CREATE TABLE remark (again TEXT) STRICT;");
    {
        SQLite::Database database{file.string(), SQLite::OPEN_READWRITE};
        CHECK_THROWS_AS(migrate(database, steps), SQLite::Exception);
    }
    CHECK(check_content(file).report.ok());
}

}  // namespace
}  // namespace lagline
