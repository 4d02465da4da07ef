#pragma once

#include <condition_variable>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

#include "blocks/parallel.h"

namespace lagline::cli {

/// Shows on standard error how far a long step has come, once it has taken a second, and only on a
/// terminal; gone again when it ends.
class Progress {
  public:
    explicit Progress(std::string what);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    /// Counts the rows of work done under a plan.
    [[nodiscard]] WorkCounter* counter() { return &counter_; }

  private:
    void draw_until_done();

    std::string what_;
    WorkCounter counter_;
    std::mutex mutex_;
    std::condition_variable ended_;
    bool done_ = false;
    std::thread drawer_;
};

}  // namespace lagline::cli
