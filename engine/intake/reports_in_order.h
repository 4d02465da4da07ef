#pragma once

#include <atomic>
#include <cstddef>
#include <map>
#include <mutex>
#include <utility>

#include "diagnostics/diagnostic.h"

namespace lagline {

/// Puts together the reports of blocks that several threads work on, in the order of the blocks.
class ReportsInOrder {
  public:
    explicit ReportsInOrder(Report& into) : into_(into) {}

    /// True when all further findings would only be counted.
    [[nodiscard]] bool full() const { return full_; }

    /// Each block once, from 0 on, in any order.
    void add(std::size_t block, Report report) {
        const std::lock_guard lock{mutex_};
        waiting_.emplace(block, std::move(report));
        while (!waiting_.empty() && waiting_.begin()->first == next_) {
            into_.merge(std::move(waiting_.begin()->second));
            waiting_.erase(waiting_.begin());
            ++next_;
        }
        full_ = into_.full();
    }

  private:
    Report& into_;
    std::mutex mutex_;
    std::map<std::size_t, Report> waiting_;
    std::size_t next_ = 0;
    std::atomic<bool> full_{false};
};

}  // namespace lagline
