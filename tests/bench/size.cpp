// Time of `size` as benches grow: every run a stock of its own, runs that share a few stocks, runs behind
// boxes in a chain.
#include <fmt/format.h>

#include <chrono>

#include <benchfeed/advice/size.hpp>
#include <benchfeed/check.hpp>
#include "loads.hpp"

using namespace benchfeed;
using namespace benchfeed::bench;

namespace {

/// So many cables: a cord, boxes in a chain if wanted, and runs.
std::string cables_of(int cables, int stocks, int chain) {
    test::BenchDice random(static_cast<unsigned>(cables));
    std::string plan =
        "format = 1\n[plan]\nregion = \"EU\"\nmounting = \"mobile\"\n[supply.s]\nsystem = \"230 "
        "V\"\nearthing = \"TN-S\"\n"
        "loop_impedance = \"0.4 ohm\"\nline_impedance = \"0.3 ohm\"\nfault_current = \"2 "
        "kA\"\n[device.d]\nfrom = "
        "\"supply.s\"\nkind = \"circuit breaker\"\ncurve = \"C\"\nrating = \"16 A\"\nresidual = { trip = "
        "\"30 mA\", wave = "
        "\"A\" }\n[stock.house]\ntype = \"PVC sheathed\"\nsection = \"2.5 mm2\"\ncores = "
        "3\n[outlet.wall]\nfrom = \"device.d\"\n"
        "pattern = \"CEE 7/3\"\nearth = \"tested\"\nexisting = true\ncable = { stock = \"house\", length = "
        "\"8 m\", method = "
        "\"C\" }\n";
    for (int k = 0; k < stocks; ++k)
        plan += fmt::format("[stock.s{}]\ntype = \"H07RN-F\"\nsection = \"1.5 mm2\"\ncores = 3\n", k);
    int made = 0;
    const auto cable = [&](double metres) {
        return fmt::format("cable = {{ stock = \"s{}\", length = \"{:.1f} m\" }}\n", made++ % stocks, metres);
    };
    plan += "[box.b0]\nfrom = \"outlet.wall\"\nplug = \"CEE 7/7\"\n" + cable(26);
    for (int k = 1; k <= chain; ++k) {
        const double metres = random.between(1, 5);
        plan += fmt::format("[box.b{}]\nfrom = \"box.b{}\"\n", k, k - 1) + cable(metres);
    }
    std::string sets;
    const int switches = cables - made;
    for (int i = 0; i < switches; ++i) {
        const double metres = random.between(2, 9), amps = random.between(2, 7);
        plan +=
            fmt::format(
                "[switch.w{0}]\nfrom = \"box.b{1}\"\npoles = 2\nrating = \"16 A\"\nmotor_rating = \"12 A\"\n",
                i, i % (chain + 1)) +
            cable(metres);
        plan += fmt::format(
            "[outlet.o{0}]\nfrom = \"switch.w{0}\"\npattern = \"CEE 7/3\"\nearth = "
            "\"tested\"\n[load.l{0}]\nfrom = "
            "\"outlet.o{0}\"\nmotor = \"universal\"\nlatched = false\nplate = {{ current = \"{1:.1f} A\", "
            "voltage = \"230 "
            "V\" }}\n",
            i, amps);
        if (i % 2 == 1 && i < 20)
            sets += fmt::format("[[together]]\nname = \"p{0}\"\nloads = [\"l{1}\", \"l{0}\"]\n", i, i - 1);
    }
    return plan + sets;
}

struct Answer {
    double seconds = 0;
    advice::Sized sized;
};
std::optional<Answer> sized(const std::string& plan, const tables::Catalogue& catalogue, int rounds = 1) {
    const text::Document document("plan.toml", plan);
    auto result = check(document, catalogue);
    if (auto* problems = std::get_if<Diagnostics>(&result)) {
        fmt::print("{}\n", problems->front().message);
        return std::nullopt;
    }
    const Judged& judged = std::get<Judged>(result);
    Answer answer;
    answer.seconds = time_of(
        [&] {
            answer.sized = advice::size(judged.situation());
            for (const auto cord : advice::bench_cords(judged.situation()))
                (void)advice::longest_cords(answer.sized, catalogue, cord);
        },
        rounds);
    return answer;
}

/// Many small loads as one set; the same as sets of two.
std::string pairs_of(std::string plan, int sets) {
    for (int i = 0; i < sets; ++i)
        plan += fmt::format("[[together]]\nname = \"p{0}\"\nloads = [\"l{0}\", \"l{1}\"]\n", i, i + 1);
    return plan;
}

}  // namespace

int main() {
    const tables::Catalogue catalogue;
    fmt::print("| bench | cables | size | combinations looked at | least proven |\n|---|---|---|---|---|\n");
    const auto row = [&](const char* name, int cables, const std::string& plan) {
        const auto answer = sized(plan, catalogue);
        if (!answer) return false;
        fmt::print("| {} | {} | {:.3f} s | {} | {} |\n", name, cables, answer->seconds, answer->sized.trials,
                   answer->sized.proven ? "yes" : "no");
        return true;
    };
    bool all = true;
    for (const int cables : {10, 20, 30}) {
        all = all && row("a stock for each run", cables, cables_of(cables, cables, 0));
        all = all && row("five stocks", cables, cables_of(cables, 5, 0));
        all = all && row("four boxes in a chain", cables, cables_of(cables, cables, 4));
    }
    all = all && row("60 stocks", 60, cables_of(60, 60, 0));
    for (const int loads : {250, 1000}) {
        all = all && row("a set on one line", loads, as_one_set(small(loads), loads));
        all = all && row("a set on three lines", loads, as_one_set(three_lines(loads), loads));
        all = all && row("a set on a long thin cord", loads, as_one_set(slowest_found(loads), loads));
        all = all && row("sets of two", loads, pairs_of(small(loads), loads - 10));
    }
    return all ? 0 : 1;
}
