#pragma once
// How far a long run has come, on standard error.
#include <chrono>
#include <condition_variable>
#include <cstddef>
#include <mutex>
#include <string>
#include <thread>

namespace benchfeed::cli {

/// Says nothing in the first second, half of it on a terminal. There one line is rewritten; in a log the
/// lines get rarer.
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
    Clock::duration pause_ = std::chrono::seconds(1);  ///< in a log
    Clock::time_point next_;
};

/// While it lives a terminal says what takes so long, from half a second on; the line goes when it dies.
class Busy {
public:
    /// `what`: "looking for sizes".
    explicit Busy(std::string what);
    ~Busy();
    Busy(const Busy&) = delete;
    Busy& operator=(const Busy&) = delete;
    Busy(Busy&&) = delete;
    Busy& operator=(Busy&&) = delete;

private:
    void wait();
    std::string what_;
    std::mutex mutex_;
    std::condition_variable done_;
    bool over_ = false, shown_ = false;
    std::thread thread_;  ///< last: it uses the others
};

}  // namespace benchfeed::cli
