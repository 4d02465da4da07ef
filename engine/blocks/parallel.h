#pragma once

#include <atomic>
#include <cstddef>
#include <functional>

namespace lagline {

/// Rows [begin, end).
struct RowRange {
    std::size_t begin = 0;
    std::size_t end = 0;
    [[nodiscard]] std::size_t size() const { return end - begin; }
};

/// How far work has come, for whoever watches it from another thread.
struct WorkCounter {
    std::atomic<std::size_t> done{0};   ///< rows
    std::atomic<std::size_t> total{0};  ///< rows
};

/// How work over many rows is cut up.  Results never depend on it.
struct WorkPlan {
    std::size_t block_rows = 1024;   ///< at least 1
    unsigned threads = 0;            ///< 0: as many as the machine has cores
    WorkCounter* counter = nullptr;  ///< counts rows as they are done, when there is one
};

/// Calls `work(block number, rows)` for every block of `rows` rows; blocks are handed out in
/// order to `plan.threads` threads.  Returns when all are done; the exception of the earliest block
/// that threw is thrown again here.
void for_each_block(std::size_t rows, const WorkPlan& plan,
                    const std::function<void(std::size_t, RowRange)>& work);

}  // namespace lagline
