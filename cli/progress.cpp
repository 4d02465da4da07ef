#include "cli/progress.h"

#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <iostream>

namespace lagline::cli {
namespace {

constexpr auto patience = std::chrono::seconds{1};
constexpr auto beat = std::chrono::milliseconds{150};
constexpr std::size_t bar_width = 30;

std::string bar(std::size_t done, std::size_t total) {
    const std::size_t filled = total == 0 ? 0 : std::min(bar_width, bar_width * done / total);
    std::string text = "[";
    for (std::size_t i = 0; i < bar_width; ++i) text += i < filled ? "#" : ".";
    return text + "]";
}

}  // namespace

Progress::Progress(std::string what) : what_(std::move(what)) {
    if (::isatty(STDERR_FILENO) != 0) drawer_ = std::thread{[this] { draw_until_done(); }};
}

Progress::~Progress() {
    {
        const std::lock_guard lock{mutex_};
        done_ = true;
    }
    ended_.notify_all();
    if (drawer_.joinable()) drawer_.join();
}

void Progress::draw_until_done() {
    std::unique_lock lock{mutex_};
    if (ended_.wait_for(lock, patience, [this] { return done_; })) return;
    while (!ended_.wait_for(lock, beat, [this] { return done_; })) {
        std::cerr << "\r" << what_ << " " << bar(counter_.done, counter_.total) << " "
                  << counter_.done << " of " << counter_.total << " rows " << std::flush;
    }
    std::cerr << "\r\x1b[K" << std::flush;
}

}  // namespace lagline::cli
