// Time of `together` as benches grow: loads of unlike amps on one plug, many small ones, a cord so long that
// volts decide, three lines with a shared neutral.
#include <fmt/format.h>

#include <functional>

#include <benchfeed/advice/together.hpp>
#include <benchfeed/check.hpp>
#include "loads.hpp"

using namespace benchfeed;
using namespace benchfeed::bench;

int main() {
    const tables::Catalogue catalogue;
    fmt::print(
        "| bench | loads | check | together | largest | forbidden | ended at its bound "
        "|\n|---|---|---|---|---|---|---|\n");
    const std::pair<const char*, std::function<std::string(int)>> benches[] = {
        {"unlike amps, one plug", [](int n) { return unlike(n, "2.5 mm2", 5); }},
        {"thin cord of 40 m", [](int n) { return unlike(n, "1.5 mm2", 40); }},
        {"many small loads", small},
        {"lags known", phasors},
        {"small, some lags known", mixed_factors},
        {"nearly full, small lags", nearly_full},
        {"three lines", three_lines},
        {"slowest that a search found", slowest_found},
    };
    for (const auto& [name, make] : benches)
        for (const int count : {15, 30, 60, 250, 1000}) {
            const text::Document document("plan.toml", make(count));
            auto result = check(document, catalogue);
            if (auto* problems = std::get_if<Diagnostics>(&result)) {
                fmt::print("{}: {}\n", name, problems->front().message);
                return 1;
            }
            const Judged& judged = std::get<Judged>(result);
            advice::TogetherAnswer answer;
            const double whole = time_of([&] { (void)check(document, catalogue); });
            const double own =
                time_of([&] { answer = advice::together(judged.situation(), judged.judgement()); });
            fmt::print("| {} | {} | {:.3f} s | {:.3f} s | {}{} | {}{} | {} |\n", name, count, whole, own,
                       answer.largest.sets.size(), answer.largest.more ? "+" : "",
                       answer.forbidden.sets.size(), answer.forbidden.more ? "+" : "",
                       answer.largest.stopped || answer.forbidden.stopped ? "yes" : "no");
        }
}
