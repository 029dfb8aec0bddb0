// Fifty mistakes that people make who wire a bench, and what the program says of each: a finding in a plan
// that shows it, a mistake of the description, or a caution for what no description shows. Collected from
// forums, manuals and inspectors' notes of the trade; the words are ours.
#include <doctest/doctest.h>

#include <array>
#include <string_view>

#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using namespace benchfeed::test;

namespace {

enum class Seen : std::uint8_t { finding, refused, told };

struct Mistake {
    std::string_view what;
    Seen seen;
    std::string_view rule, verdict;  ///< of a finding; for a caution that is only told, words of SAFETY.md
    std::string_view plan;           ///< under tests/plans
};

constexpr std::array mistakes{
    Mistake{"what runs together is more than the plug, and the breaker is larger", Seen::finding,
            "heat.plug-overloaded", "fail", "rules/plug-overloaded-fires"},
    Mistake{"only the breaker is looked at", Seen::finding, "heat.outlet-overloaded", "fail",
            "rules/outlet-overloaded-fires"},
    Mistake{"a peak horsepower is taken for the load", Seen::finding, "heat.motor-circuit", "cannot judge",
            "rules/motor-circuit-peak-cannot-judge"},
    Mistake{"746 W for each horsepower are taken for what a motor draws", Seen::finding, "heat.motor-circuit",
            "fail", "rules/motor-circuit-fires"},
    Mistake{"kilowatts at the shaft are read as input", Seen::finding, "heat.plug-overloaded", "fail",
            "rules/plug-overloaded-shaft-power-fires"},
    Mistake{"watts of induction motors are added without a power factor", Seen::finding,
            "heat.plug-overloaded", "fail", "scenarios/elm-yard-uk"},
    Mistake{"a compressor that starts by itself is forgotten", Seen::finding, "heat.plug-overloaded", "fail",
            "rules/plug-overloaded-self-starting-fires"},
    Mistake{"other loads of the circuit are forgotten", Seen::finding, "trip.start-surge", "caution",
            "rules/start-surge-other-load-cautions"},
    Mistake{"a thin extension for a heavy tool", Seen::finding, "heat.cable-overloaded", "fail",
            "rules/cable-overloaded-fires"},
    Mistake{"ampacity is looked at, the drop is not", Seen::finding, "volts.running-drop", "fail",
            "rules/running-drop-fires"},
    Mistake{"the cord is counted, the house run is not", Seen::finding, "volts.running-drop", "cannot judge",
            "rules/running-drop-cannot-judge"},
    Mistake{"a reel is left wound", Seen::finding, "heat.reel-wound", "fail", "rules/reel-wound-fires"},
    Mistake{"cables are bundled", Seen::finding, "heat.cable-unprotected", "fail",
            "rules/cable-unprotected-grouping-fires"},
    Mistake{"two leads in series", Seen::finding, "heat.chained-leads", "caution",
            "rules/chained-leads-series-cautions"},
    Mistake{"a thin run to an outlet behind a larger device", Seen::finding, "heat.cable-unprotected", "fail",
            "rules/cable-unprotected-fires"},
    Mistake{"14 AWG behind 20 A", Seen::finding, "heat.cable-unprotected", "fail",
            "rules/cable-unprotected-us-small-conductor"},
    Mistake{"outlets of 15 A on 30 A", Seen::finding, "heat.plug-pattern-mismatch", "fail",
            "rules/plug-pattern-mismatch-us-thirty-fires"},
    Mistake{"a larger breaker, so that it no longer trips", Seen::finding, "heat.cable-unprotected", "fail",
            "rules/cable-unprotected-us-cord"},
    Mistake{"the socket of an extractor is overloaded", Seen::finding, "heat.tool-socket-overloaded", "fail",
            "rules/tool-socket-overloaded-fires"},
    Mistake{"a light switch for a saw", Seen::finding, "heat.switch-motor-rating", "fail",
            "rules/switch-motor-rating-snap-us-fires"},
    Mistake{"one pole on 240 V", Seen::finding, "shock.one-pole-off", "fail", "scenarios/slate-yard-us"},
    Mistake{"one pole behind a plug that turns over", Seen::finding, "shock.one-pole-off", "fail",
            "rules/one-pole-off-fires"},
    Mistake{"the neutral is switched", Seen::finding, "shock.one-pole-off", "fail",
            "rules/one-pole-off-neutral-fires"},
    Mistake{"latched tools without a no-volt release", Seen::finding, "restart.no-volt-missing", "fail",
            "rules/no-volt-missing-fires"},
    Mistake{"one release for all: its button starts what is still latched", Seen::finding,
            "restart.several-at-once", "caution", "rules/several-at-once-fires"},
    Mistake{"a release without a core for its coil", Seen::finding, "shock.cores-missing", "fail",
            "rules/cores-missing-coil-fires"},
    Mistake{"a tool with its lock on is carried to another outlet", Seen::told, "locked on", "", ""},
    Mistake{"the button that stops all puts out the light", Seen::finding, "restart.lights-cut", "caution",
            "rules/lights-cut-fires"},
    Mistake{"one switch for two tools", Seen::finding, "heat.switch-overloaded", "fail",
            "rules/switch-overloaded-fires"},
    Mistake{"a relay from afar starts a cutter", Seen::finding, "restart.remote-start", "fail",
            "rules/remote-start-fires"},
    Mistake{"a speed control on an induction motor", Seen::finding, "heat.speed-control-mismatch", "fail",
            "rules/speed-control-mismatch-fires"},
    Mistake{"green-yellow is used as a live core for want of cores", Seen::finding, "shock.cores-missing",
            "fail", "rules/cores-missing-fires"},
    Mistake{"solid cable on a plug", Seen::finding, "shock.cable-unsuited", "fail",
            "rules/cable-unsuited-fires"},
    Mistake{"no cord grip", Seen::finding, "shock.no-grip", "fail", "rules/no-grip-fires"},
    Mistake{"a metal part with wiring is not bonded", Seen::finding, "shock.protective-conductor", "fail",
            "rules/protective-conductor-metal-fires"},
    Mistake{"tinned ends under screws", Seen::finding, "heat.terminal-mismatch", "fail",
            "rules/terminal-mismatch-tinned-fires"},
    Mistake{"fine strands in a terminal for solid cores", Seen::finding, "heat.terminal-mismatch", "fail",
            "rules/terminal-mismatch-fires"},
    Mistake{"an overfilled box", Seen::finding, "heat.box-overfilled", "fail", "rules/box-overfilled-fires"},
    Mistake{"neutrals of two supplies are joined", Seen::finding, "shock.joined-neutrals", "fail",
            "rules/joined-neutrals-fires"},
    Mistake{"a cord with a plug at both ends", Seen::refused, "", "", "bad/plug-where-no-outlet-is"},
    Mistake{"an adaptor cheats the earth pin", Seen::finding, "heat.plug-pattern-mismatch", "fail",
            "rules/plug-pattern-mismatch-adaptor-fires"},
    Mistake{"a cord lies where it is walked on", Seen::finding, "shock.cable-unsuited", "caution",
            "rules/cable-unsuited-floor-cautions"},
    Mistake{"outlets face up into the chips", Seen::finding, "heat.dust", "caution", "rules/dust-fires"},
    Mistake{"no residual current device", Seen::finding, "shock.no-residual-protection", "fail",
            "rules/no-residual-protection-fires"},
    Mistake{"a residual device of type AC before electronics", Seen::finding, "shock.residual-type", "fail",
            "rules/residual-type-fires"},
    Mistake{"a bench that is fixed, on a plug and a cord", Seen::finding, "shock.no-isolator", "caution",
            "rules/no-isolator-fastened-cautions"},
    Mistake{"nothing is labelled", Seen::told, "label", "", ""},
    Mistake{"nobody looks again after a tool was changed", Seen::told, "changed", "", ""},
    Mistake{"the earth of the wall outlet is believed", Seen::finding, "shock.protective-conductor",
            "caution", "rules/protective-conductor-untested-cautions"},
    Mistake{"gauge, mm2, feet and metres are mixed", Seen::finding, "plan.implausible", "caution",
            "rules/implausible-fires"},
};
static_assert(mistakes.size() == 50);

std::string path_of(std::string_view plan) {
    constexpr std::string_view rule_plan = "rules/";
    const bool whole = !plan.starts_with(rule_plan);
    return (whole ? BENCHFEED_TESTS_DIR "/plans/" + std::string(plan)
                  : BENCHFEED_RULE_PLANS "/" + std::string(plan.substr(rule_plan.size()))) +
           ".toml";
}

}  // namespace

TEST_CASE("fifty mistakes of the trade: each is found in a plan, refused, or told as what nobody can see") {
    const std::string safety = read_text(std::string(BENCHFEED_DATA_DIR) + "/../SAFETY.md");
    for (const Mistake& m : mistakes) {
        CAPTURE(m.what);
        if (m.seen == Seen::told) {
            CHECK(safety.find(m.rule) != std::string::npos);
            continue;
        }
        const std::string content = read_text(path_of(m.plan));
        REQUIRE_FALSE(content.empty());
        const auto result = check(text::Document(std::string(m.plan), content), catalogue());
        const auto* judged = std::get_if<Judged>(&result);
        CHECK((m.seen == Seen::refused) == (judged == nullptr));
        if (!judged) continue;
        const auto found = findings_of(*judged);
        CHECK(std::any_of(found.begin(), found.end(),
                          [&](const Expectation& e) { return e.rule == m.rule && e.verdict == m.verdict; }));
    }
}
