// A ledger on a bad disk, or under a hand that changes bits of it.
#include <doctest/doctest.h>

#include <fstream>
#include <random>

#include "ledger/verify.h"
#include "made_ledger.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

void write_bytes(const std::filesystem::path& file, std::string_view bytes) {
    std::ofstream{file, std::ios::binary} << bytes;
}

TEST_CASE("every flipped bit is found, or changes nothing that the ledger says") {
    constexpr int flips = 1500;
    const TempFolder folder;
    const auto file = made_ledger(folder, 4);
    const std::string whole = file_text(file.string());
    const auto said = all_it_says(file);
    std::mt19937 random{20300408};
    std::uniform_int_distribution<std::size_t> any_bit{0, 8 * whole.size() - 1};
    int found = 0;
    for (int i = 0; i < flips; ++i) {
        const std::size_t bit = any_bit(random);
        std::string flipped = whole;
        flipped[bit / 8] = static_cast<char>(flipped[bit / 8] ^ (1 << (bit % 8)));
        write_bytes(file, flipped);
        if (!check_content(file).report.ok()) {
            ++found;
            continue;
        }
        CAPTURE(bit);
        const bool same = all_it_says(file) == said;
        CHECK(same);
    }
    MESSAGE(found << " of " << flips << " flips found in " << whole.size()
                  << " bytes; the rest lie in bytes that hold nothing");
    CHECK(found > flips / 4);  // small files leave much of their pages empty
}

// Every bit of every place where `text` stands in the file.
std::vector<std::size_t> bits_of(const std::string& file, const std::string& text) {
    std::vector<std::size_t> bits;
    for (auto at = file.find(text); at != file.npos; at = file.find(text, at + 1)) {
        for (std::size_t bit = 8 * at; bit < 8 * (at + text.size()); ++bit) bits.push_back(bit);
    }
    return bits;
}

TEST_CASE("no bit of a name, a note, a time, a digest, a path or a trigger flips unseen") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 2);
    const std::string whole = file_text(file.string());
    const auto said = all_it_says(file);
    const ChainLink first = Ledger::to_read(file).chain().front();
    for (const std::string& text :
         {std::string{"A. Engineer"}, std::string{"looked at"}, some_time, first.digest,
          std::string{"plant/segments.csv"}, std::string{"BEFORE DELETE ON item"}}) {
        CAPTURE(text);
        int found = 0;
        for (const std::size_t bit : bits_of(whole, text)) {
            std::string flipped = whole;
            flipped[bit / 8] = static_cast<char>(flipped[bit / 8] ^ (1 << (bit % 8)));
            write_bytes(file, flipped);
            if (!check_content(file).report.ok()) {
                ++found;
            } else {
                // A copy that a page has left behind as it was filled.
                const bool same = all_it_says(file) == said;
                CHECK(same);
            }
        }
        CHECK(found >= static_cast<int>(8 * text.size()));
    }
}

TEST_CASE("a flipped bit never makes a store lose an earlier run in silence") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 3);
    const std::string whole = file_text(file.string());
    std::mt19937 random{7};
    std::uniform_int_distribution<std::size_t> any_bit{0, 8 * whole.size() - 1};
    for (int i = 0; i < 200; ++i) {
        const std::size_t bit = any_bit(random);
        std::string flipped = whole;
        flipped[bit / 8] = static_cast<char>(flipped[bit / 8] ^ (1 << (bit % 8)));
        write_bytes(file, flipped);
        try {
            const RunEntry stored = Ledger::to_write(file).store(small_run(9), some_time);
            CHECK(stored.number == 4);
            CHECK(Ledger::to_read(file).runs().size() == 4);
        } catch (const LedgerFault& fault) {
            CHECK_FALSE(fault.diagnostic().mend.empty());
        }
        for (const auto* beside : {"lagline.db-wal", "lagline.db-shm"}) {
            std::filesystem::remove(folder.path() / beside);
        }
    }
}

TEST_CASE("a ledger that was cut is refused at every length, and is left as it is") {
    const TempFolder folder;
    const auto file = made_ledger(folder, 3);
    const std::string whole = file_text(file.string());
    std::vector<std::size_t> lengths{0, 1, 15, 16, 99, 100, 101, 511, 512, 4095, 4096, 4097};
    for (std::size_t length = 8192; length < whole.size(); length += 4096)
        lengths.push_back(length);
    lengths.push_back(whole.size() - 1);
    for (const std::size_t length : lengths) {
        CAPTURE(length);
        const std::string cut = whole.substr(0, length);
        write_bytes(file, cut);
        const ContentCheck check = check_content(file);
        REQUIRE(check.report.errors() > 0);
        CHECK(check.report.diagnostics().front().problem == Problem::ledger_damaged);
        if (length == 0) CHECK(check.report.diagnostics().front().found == "an empty file");
        CHECK_THROWS_AS(Ledger::to_write(file).store(small_run(9), some_time), LedgerFault);
        const bool as_it_was = file_text(file.string()) == cut;
        CHECK(as_it_was);
    }
}

TEST_CASE("a file of something else is not taken for a ledger") {
    const TempFolder folder;
    for (const std::string& bytes : {std::string{"segment,line\n"}, std::string(8192, '\0')}) {
        const auto file = folder.write(ledger_name, bytes);
        CHECK_FALSE(check_content(file).report.ok());
        CHECK_THROWS_AS(static_cast<void>(Ledger::to_write(file)), LedgerFault);
        CHECK(file_text(file.string()) == bytes);
    }
    CHECK_THROWS_AS(static_cast<void>(Ledger::to_read(folder.path() / "none.db")), LedgerFault);
    CHECK_THROWS_AS(static_cast<void>(Ledger::to_read(folder.path())), LedgerFault);
}

}  // namespace
}  // namespace lagline
