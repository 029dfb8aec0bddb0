// Time of a check for each element as plans grow: benches of five elements on one supply that can feed them
// all: a set whose volts collapse is another question, and a slow one.
#include <fmt/format.h>

#include <algorithm>
#include <ctime>
#include <string>

#include <benchfeed/check.hpp>
#include <benchfeed/report/check_text.hpp>

using namespace benchfeed;

namespace {

std::string plan_of(int benches) {
    std::string plan =
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 V\"\n"
        "earthing = \"TN-S\"\nloop_impedance = \"0.006 ohm\"\nline_impedance = \"0.005 ohm\"\n"
        "fault_current = \"50 kA\"\n[stock.run]\ntype = \"H05VV-F\"\nsection = \"1.5 mm2\"\ncores = 3\n";
    for (int i = 0; i < benches; ++i)
        plan += fmt::format(
            "[device.d{0}]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\ncurve = \"C\"\nrating = \"16 "
            "A\"\n"
            "residual = {{ trip = \"30 mA\", wave = \"A\" }}\n[outlet.wall{0}]\nfrom = \"device.d{0}\"\n"
            "pattern = \"CEE 7/3\"\nearth = \"tested\"\n[box.b{0}]\nfrom = \"outlet.wall{0}\"\n"
            "plug = \"CEE 7/7\"\ncable = {{ stock = \"run\", length = \"3 m\" }}\n[outlet.o{0}]\n"
            "from = \"box.b{0}\"\npattern = \"CEE 7/3\"\nearth = \"tested\"\n[load.l{0}]\nfrom = "
            "\"outlet.o{0}\"\n"
            "motor = \"none\"\nlatched = false\nplate = {{ current = \"4 A\", voltage = \"230 V\" }}\n",
            i);
    constexpr int most_loads =
        200;  // of a set, at every size but the smallest: the drop of each depends on all
    for (int first = 0; first < benches; first += most_loads) {
        std::string loads;
        for (int i = first; i < std::min(first + most_loads, benches); ++i)
            loads += fmt::format("  \"l{}\",\n", i);
        plan += fmt::format("[[together]]\nname = \"set{}\"\nloads = [\n{}]\n", first, loads);
    }
    return plan;
}

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

}  // namespace

int main() {
    const double few = per_element(20), middle = per_element(200), many = per_element(2000),
                 most = per_element(20'000);
    fmt::print("check, time per element at 100 elements against 1 000|{:.2f}|1.5\n", few / middle);
    fmt::print("check, time per element at 10 000 elements against 1 000|{:.2f}|1.5\n", many / middle);
    fmt::print("check, time per element at 100 000 elements against 1 000|{:.2f}|1.5\n", most / middle);
    fmt::print("check and report, time per element at 10 000 elements against 1 000|{:.2f}|1.5\n",
               per_element(2000, true) / per_element(200, true));
}
