#include "cli/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include "cli/files.hpp"

namespace benchfeed::cli {

Progress::Progress(std::size_t count)
    : count_(count), terminal_(isatty(STDERR_FILENO) != 0), next_(Clock::now() + pause_) {}

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

}  // namespace benchfeed::cli
