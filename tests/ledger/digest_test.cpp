// Digests, and what is hashed.
#include <doctest/doctest.h>

#include "ledger/entry.h"
#include "ledger/sha256.h"
#include "made_ledger.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

TEST_CASE("sha256_of reproduces the examples of FIPS 180-4 (NIST, SHA256.pdf)") {
    CHECK(sha256_of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256_of("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(sha256_of(std::string(1'000'000, 'a')) ==
          "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("sha256_of agrees with sha256sum of coreutils") {
    const TempFolder folder;
    for (const std::size_t size : {0U, 1U, 55U, 56U, 64U, 65536U}) {
        const std::string bytes = noise(size, static_cast<int>(size));
        const auto file = folder.write("bytes", bytes).string();
        CHECK(shell("sha256sum < " + file).front().substr(0, 64) == sha256_of(bytes));
    }
}

TEST_CASE("the manifest of a run, to the letter") {
    const RunEntry run{{2, std::string(64, 'a'), some_time, {}},
                       1,
                       "rank",
                       "0.1.0",
                       {{"options.json", std::string(64, 'b')}}};
    CHECK(manifest_of(run) == "lagline ledger 1\nentry 2\nprevious " + std::string(64, 'a') +
                                  "\nat 2030-04-08T09:30:00Z\nrun 1\nkind rank\nengine 0.1.0\n" +
                                  std::string(64, 'b') + "  options.json\n");
}

TEST_CASE("the manifest of a signature, to the letter") {
    const SignatureEntry signature{{3, std::string(64, 'c'), some_time, {}},
                                   1,
                                   std::string(64, 'd'),
                                   "A. Engineer",
                                   "inspector",
                                   "seen"};
    CHECK(manifest_of(signature) == "lagline ledger 1\nentry 3\nprevious " + std::string(64, 'c') +
                                        "\nat 2030-04-08T09:30:00Z\nsigns run 1\ndigest " +
                                        std::string(64, 'd') +
                                        "\nname A. Engineer\nrole inspector\nnote seen\n");
}

TEST_CASE("text that would not stand in one line is told, and paths that lead elsewhere") {
    CHECK(fits_a_line("gr\xC3\xBC\xC3\x9F"));
    for (const auto* bad : {"two\nlines", "a\ttab", "\x7F", "\xFF"}) CHECK_FALSE(fits_a_line(bad));
    CHECK(is_plain_path("plant/rules/site.yaml"));
    for (const auto* bad : {"", "/etc/x", "a//b", "a/", "../x", "a/../x", "a/.", "a\n"}) {
        CAPTURE(bad);
        CHECK_FALSE(is_plain_path(bad));
    }
}

}  // namespace
}  // namespace lagline
