// Sharing work between threads.  Built with the thread sanitizer, which fails the program on a
// race.
#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "blocks/parallel.h"

namespace lagline {
namespace {

constexpr std::size_t rows = 10'007;  // a prime: the last block is never whole

TEST_CASE("every row is worked on once, however the work is cut up") {
    for (const std::size_t block_rows :
         {std::size_t{0}, std::size_t{1}, std::size_t{64}, rows, 2 * rows}) {
        for (const unsigned threads : {0U, 1U, 2U, 8U}) {
            CAPTURE(block_rows);
            CAPTURE(threads);
            std::vector<int> visits(rows, 0);  // plain: blocks must not overlap
            std::atomic<int> misplaced{0};
            for_each_block(rows, {.block_rows = block_rows, .threads = threads},
                           [&](std::size_t block, RowRange range) {
                               const std::size_t step = std::max<std::size_t>(1, block_rows);
                               if (range.begin != block * step) ++misplaced;
                               for (std::size_t i = range.begin; i < range.end; ++i) ++visits[i];
                           });
            CHECK(misplaced == 0);
            CHECK(visits == std::vector<int>(rows, 1));
        }
    }
}

TEST_CASE("no rows are no work") {
    int calls = 0;
    for_each_block(0, {.threads = 4}, [&](std::size_t, RowRange) { ++calls; });
    CHECK(calls == 0);
}

TEST_CASE("of several blocks that throw the earliest is told, and the others are worked on") {
    for (int round = 0; round < 20; ++round) {
        std::atomic<int> calls{0};
        std::string told;
        try {
            for_each_block(64, {.block_rows = 1, .threads = 8}, [&](std::size_t block, RowRange) {
                ++calls;
                std::this_thread::yield();  // so that several throw at once
                if (block >= 5) throw std::runtime_error("block " + std::to_string(block));
            });
        } catch (const std::runtime_error& failure) {
            told = failure.what();
        }
        CHECK(told == "block 5");
        CHECK(calls == 64);
    }
}

TEST_CASE("the counter can be watched from another thread and ends at the number of rows") {
    WorkCounter counter;
    std::atomic<bool> over{false};
    bool never_back = true;
    std::thread watcher([&] {
        std::size_t last = 0;
        while (!over) {
            const std::size_t done = counter.done;
            never_back = never_back && done >= last;
            last = done;
        }
    });
    for_each_block(rows, {.block_rows = 10, .threads = 4, .counter = &counter},
                   [](std::size_t, RowRange) {});
    over = true;
    watcher.join();
    CHECK(never_back);
    CHECK(counter.done == rows);
    CHECK(counter.total == rows);
}

}  // namespace
}  // namespace lagline
