#pragma once
// Work on several threads, results in the order of the work.
#include <chrono>
#include <condition_variable>
#include <exception>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>
#include <vector>

namespace benchfeed::cli {

/// deliver(work(0)), deliver(work(1)), ... on this thread, while `jobs` threads work ahead.
///
/// At most a few results per thread wait to be delivered, so that memory does not grow with `count`.
/// `tick(done)` is called on this thread now and then, also while nothing can be delivered. What work()
/// throws is thrown here, and the rest is left undone.
template <class Result>
void in_order(std::size_t count, unsigned jobs, const std::function<Result(std::size_t)>& work,
              const std::function<void(Result&&)>& deliver, const std::function<void(std::size_t)>& tick) {
    if (jobs <= 1 || count <= 1) {
        for (std::size_t i = 0; i < count; ++i) {
            deliver(work(i));
            tick(i + 1);
        }
        return;
    }
    const std::size_t ahead = std::size_t{16} * jobs;
    std::mutex mutex;
    std::condition_variable made, room;
    std::vector<std::optional<Result>> waiting(ahead);  // result i stands at i modulo ahead
    std::size_t next = 0, delivered = 0;
    std::exception_ptr broken;
    const auto end = [&] {  // nobody begins anything new
        const std::lock_guard lock(mutex);
        next = count;
        room.notify_all();
    };
    const auto worker = [&] {
        for (;;) {
            std::size_t mine = 0;
            {
                std::unique_lock lock(mutex);
                room.wait(lock, [&] { return next >= count || next < delivered + ahead; });
                if (next >= count) return;
                mine = next++;
            }
            std::optional<Result> result;
            std::exception_ptr thrown;
            try {
                result.emplace(work(mine));
            } catch (...) {
                thrown = std::current_exception();
            }
            const std::lock_guard lock(mutex);
            if (thrown && !broken) broken = thrown;
            waiting[mine % ahead] = std::move(result);
            made.notify_one();
        }
    };
    std::vector<std::jthread> threads;
    const std::unique_ptr<const decltype(end), void (*)(const decltype(end)*)> leaving(
        &end, [](const decltype(end)* leave) { (*leave)(); });  // before the threads are waited for
    for (unsigned i = 0; i < jobs; ++i) threads.emplace_back(worker);
    for (std::size_t i = 0; i < count; ++i) {
        std::optional<Result> result;
        while (!result) {
            std::unique_lock lock(mutex);
            made.wait_for(lock, std::chrono::milliseconds(100),
                          [&] { return broken || waiting[i % ahead].has_value(); });
            if (broken) std::rethrow_exception(broken);
            result.swap(waiting[i % ahead]);
            if (result) ++delivered;
            lock.unlock();
            if (!result) tick(i);
        }
        room.notify_all();
        deliver(std::move(*result));
        tick(i + 1);
    }
}

}  // namespace benchfeed::cli
