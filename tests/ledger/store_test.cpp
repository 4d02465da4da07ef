#include <SQLiteCpp/SQLiteCpp.h>
#include <doctest/doctest.h>

#include <algorithm>

#include "ledger/sha256.h"
#include "ledger/verify.h"
#include "made_ledger.h"

namespace lagline {
namespace {

TEST_CASE("what is stored comes back byte for byte, in order of path") {
    const TempFolder folder;
    const auto file = folder.path() / ledger_name;
    const NewRun made = small_run(1);
    const RunEntry stored = Ledger::to_write(file).store(made, some_time);
    CHECK(stored.number == 1);
    CHECK(stored.chain.entry == 1);
    CHECK(stored.chain.previous == first_previous());
    const Ledger ledger = Ledger::to_read(file);
    auto expected = made.files;
    std::ranges::sort(expected, {}, &StoredFile::path);
    CHECK(ledger.files(ledger.run(1)) == expected);
    CHECK(ledger.files(ledger.run(1), "plant/").size() == 2);
    CHECK(folder.names() ==
          std::vector<std::string>{ledger_name, "lagline.db-shm", "lagline.db-wal"});
}

TEST_CASE("a closed ledger is one file") {
    const TempFolder folder;
    static_cast<void>(made_ledger(folder, 2));
    static_cast<void>(check_content(folder.path() / ledger_name));
    CHECK(folder.names() == std::vector<std::string>{ledger_name});
}

TEST_CASE("content that runs share is kept once") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 5);
    // Of five files of a run three are the same in each.
    CHECK(Ledger::to_read(file).content_size().pieces == 3 + 2 * 5);
    CHECK(check_content(file).report.ok());
}

TEST_CASE("runs and signatures are one chain, each with the digest of the one before") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 3);
    const Ledger ledger = Ledger::to_read(file);
    const auto chain = ledger.chain();
    REQUIRE(chain.size() == 4);
    CHECK(chain.front().previous == first_previous());
    for (std::size_t i = 1; i < chain.size(); ++i) CHECK(chain[i].previous == chain[i - 1].digest);
    const auto signatures = ledger.signatures();
    REQUIRE(signatures.size() == 1);
    CHECK(signatures.front().run_digest == ledger.run(1).chain.digest);
    CHECK(check_content(file).last_digest == chain.back().digest);
}

TEST_CASE("the digest of an entry is what sha256sum gives for the view `manifest`") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 2);
    for (const ChainLink& link : Ledger::to_read(file).chain()) {
        SQLite::Database database{file.string(), SQLite::OPEN_READONLY};
        SQLite::Statement query{database,
                                "SELECT text FROM manifest WHERE entry = ? ORDER BY line"};
        query.bind(1, link.entry);
        std::string lines;
        while (query.executeStep()) lines += query.getColumn(0).getString() + "\n";
        const auto written = folder.write("lines", lines).string();
        CHECK(shell("sha256sum < " + written).front().substr(0, 64) == link.digest);
    }
}

TEST_CASE("the same runs at the same times give the same digests") {
    const TempFolder a;
    const TempFolder b;
    CHECK(check_content(made_ledger(a, 3)).last_digest ==
          check_content(made_ledger(b, 3)).last_digest);
}

TEST_CASE("what cannot be stored is refused, and nothing of it is kept") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 1);
    const auto before = all_it_says(file);
    {
        Ledger ledger = Ledger::to_write(file);
        for (const auto* path : {"../x", "/x", "", "plant/segments.csv", "a\nb"}) {
            NewRun run = small_run(2);
            run.files.push_back({path, "bytes"});
            CAPTURE(path);
            CHECK_THROWS_AS(ledger.store(run, some_time), LedgerFault);
        }
        NewRun no_kind = small_run(2);
        no_kind.kind = "";
        CHECK_THROWS_AS(ledger.store(no_kind, some_time), LedgerFault);
        for (const NewSignature& bad :
             {NewSignature{1, "", "r", "n"}, NewSignature{1, "a", "", "n"},
              NewSignature{1, "a", "r", ""}, NewSignature{1, "a\nb", "r", "n"},
              NewSignature{2, "a", "r", "n"}}) {
            CHECK_THROWS_AS(ledger.sign(bad, some_time), LedgerFault);
        }
    }
    CHECK(all_it_says(file) == before);
}

TEST_CASE("a run that is not there is told with those that are") {
    const TempFolder folder;
    const Ledger ledger = Ledger::to_read(made_ledger(folder, 2));
    for (const std::int64_t number : {0, 3, -1}) {
        try {
            static_cast<void>(ledger.run(number));
            FAIL_CHECK("run " << number << " was found");
        } catch (const LedgerFault& fault) {
            CHECK(fault.diagnostic().problem == Problem::unknown_run);
            CHECK(fault.diagnostic().expected == "a run from 1 to 2");
        }
    }
}

}  // namespace
}  // namespace lagline
