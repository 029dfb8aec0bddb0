#pragma once
// How far a long run has come, on standard error.
#include <chrono>
#include <cstddef>

namespace benchfeed::cli {

/// Says nothing in the first second. On a terminal one line is rewritten; in a log the lines get rarer.
class Progress {
public:
    explicit Progress(std::size_t count);
    void at(std::size_t done);
    void finish() const;  ///< takes the line off the terminal

private:
    using Clock = std::chrono::steady_clock;
    std::size_t count_;
    bool terminal_;
    bool shown_ = false;
    Clock::duration pause_ = std::chrono::seconds(1);
    Clock::time_point next_;
};

}  // namespace benchfeed::cli
