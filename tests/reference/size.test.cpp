// The least copper, held against a check of every combination of sizes.
#include <benchfeed/advice/size.hpp>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <map>

#include "support/judged.hpp"
#include "support/random_bench.hpp"
#include "support/rounds.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

struct Bench {
    std::string text;
    std::vector<std::string> stocks;
    struct Run {
        std::size_t stock;
        double metres;
    };
    std::vector<Run> runs;
    std::vector<std::string> sizes;
    int cores = 3;
    bool us = false;
};

/// A cord from the wall to a box, perhaps a second box, and runs from there, of up to three stocks.
Bench random_bench(BenchDice& random) {
    Bench b;
    b.us = random.chance(0.2);
    b.sizes = b.us ? std::vector<std::string>{"18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG",
                                              "8 AWG",  "6 AWG",  "4 AWG",  "2 AWG"}
                   : std::vector<std::string>{"0.5 mm2", "0.75 mm2", "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2"};
    if (b.us) b.sizes.insert(b.sizes.begin() + 8, "3 AWG");
    const int stocks = random.from(1, random.chance(b.us ? 0.1 : 0.35) ? 3 : 2);
    const int rating = random.one_of<int>(b.us ? std::vector<int>{15, 20} : std::vector<int>{10, 13, 16, 20});
    const double line = random.between(0.1, 0.8);
    b.text = fmt::format(
        "format = 1\n[plan]\nregion = \"{}\"\nmounting = \"mobile\"\n[site]\nuse = \"dwelling\"\nroom = "
        "\"garage\"\n"
        "[supply.s]\nsystem = \"{}\"\nearthing = \"TN-S\"\nfault_current = \"2 kA\"\nloop_impedance = "
        "\"{:.2f} ohm\"\n"
        "line_impedance = \"{:.2f} ohm\"\n[device.d]\nfrom = \"supply.s\"\nkind = \"circuit "
        "breaker\"\n{}rating = \"{} A\"\n",
        b.us ? "US" : "EU", b.us ? "120 V" : "230 V", line + 0.1, line,
        b.us                 ? ""
        : random.chance(0.5) ? "curve = \"B\"\n"
                             : "curve = \"C\"\n",
        rating);
    if (random.chance(0.5))
        b.text += "residual = { trip = \"30 mA\"" + std::string(b.us ? " }\n" : ", wave = \"A\" }\n");
    for (int k = 0; k < stocks; ++k) {
        b.stocks.push_back(fmt::format("s{}", k));
        b.text += fmt::format("[stock.s{}]\ntype = \"{}\"\nsection = \"{}\"\ncores = 3\n", k,
                              b.us     ? "SOOW"
                              : k == 0 ? "H07RN-F"
                                       : "H05VV-F",
                              b.us ? "14 AWG" : "1.5 mm2");
    }
    const auto cable = [&](double metres) {
        const auto stock = static_cast<std::size_t>(random.from(0, stocks - 1));
        b.runs.push_back({stock, metres});
        return fmt::format("cable = {{ stock = \"s{}\", length = \"{:.1f} m\" }}\n", stock, metres);
    };
    const auto tenths = [&](double low, double high) {
        return std::round(random.between(low, high) * 10) / 10;
    };
    const std::string pattern = b.us ? "5-20" : "CEE 7/3";
    b.text += fmt::format(
        "[stock.house]\ntype = \"{}\"\nsection = \"{}\"\ncores = 3\n[outlet.wall]\nfrom = "
        "\"device.d\"\npattern = \"{}\"\n"
        "earth = \"tested\"\nexisting = true\ncable = {{ stock = \"house\", length = \"{} m\"{} }}\n",
        b.us ? "NM-B" : "PVC sheathed", b.us ? "12 AWG" : "2.5 mm2", pattern, random.from(3, 20),
        b.us ? "" : ", method = \"C\"");
    const double cord = tenths(2, 45);
    b.text += fmt::format("[box.j]\nfrom = \"outlet.wall\"\nplug = \"{}\"\n", b.us ? "5-20" : "CEE 7/7") +
              cable(cord);
    std::string up = "box.j";
    if (random.chance(0.4)) {
        const double on = tenths(1, 15);
        b.text += "[box.k]\nfrom = \"box.j\"\n" + cable(on);
        if (random.chance(0.7)) up = "box.k";
    }
    const int most = random.from(1, 6 - static_cast<int>(b.runs.size()));
    std::string loads;
    for (int i = 0; i < most; ++i) {
        const double run = tenths(0.5, 12), amps = random.between(1, 9);
        const std::string from = random.chance(0.7) ? up : "box.j";
        b.text += fmt::format(
            "[switch.w{0}]\nfrom = \"{1}\"\npoles = 2\nrating = \"20 A\"\nmotor_rating = \"15 A\"\n", i,
            from);
        b.text += cable(run);
        const auto motor = random.one_of<std::string>({"universal", "induction", "none"});
        // Starts near the edge of the breaker: there more section, which weakens a start less, brings a
        // fault.
        const bool starts = motor != "none" && random.chance(0.4);
        const std::string start =
            starts ? fmt::format(", start_current = \"{:.0f} A\"", rating * random.between(4.5, 6)) : "";
        b.text += fmt::format(
            "[outlet.o{0}]\nfrom = \"switch.w{0}\"\npattern = \"{1}\"\nearth = \"tested\"\n[load.l{0}]\nfrom "
            "= "
            "\"outlet.o{0}\"\nmotor = \"{2}\"\nlatched = false\nplate = {{ current = \"{3:.1f} A\", voltage "
            "= \"{4} "
            "V\"{5} }}\n",
            i, pattern, motor, amps, b.us ? 120 : 230, start);
        if (i < 2) loads += fmt::format("{}\"l{}\"", i > 0 ? ", " : "", i);
    }
    b.text += "[[together]]\nname = \"two\"\nloads = [" + loads + "]\n";
    return b;
}

