// Box fill, NEC 314.16(B): examples of others.
#include <doctest/doctest.h>

#include <string>

#include <benchfeed/rules/summary.hpp>
#include "support/judged.hpp"
#include "support/prints_as.hpp"

using namespace benchfeed;

namespace {

struct Fill {
    double cubic_inches = 0;
    rules::Verdict verdict = rules::Verdict::ok;
};

/// A box of so many cubic inches on its own feed, with further cables and what is mounted in it.
Fill fill(const std::string& volume, const std::string& section, const std::vector<int>& cores,
          bool outlet_in_it = false) {
    std::string text =
        "format = 1\n[plan]\nregion = \"US\"\nmounting = \"fixed\"\n[supply.s]\nsystem = \"120/208 V\"\n"
        "[device.d]\nfrom = \"supply.s\"\nkind = \"circuit breaker\"\nrating = \"15 A\"\npoles = 3\n";
    for (const int n : {3, 4})
        text += "[stock.c" + std::to_string(n) + "]\ntype = \"NM-B\"\nsection = \"" + section +
                "\"\ncores = " + std::to_string(n) + "\n";
    for (std::size_t i = 0; i < cores.size(); ++i) {
        const std::string conductors = cores[i] == 3 ? "L1-N" : "L1-L2-N";
        text += "[box.b" + std::to_string(i) + "]\nfrom = \"" + (i == 0 ? "device.d" : "box.b0") +
                "\"\nconductors = \"" + conductors + "\"\nterminals = \"twist-on\"\nclamps = \"outside\"\n" +
                "volume = \"" + (i == 0 ? volume : "60") + " in3\"\ncable = { stock = \"c" +
                std::to_string(cores[i]) + "\", length = \"3 ft\", method = \"cable\" }\n";
        if (i > 0)
            text +=
                "[load.l" + std::to_string(i) + "]\nfrom = \"box.b" + std::to_string(i) +
                "\"\nconductors = \"L1-N\"\nkind = \"light\"\nmotor = \"none\"\nplate = { current = \"1 A\", "
                "voltage = \"120 V\" }\n";
    }
    if (outlet_in_it) text += "[outlet.o]\nfrom = \"box.b0\"\npattern = \"5-15\"\nconductors = \"L1-N\"\n";
    const Judged plan = test::judged(text);
    for (const auto& o : plan.judgement().outcomes)
        if (rules::registry()[o.rule].id == "heat.box-overfilled" &&
            rules::path_of(plan.plan(), o.at) == "box.b0")
            return {std::get<Ratio>(o.value).value() * std::stod(volume), o.verdict};
    return {};
}

}  // namespace

TEST_CASE(
    "box-01: nine conductors of 12 AWG fill 20.25 in3; the box of 21 in3 takes them, that of 18 in3 does "
    "not") {
    // Source   M. Holt, outlet box sizing. Here as four cables of two conductors, whose grounds count once.
    CHECK(test::prints_as(fill("21.0", "12 AWG", {3, 3, 3, 3}).cubic_inches, "20.25"));
    CHECK(fill("21.0", "12 AWG", {3, 3, 3, 3}).verdict == rules::Verdict::ok);
    CHECK(fill("18.0", "12 AWG", {3, 3, 3, 3}).verdict == rules::Verdict::fail);
}

TEST_CASE("box-02: a box of 15.5 in3 takes seven conductors of 14 AWG, not eight") {
    // Source   M. Holt, outlet box sizing: 15.5 / 2.00 = 7.75, cut to 7.
    CHECK(fill("15.5", "14 AWG", {3, 3, 3}).verdict == rules::Verdict::ok);  // 6 and the grounds
    CHECK(test::prints_as(fill("15.5", "14 AWG", {3, 3, 3}).cubic_inches, "14.0"));
    CHECK(fill("15.5", "14 AWG", {4, 3, 3}).verdict == rules::Verdict::fail);  // 7 and the grounds
}

TEST_CASE("box-06: three cables of 12 AWG and a receptacle fill 20.25 in3") {
    // Source   a home forum, an electrician's answer: six conductors, the grounds once, two for the yoke.
    CHECK(test::prints_as(fill("22.5", "12 AWG", {3, 3, 3}, true).cubic_inches, "20.25"));
}
