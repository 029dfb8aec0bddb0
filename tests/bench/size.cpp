// Time of `size` as benches grow: every run a stock of its own, runs that share a few stocks, runs behind
// boxes in a chain.
#include <fmt/format.h>

#include <chrono>

#include <benchfeed/advice/size.hpp>
#include <benchfeed/check.hpp>
#include "support/random_bench.hpp"

using namespace benchfeed;

namespace {

/// So many cables: a cord, boxes in a chain if wanted, and runs.
std::string bench(int cables, int stocks, int chain) {
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

}  // namespace

int main() {
    const tables::Catalogue catalogue;
    fmt::print(
        "| bench | cables | stocks | size | combinations looked at | least proven "
        "|\n|---|---|---|---|---|---|\n");
    struct Kind {
        const char* name;
        int stocks, chain;  // 0 stocks: one for each cable
    };
    for (const Kind& kind :
         {Kind{"a stock for each run", 0, 0}, Kind{"five stocks", 5, 0}, Kind{"four boxes in a chain", 0, 4}})
        for (const int cables : {10, 20, 30}) {
            const int stocks = kind.stocks == 0 ? cables : kind.stocks;
            const text::Document document("plan.toml", bench(cables, stocks, kind.chain));
            auto result = check(document, catalogue);
            if (auto* problems = std::get_if<Diagnostics>(&result)) {
                fmt::print("{}\n", problems->front().message);
                return 1;
            }
            const Judged& judged = std::get<Judged>(result);
            const auto start = std::chrono::steady_clock::now();
            const auto sized = advice::size(judged.situation());
            const double seconds =
                std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
            fmt::print("| {} | {} | {} | {:.3f} s | {} | {} |\n", kind.name, cables, stocks, seconds,
                       sized.trials, sized.proven ? "yes" : "no");
        }
}
