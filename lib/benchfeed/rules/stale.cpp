// Readings that a change has left behind.
#include <algorithm>
#include <map>
#include <tuple>

#include <benchfeed/rules/differences.hpp>
#include <benchfeed/rules/held_against.hpp>

namespace benchfeed::rules {

namespace {

auto key_of(const plan::MeterReading& r) {
    return std::tuple(r.test.get(), std::string_view(*r.at), std::string_view(*r.found),
                      std::string_view(*r.date));
}

/// What it is expected to be, or else at most or at least.
Measure expected_of(const Held& held) {
    return std::holds_alternative<std::monostate>(held.expected) ? held.stop : held.expected;
}

/// What was rewired at the place of a reading, or on the way to it; insulation hears of what is behind it
/// too.
bool on_its_way(const Situation& s, const plan::MeterReading& reading, Index touched) {
    const Index at =
        reading.metal == plan::nowhere ? reading.element : s.plan.metals[reading.metal].bonded_index;
    if (at == plan::nowhere) return false;
    return s.network.hangs_below(at, touched) ||
           (reading.test.is(plan::Test::insulation) && s.network.hangs_below(touched, at));
}

/// The metal part itself.
bool is_of(const Difference& d, const plan::MeterReading& reading) {
    return reading.metal != plan::nowhere && d.path == *reading.at;
}

/// What every rewired table touches, once for all readings.
struct Rewired {
    const Difference* difference;
    std::vector<Index> touched;
};
std::vector<Rewired> rewired_of(const Situation& after, const std::vector<Difference>& differences) {
    std::vector<Rewired> list;
    for (const Difference& d : differences)
        if (rewired(d) || (d.path.starts_with("supply.") && !only_words(d)))
            list.push_back({&d, touched(after.plan, d)});
    return list;
}

}  // namespace

std::vector<StaleReading> find_stale(const Situation& before, const Situation& after,
                                     const std::vector<Difference>& differences) {
    std::vector<StaleReading> stale;
    if (before.plan.readings.empty() || after.plan.readings.empty()) return stale;
    std::map<decltype(key_of(before.plan.readings.front())), const plan::MeterReading*> old_ones;
    for (const plan::MeterReading& reading : before.plan.readings)
        old_ones.emplace(key_of(reading), &reading);
    const std::vector<Rewired> changes = rewired_of(after, differences);
    for (const plan::MeterReading* reading : latest_readings(after.plan)) {
        const auto old = old_ones.find(key_of(*reading));
        if (old == old_ones.end()) continue;
        StaleReading r{reading->test.get(),
                       *reading->at,
                       *reading->found,
                       *reading->date,
                       place_words(after, *reading),
                       expected_of(held_against(before, *old->second)),
                       expected_of(held_against(after, *reading)),
                       {},
                       {}};
        for (const Rewired& change : changes) {
            const Difference& d = *change.difference;
            if (!is_of(d, *reading) &&
                std::none_of(change.touched.begin(), change.touched.end(),
                             [&](Index touched) { return on_its_way(after, *reading, touched); }))
                continue;
            r.because.push_back(d.path);
            r.changed.push_back(d.words);
        }
        // As a sheet prints them: what nobody could read off is no change.
        if (shown(r.before) != shown(r.after) || !r.because.empty()) stale.push_back(std::move(r));
    }
    return stale;
}

}  // namespace benchfeed::rules
