#pragma once
// The order in which findings are told: what hurts first. The one place that knows it.
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

/// What a finding may do to a person or a house, worst first.
enum class Danger : std::uint8_t {
    touch,         ///< live metal or a live core that a hand can meet: earth missing, off that leaves it live
    restart,       ///< a tool that starts by itself or cannot be stopped
    shock,         ///< what should save whoever gets a shock is missing or does not work
    heat_unended,  ///< heat that no device ends
    heat,          ///< other heat
    volts,         ///< tools that get too few volts
    trip,          ///< devices that open without need
    plan,          ///< words of the plan
};
/// By the rule alone. A rule that is not named here stands where its harm stands.
[[nodiscard]] Danger danger(const Rule& rule);
/// By what an outcome says: an overload that nothing ends is worse than one that trips.
[[nodiscard]] Danger danger(const Situation& situation, const Outcome& outcome);

/// How far the value has gone to the edge, or to the caution of a limit that only warns; 0 where there is
/// neither. Above 1: beyond it.
[[nodiscard]] double severity(const Outcome& outcome);

/// What decides the place of an outcome among others, worked out once for each.
struct Urgency {
    Verdict verdict = Verdict::ok;
    Danger danger = Danger::plan;
    double severity = 0;
    int basis = 0;  ///< what is asked for comes before what is advised
};
[[nodiscard]] Urgency urgency(const Situation& situation, const Outcome& outcome);
/// `a` is told before `b`: by verdict, then danger, then severity, then basis. Equals keep their order.
[[nodiscard]] bool told_before(const Urgency& a, const Urgency& b);

}  // namespace benchfeed::rules
