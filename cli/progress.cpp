#include "cli/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <utility>

#include "cli/files.hpp"

namespace benchfeed::cli {

namespace {
constexpr auto patience = std::chrono::milliseconds(500);  // of whoever sits before a terminal
}

Progress::Progress(std::size_t count)
    : count_(count),
      terminal_(isatty(STDERR_FILENO) != 0),
      next_(Clock::now() + (terminal_ ? patience : pause_)) {}

void Progress::at(std::size_t done) {
    const auto now = Clock::now();
    if (now < next_ || done == count_ || count_ < 2) return;
    print_error(fmt::format("{}benchfeed: {} of {} plans{}", terminal_ ? "\r" : "", done, count_,
                            terminal_ ? "" : "\n"));
    shown_ = true;
    if (!terminal_) pause_ *= 2;
    next_ = now + (terminal_ ? std::chrono::milliseconds(200) : pause_);
}

void Progress::finish() const {
    if (terminal_ && shown_) print_error("\r\033[K");
}

Busy::Busy(std::string what) : what_(std::move(what)) {
    if (isatty(STDERR_FILENO) != 0) thread_ = std::thread([this] { wait(); });
}

void Busy::wait() {
    std::unique_lock lock(mutex_);
    if (done_.wait_for(lock, patience, [this] { return over_; })) return;
    shown_ = true;
    print_error("benchfeed: " + what_ + " ...");
}

Busy::~Busy() {
    if (!thread_.joinable()) return;
    {
        const std::lock_guard lock(mutex_);
        over_ = true;
    }
    done_.notify_one();
    thread_.join();
    if (shown_) print_error("\r\033[K");
}

}  // namespace benchfeed::cli
