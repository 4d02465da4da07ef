#pragma once

#include <memory>
#include <mutex>
#include <utility>
#include <vector>

namespace lagline {

/// Lends out objects that are costly to make, so that each thread has one of its own.
template <class Object>
class Pool {
  public:
    template <class Make>
    std::unique_ptr<Object> take(Make make) {
        {
            const std::lock_guard lock{mutex_};
            if (!idle_.empty()) {
                auto object = std::move(idle_.back());
                idle_.pop_back();
                return object;
            }
        }
        return make();
    }
    void give_back(std::unique_ptr<Object> object) {
        const std::lock_guard lock{mutex_};
        idle_.push_back(std::move(object));
    }

  private:
    std::mutex mutex_;
    std::vector<std::unique_ptr<Object>> idle_;
};

}  // namespace lagline
