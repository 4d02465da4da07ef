#include "ledger/gzip.h"

#include <doctest/doctest.h>

#include "made_ledger.h"
#include "support/csv_records.h"

namespace lagline {
namespace {

TEST_CASE("what is packed is unpacked again, and gunzip reads it") {
    const TempFolder folder;
    for (const std::size_t size : {0U, 1U, 65'535U, 65'536U, 65'537U, 1'000'000U}) {
        for (const std::string& bytes : {noise(size, 1), std::string(size, 'x')}) {
            const std::string member = gzip_of(bytes);
            const bool same = unzipped(member, size) == bytes;
            CHECK(same);
            const auto file = folder.write("a.gz", member).string();
            CHECK(shell("gunzip < " + file + " > " + file + ".out").empty());
            const bool same_out = file_text(file + ".out") == bytes;
            CHECK(same_out);
        }
    }
}

TEST_CASE("large contents are several members, each of which must be whole") {
    const TempFolder folder;
    const std::string bytes = noise(9'000'000, 3) + std::string(9'000'000, 'x');
    const std::string members = gzip_of(bytes);
    CHECK(unzipped(members, bytes.size()) == bytes);
    const auto file = folder.write("a.gz", members).string();
    CHECK(shell("gunzip < " + file + " > " + file + ".out").empty());
    const bool same_out = file_text(file + ".out") == bytes;
    CHECK(same_out);
    constexpr std::string_view head{"\x1f\x8b\x08\0\0\0\0\0\0\x03", 10};
    const std::size_t second = members.find(head, 1);
    REQUIRE(second != std::string::npos);
    const std::string_view all = members;
    CHECK_FALSE(unzipped(all.substr(0, second), bytes.size()));
    CHECK_FALSE(unzipped(all.substr(second), bytes.size()));
    CHECK_FALSE(unzipped(all.substr(0, all.size() - 1), bytes.size()));
    CHECK_FALSE(unzipped(members + "x", bytes.size()));
    CHECK_FALSE(unzipped(members + gzip_of("x"), bytes.size()));
    CHECK_FALSE(unzipped(members, bytes.size() - 1));
    std::string other_head = members;
    other_head[second + 4] = 1;  // a time
    CHECK_FALSE(unzipped(other_head, bytes.size()));
}

TEST_CASE("a wrong size, a cut or a longer member is refused") {
    const std::string bytes(100'000, 'x');
    const std::string member = gzip_of(bytes);
    CHECK_FALSE(unzipped(member, bytes.size() - 1));
    CHECK_FALSE(unzipped(member, bytes.size() + 1));
    CHECK_FALSE(unzipped(member, 0));
    CHECK_FALSE(unzipped(member + "x", bytes.size()));
    CHECK_FALSE(unzipped(member + member, bytes.size()));
    for (std::size_t length = 0; length < member.size(); ++length) {
        CHECK_FALSE(unzipped(std::string_view{member}.substr(0, length), bytes.size()));
    }
}

TEST_CASE("a flipped bit is seen, or does not change a byte of the content") {
    const std::string bytes = noise(300, 7) + std::string(300, 'y');
    const std::string member = gzip_of(bytes);
    std::size_t unseen = 0;
    for (std::size_t bit = 0; bit < 8 * member.size(); ++bit) {
        std::string flipped = member;
        flipped[bit / 8] = static_cast<char>(flipped[bit / 8] ^ (1 << (bit % 8)));
        const auto out = unzipped(flipped, bytes.size());
        if (!out) continue;
        ++unseen;
        CHECK(*out == bytes);
    }
    CHECK(unseen <
          16);  // only what fills up the last byte of a block that is not compressed, and of all
}

}  // namespace
}  // namespace lagline
