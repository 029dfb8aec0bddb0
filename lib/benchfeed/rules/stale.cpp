// Readings that a change has left behind.
#include <algorithm>

#include <benchfeed/rules/differences.hpp>
#include <benchfeed/rules/readings.hpp>

namespace benchfeed::rules {

namespace {

bool same_text(const plan::Field<std::string>& a, const plan::Field<std::string>& b) {
    return a.value == b.value;
}
bool same_reading(const plan::MeterReading& a, const plan::MeterReading& b) {
    return a.test.known() && b.test.known() && a.test.get() == b.test.get() && same_text(a.at, b.at) &&
           same_text(a.found, b.found) && same_text(a.date, b.date);
}

/// What it is expected to be, or else at most or at least.
Measure told(const Held& held) {
    return std::holds_alternative<std::monostate>(held.expected) ? held.stop : held.expected;
}

}  // namespace

std::vector<StaleReading> find_stale(const Situation& before, const Situation& after) {
    std::vector<StaleReading> stale;
    if (before.plan.readings.empty() || after.plan.readings.empty()) return stale;
    const Readings old_ones = readings(before), new_ones = readings(after);
    for (const plan::MeterReading& reading : after.plan.readings) {
        const auto same = std::find_if(before.plan.readings.begin(), before.plan.readings.end(),
                                       [&](const auto& old) { return same_reading(old, reading); });
        if (same == before.plan.readings.end()) continue;
        const Measure was = told(held_against(before, old_ones, *same)),
                      is = told(held_against(after, new_ones, reading));
        if (to_text(was) == to_text(is)) continue;  // as a sheet prints them
        stale.push_back(
            {std::string(words(reading.test.get())), *reading.at, *reading.found, *reading.date, was, is});
    }
    return stale;
}

}  // namespace benchfeed::rules