using Key = std::tuple<std::string, int, int, unsigned, unsigned>;
std::map<Key, int> faults(const Judged& judged) {
    std::map<Key, int> counts;
    for (const auto& fault : advice::faults_of(judged.judgement())) {
        const std::string id(rules::registry()[fault.rule].id);
        ++counts[{id, static_cast<int>(fault.at.kind), static_cast<int>(fault.part), fault.set,
                  id == "shock.slow-disconnection" ? 0u : fault.at.index}];
    }
    return counts;
}

bool within(const std::map<Key, int>& counts, const std::map<Key, int>& given) {
    return std::all_of(counts.begin(), counts.end(), [&](const auto& one) {
        const auto there = given.find(one.first);
        return there != given.end() && one.second <= there->second;
    });
}

}  // namespace

TEST_CASE(
    "size is the least of all combinations that a whole check finds in order: 300 plans of up to 6 cables") {
    std::size_t combinations = 0, sized_up = 0, uncured = 0, conflicts = 0;
    for (unsigned seed = 1; seed <= test::rounds(300); ++seed) {
        CAPTURE(seed);
        BenchDice random(seed);
        const Bench bench = random_bench(random);
        const auto judged_with = [&](const std::vector<std::size_t>& sizes) {
            std::vector<plan::Override> overrides;
            for (std::size_t k = 0; k < sizes.size(); ++k)
                overrides.push_back({"stock." + bench.stocks[k] + ".section=" + bench.sizes[sizes[k]]});
            auto result = check(text::Document("plan.toml", bench.text), catalogue(), overrides);
            if (const auto* problems = std::get_if<Diagnostics>(&result))
                FAIL(problems->front().message << "\n" << bench.text);
            return std::move(std::get<Judged>(result));
        };
        const auto copper = [&](const std::vector<std::size_t>& sizes) {
            double sum = 0;
            for (const auto& run : bench.runs) {
                const auto section =
                    std::get<Section>(read_quantity<Section>(bench.sizes[sizes[run.stock]], "section"));
                sum += 3 * in(unit::mm2, section.area) * run.metres;
            }
            return sum;
        };
        std::vector<bool> used(bench.stocks.size(), false);
        for (const auto& run : bench.runs) used[run.stock] = true;
        std::vector<std::size_t> sizes;
        for (std::size_t k = 0; k < bench.stocks.size(); ++k) sizes.push_back(bench.sizes.size() - 1);
        const auto with_most = faults(judged_with(sizes));
        for (std::size_t k = 0; k < sizes.size(); ++k)
            if (used[k]) sizes[k] = 0;
        // Given is what neither the smallest nor the largest sizes cure; if no combination does the rest,
        // what the largest leave.
        std::map<Key, int> given;
        const auto with_least = faults(judged_with(sizes));
        for (const auto& [key, count] : with_most)
            if (with_least.contains(key)) given[key] = std::min(count, with_least.at(key));
        double least = 1e99, least_of_most = 1e99;
        while (true) {
            ++combinations;
            if (copper(sizes) < std::max(least, least_of_most)) {
                const auto found = faults(judged_with(sizes));
                if (within(found, given)) least = std::min(least, copper(sizes));
                if (within(found, with_most)) least_of_most = std::min(least_of_most, copper(sizes));
            }
            std::size_t k = 0;
            for (; k < sizes.size(); ++k) {
                if (!used[k]) continue;
                if (++sizes[k] < bench.sizes.size()) break;
                sizes[k] = 0;
            }
            if (k == sizes.size()) break;
        }
        const bool conflict = least == 1e99;
        if (conflict) {
            least = least_of_most;
            given = with_most;
        }
        const Judged plain = judged(bench.text);
        const auto sized = advice::size(plain.situation());
        CHECK(sized.proven);
        CHECK(sized.conflict == conflict);
        conflicts += conflict;
        std::vector<std::size_t> chosen(bench.stocks.size(), 0);
        for (const auto& group : sized.groups) {
            const std::string name = sized.plan->stocks[group.group.stocks.front()].name;
            for (std::size_t k = 0; k < bench.stocks.size(); ++k)
                if (bench.stocks[k] == name)
                    for (std::size_t i = 0; i < bench.sizes.size(); ++i)
                        if (bench.sizes[i] == section_text(group.after)) chosen[k] = i;
        }
        CHECK(std::abs(copper(chosen) - least) <= 1e-9 * least);
        for (std::size_t k = 0; k < chosen.size(); ++k)
            if (!used[k]) chosen[k] = bench.sizes.size() - 1;
        CHECK(within(faults(judged_with(chosen)), given));
        sized_up += sized.copper_after > sized.copper_before;
        uncured += !sized.uncured.empty();
    }
    MESSAGE(combinations << " combinations, " << sized_up << " plans sized up, " << uncured
                         << " with what no size cures, " << conflicts << " with a conflict");
    CHECK(sized_up > test::rounds(30));
    CHECK(uncured > test::rounds(10));
    CHECK((conflicts > 0 || test::sanitized));
}
