// Time of a check for each element as plans grow: benches of five elements on one supply that can feed them
// all: a set whose volts collapse is another question, and a slow one.
#include <fmt/format.h>

#include <algorithm>
#include <ctime>
#include <string>

#include <benchfeed/check.hpp>
#include <benchfeed/report/check_text.hpp>
#include "large_plan.hpp"

using namespace benchfeed;
using bench::plan_of;

namespace {

/// Seconds of the processor for each element, the best of a few rounds.
double per_element(int benches, bool reported = false) {
    const tables::Catalogue catalogue;
    const text::Document document("plan.toml", plan_of(benches));
    double best = 0;
    for (int round = 0; round < (benches > 500 ? 2 : 5); ++round) {
        const std::clock_t start = std::clock();
        const auto result = check(document, catalogue);
        if (const auto* judged = std::get_if<Judged>(&result); judged && reported)
            (void)report::check_text(document, judged->situation(), judged->judgement(), {.width = 80});
        const double seconds = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
        if (std::holds_alternative<Diagnostics>(result)) {
            fmt::print(stderr, "{}\n", std::get<Diagnostics>(result).front().message);
            std::exit(2);
        }
        if (round == 0 || seconds < best) best = seconds;
    }
    return best / (5.0 * benches);
}

/// Seconds of the processor to check motors in sets of a hundred, for each of them.
double per_motor(int motors) {
    const tables::Catalogue catalogue;
    const text::Document document("plan.toml", bench::motors_in_sets(motors, 100));
    double best = 0;
    for (int round = 0; round < 3; ++round) {
        const std::clock_t start = std::clock();
        const auto result = check(document, catalogue);
        const double seconds = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
        if (!std::holds_alternative<Judged>(result)) std::exit(2);
        if (round == 0 || seconds < best) best = seconds;
    }
    return best / motors;
}

}  // namespace

int main() {
    const double few = per_element(20), middle = per_element(200), many = per_element(2000),
                 most = per_element(20'000);
    fmt::print("check, time per element at 100 elements against 1 000|{:.2f}|1.5\n", few / middle);
    fmt::print("check, time per element at 10 000 elements against 1 000|{:.2f}|1.5\n", many / middle);
    fmt::print("check, time per element at 100 000 elements against 1 000|{:.2f}|1.5\n", most / middle);
    fmt::print("check and report, time per element at 10 000 elements against 1 000|{:.2f}|1.5\n",
               per_element(2000, true) / per_element(200, true));
    fmt::print("check, motors in sets of 100, time per motor at 400 sets against 40|{:.2f}|1.5\n",
               per_motor(40'000) / per_motor(4'000));
}
