#include "blocks/parallel.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace lagline {
namespace {

class FirstFailure {
  public:
    void keep(std::size_t block, std::exception_ptr failure) {
        const std::lock_guard lock{mutex_};
        if (failure_ && block_ < block) return;
        block_ = block;
        failure_ = std::move(failure);
    }
    void rethrow() const {
        if (failure_) std::rethrow_exception(failure_);
    }

  private:
    std::mutex mutex_;
    std::size_t block_ = 0;
    std::exception_ptr failure_;
};

}  // namespace

void for_each_block(std::size_t rows, const WorkPlan& plan,
                    const std::function<void(std::size_t, RowRange)>& work) {
    const std::size_t step = std::max<std::size_t>(1, plan.block_rows);
    const std::size_t blocks = (rows + step - 1) / step;
    if (plan.counter != nullptr) {
        plan.counter->done = 0;
        plan.counter->total = rows;
    }
    std::atomic<std::size_t> next{0};
    FirstFailure failure;
    const auto take_blocks = [&] {
        for (std::size_t block = next++; block < blocks; block = next++) {
            const RowRange range{block * step, std::min(rows, (block + 1) * step)};
            try {
                work(block, range);
            } catch (...) {
                failure.keep(block, std::current_exception());
            }
            if (plan.counter != nullptr) plan.counter->done += range.size();
        }
    };
    const unsigned wanted =
        plan.threads != 0 ? plan.threads : std::max(1U, std::thread::hardware_concurrency());
    const std::size_t helpers = std::min<std::size_t>(wanted, blocks);
    std::vector<std::jthread> team;
    for (std::size_t i = 1; i < helpers; ++i) team.emplace_back(take_blocks);
    take_blocks();
    team.clear();  // joins
    failure.rethrow();
}

}  // namespace lagline
