#include <benchfeed/rules/held_against.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <tuple>

#include <benchfeed/figures/iec_60364_6.hpp>
#include <benchfeed/figures/iec_61008_times.hpp>
#include <benchfeed/figures/thresholds.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/volt_readings.hpp>

namespace benchfeed::rules {

using plan::Found;
using plan::MeterReading;
using plan::Test;

namespace {

bool is_none(const Measure& measure) {
    return std::holds_alternative<std::monostate>(measure);
}

template <class Q>
Measure known(const std::optional<Q>& value) {
    return value ? Measure(*value) : Measure{};
}

Held nothing(std::string why) {
    Held held;
    held.none = std::move(why);
    return held;
}

Held held_insulation(const Situation& s) {
    if (s.nec()) return nothing("no figure is known here for how much it has to be");
    using Of = figures::iec_60364_6;
    const auto least = Of::at(s.tables, Of::Circuit::up_to_500_v_felv_included).min_insulation();
    Held held;
    held.stop = least.value;
    held.least = true;
    held.sources = {least.source};
    return held;
}

/// Less of a current than that does not open an IEC device; class A of UL 943 has a figure of its own.
void set_least_trip(const Situation& s, const ResidualReading& r, Held& held) {
    if (r.stays) {
        held.low = r.stays->value;
        held.sources = {r.stays->source};
    } else if (!s.nec()) {
        const auto share = figures::iec_61008_times::non_operating(s.tables);
        held.low = Current(r.trip * share.value);
        held.sources = {share.source};
    }
}

Held held_device(const Situation& s, const MeterReading& reading) {
    if (is_floating(s, reading.element)) return nothing("a tester drives nothing back to a floating source");
    const auto r = residual_reading(s, reading.element);
    Held held;
    if (!r) return held;
    if (reading.test.is(Test::ramp)) {
        held.stop = r->test;
        set_least_trip(s, *r, held);
        return held;
    }
    const auto& most = reading.test.is(Test::residual) ? r->most : r->most_at_high;
    if (!most && r->missing) {
        held.missing = r->missing;
        return held;
    }
    if (!most)
        return nothing(reading.test.is(Test::residual)
                           ? "no standard is known here for the time of such a device"
                           : "the region makes no test at a higher current");
    held.stop = most->value;
    held.sources = {most->source};
    return held;
}

Held held_protective(const Situation& s, Index element) {
    const Ohms ohms = protective_reading(s, element);
    Held held;
    held.expected = known(ohms.expected);
    held.stop = known(ohms.stop);
    held.sources = {figures::thresholds::continuity_margin(s.tables).source};
    return held;
}

/// Live conductors out and back. Behind a release they are open, and joined means a welded contact.
Held held_live(const Situation& s, const OutletReadings& r, const std::optional<Impedance>& expected) {
    const auto margin = figures::thresholds::continuity_margin(s.tables);
    Held held;
    held.open = held.least = r.open_when_dead;
    if (!held.open) held.expected = known(expected);
    if (expected) held.stop = Impedance(*expected + margin.value);
    held.sources = {margin.source};
    return held;
}

Held held_loop(const Situation& s, const OutletReadings& r, const MeterReading& reading) {
    if (is_own_source(s, r.outlet)) return nothing("what opens behind its source does not go by the loop");
    const auto* outlet = s.plan[r.outlet].as<plan::Outlet>();
    const bool warm = reading.cold.is(false);
    Held held;
    held.fed = outlet->measured && outlet->measured->loop.known();
    held.expected = known(r.loop);
    if (s.nec()) {
        if (is_none(held.expected))
            held.none = "the NEC has no limit for it, and the plan no loop to compare";
        return held;
    }
    held.missing = r.missing;
    held.stop = known(warm ? r.loop_warm : r.loop_stop);
    if (!warm) held.doubt = known(r.loop_doubt);
    if (r.loop_by_residual) {
        held.sources = {touch_voltage(s).source};
        return held;
    }
    if (!warm) held.sources = {figures::thresholds::cold_loop(s.tables).source};
    if (const auto time = longest_time(s, r.outlet)) held.sources.push_back(time->source);
    return held;
}

/// The conductors of an outlet, in words of why a test says nothing there.
std::string without_words(Test test) {
    if (test == Test::line_to_earth)
        return "the neutral of the source is not earthed: no line has certain volts to earth";
    if (test == Test::rotation) return "the outlet has not three lines";
    if (test == Test::lines) return "the outlet has one line";
    if (test == Test::rise) return "the outlet has not several lines with a neutral";
    return test == Test::neutral_to_earth ? "the outlet has no neutral, or that of the source is not earthed"
                                          : "the outlet has no neutral";
}

Held held_volts(const Situation& s, const MeterReading& reading) {
    const Test test = reading.test.get();
    const auto conductors = s.plan[reading.element].conductors.value_or(plan::Conductors{});
    if (test == Test::rotation) return conductors.lines() == 3 ? Held{} : nothing(without_words(test));
    const auto volts = volt_reading(s, reading.element, test);
    if (!volts) return nothing(without_words(test));
    Held held;
    held.expected = known(volts->expected);
    held.floor = known(volts->least);
    held.doubt = known(volts->doubt);
    held.stop = known(volts->most);
    held.sources = volts->sources;
    return held;
}

Held held_at_outlet(const Situation& s, const MeterReading& reading) {
    const Index i = reading.element;
    if (inside_a_machine(s, i)) return nothing("the outlet is part of a machine");
    const Test test = reading.test.get();
    if (s.network.house[i] && test != Test::loop) return nothing("the wiring of the house is as found");
    const OutletReadings r = outlet_readings(s, i);
    if (test == Test::loop) return held_loop(s, r, reading);
    if (test == Test::protective) return held_protective(s, i);
    if (test == Test::link) return held_live(s, r, r.round);
    if (test == Test::neutral) {
        const auto used = s.plan[i].conductors.value_or(plan::Conductors{});
        if (!used.has(plan::Conductor::n)) return nothing("the outlet has no neutral");
        if (r.neutral) return held_live(s, r, r.neutral);
        return held_live(s, r,
                         r.round && r.line ? std::optional(Impedance(*r.round - *r.line)) : std::nullopt);
    }
    if (test != Test::fall) return held_volts(s, reading);
    if (!r.fall) return nothing("no heater fits an outlet with three lines");
    Held held;
    held.expected = known(r.fall->expected);
    held.stop = known(r.fall->stop);
    held.sources = {figures::thresholds::reading_drop_excess(s.tables).source};
    return held;
}

/// Ohms of a conductor: less than it has means another way beside it.
bool of_conductors(const Held& held, Test test) {
    return !held.least &&
           (test == Test::loop || test == Test::protective || test == Test::link || test == Test::neutral);
}

/// Further apart than readings of the same are.
bool clearly_above(const Situation& s, double value, double other) {
    using Of = figures::thresholds;
    const double share = in(unit::one, Of::reading_drop_excess(s.tables).value),
                 margin = in(unit::ohm, Of::continuity_margin(s.tables).value);
    return above(value, other * (1 + share)) && above(value, other + margin);
}

/// Past a value, or with a meter whose range ends: whether it may be.
Standing against(double stop, bool least, Standing past_it, const Found& found, double value) {
    const bool past = least ? above(stop, value) : above(value, stop);
    // "> 1 ohm" is anything from there on, "< 1 Mohm" anything up to there.
    const bool endless = found.kind == (least ? Found::Kind::below : Found::Kind::above);
    const bool bounded = found.kind == (least ? Found::Kind::above : Found::Kind::below);
    if (endless) return past || value == stop ? past_it : Standing::short_range;
    if (bounded) return past ? Standing::short_range : Standing::within;
    return past ? past_it : Standing::within;
}
/// Past `stop`, or below `floor`.
Standing against_stops(const Held& held, const Found& found, double value) {
    const Standing stop = is_none(held.stop)
                              ? Standing::within
                              : against(number(held.stop), held.least, Standing::beyond, found, value);
    if (stop == Standing::beyond || is_none(held.floor)) return stop;
    const Standing floor = against(number(held.floor), true, Standing::beneath, found, value);
    return floor == Standing::within ? stop : floor;
}

/// Of a reading that is not past its stop: whether it is what the plan makes of it.
Standing against_expected(const Situation& s, const Held& held, const Found& found, double value,
                          const MeterReading& reading) {
    if (!is_none(held.doubt) && above(value, number(held.doubt)) && found.kind != Found::Kind::below)
        return Standing::doubtful;
    if (!is_none(held.low) && above(number(held.low), value) && found.kind != Found::Kind::above)
        return Standing::early;
    const Test test = reading.test.get();
    if (is_none(held.expected) || held.fed || !of_conductors(held, test)) return Standing::within;
    const double expected = number(held.expected);
    if (found.kind != Found::Kind::above && clearly_above(s, expected, value)) return Standing::lower;
    const bool cold_loop = test == Test::loop && !reading.cold.is(false);
    if (cold_loop && found.kind != Found::Kind::below && clearly_above(s, value, expected))
        return Standing::higher;
    return Standing::within;
}

Held held_exactly(const Situation& s, const MeterReading& reading) {
    const Test test = reading.test.get();
    if (test == Test::insulation) return held_insulation(s);
    if (plan::of_a_residual_device(test)) return held_device(s, reading);
    if (reading.element != plan::nowhere) return held_at_outlet(s, reading);
    const Index at = s.plan.metals[reading.metal].bonded_index;
    return at == plan::nowhere ? nothing("the plan does not say where the part is bonded")
                               : held_protective(s, at);
}

/// What shown() says, as a figure.
Measure as_shown(const Measure& measure) {
    constexpr double hundred = 100;
    if (const auto* z = std::get_if<Impedance>(&measure); z && in(unit::ohm, *z) < hundred)
        return Impedance(std::round(in(unit::ohm, *z) * hundred) / hundred * unit::ohm);
    if (const auto* volts = std::get_if<Voltage>(&measure)) {
        double printed = 0;
        const std::string text = digits(in(unit::volt, *volts), 2);
        std::from_chars(text.data(), text.data() + text.size(), printed);
        return Voltage(printed * unit::volt);
    }
    return measure;
}

}  // namespace

Held held_against(const Situation& s, const MeterReading& reading) {
    Held held = held_exactly(s, reading);
    for (Measure* figure : {&held.expected, &held.stop, &held.doubt, &held.low, &held.floor})
        *figure = as_shown(*figure);
    return held;
}

Standing standing(const Situation& s, const Held& held, const Found& found, const MeterReading& reading) {
    if (!held.none.empty()) return Standing::within;
    if (held.missing) return Standing::not_said;
    if (found.kind == Found::Kind::no_trip || found.kind == Found::Kind::backwards) return Standing::beyond;
    if (found.kind == Found::Kind::as_marked) return Standing::within;
    if (found.kind == Found::Kind::open) return held.least ? Standing::within : Standing::beyond;
    if (is_none(held.stop) && (is_none(held.expected) || !s.nec())) return Standing::not_said;
    const double value = number(found.value);
    const Standing stop = against_stops(held, found, value);
    return stop == Standing::within ? against_expected(s, held, found, value, reading) : stop;
}

std::vector<const MeterReading*> latest_of(std::vector<const MeterReading*> readings) {
    const auto key = [](const MeterReading* r) { return std::tuple(r->test.get(), r->element, r->metal); };
    std::map<std::tuple<Test, Index, Index>, std::string_view> last;
    for (const MeterReading* r : readings) {
        std::string_view& date = last[key(r)];
        date = std::max<std::string_view>(date, *r->date);
    }
    std::erase_if(readings, [&](const MeterReading* r) { return last[key(r)] != *r->date; });
    return readings;
}

std::vector<const MeterReading*> latest_readings(const plan::Plan& plan) {
    std::vector<const MeterReading*> all;
    for (const MeterReading& r : plan.readings) all.push_back(&r);
    return latest_of(std::move(all));
}

std::string_view words(Test test) {
    switch (test) {
        case Test::loop:
            return "fault loop";
        case Test::protective:
            return "protective conductor";
        case Test::link:
            return "live conductors, linked";
        case Test::neutral:
            return "neutral";
        case Test::insulation:
            return "insulation";
        case Test::fall:
            return "fall of volts under load";
        case Test::residual:
            return "time of the residual device";
        case Test::residual_high:
            return "time of the residual device at the higher current";
        case Test::ramp:
            return "current at which the residual device opens";
        case Test::lines:
            return "volts between lines";
        case Test::line_to_neutral:
            return "volts of a line to N";
        case Test::line_to_earth:
            return "volts of a line to PE";
        case Test::neutral_to_earth:
            return "volts of N to PE";
        case Test::rise:
            return "rise of the other lines when one is loaded";
        case Test::rotation:
            return "rotation";
    }
    return "";
}

std::string place_words(const Situation& s, const MeterReading& reading) {
    return reading.element == plan::nowhere ? rules::words(s, At{At::Kind::metal, reading.metal}, Part::whole)
                                            : s.plan[reading.element].words();
}

std::vector<NotHeld> not_held(const Situation& s) {
    std::map<std::pair<Test, std::string>, std::vector<std::string>> places;
    for (const MeterReading* r : latest_readings(s.plan)) {
        std::string why = held_against(s, *r).none;
        if (why.empty()) continue;
        auto& list = places[{r->test.get(), std::move(why)}];
        std::string place = place_words(s, *r);
        if (std::find(list.begin(), list.end(), place) == list.end()) list.push_back(std::move(place));
    }
    std::vector<NotHeld> all;
    for (auto& [of, where] : places)
        all.push_back({fmt::format("{} at {}", words(of.first), list(where)), of.second});
    return all;
}

std::string shown(const Measure& measure) {
    const auto* z = std::get_if<Impedance>(&measure);
    if (!z) return to_text(measure, 2);
    constexpr double hundred = 100, thousand = 1e3, million = 1e6;
    const double ohms = in(unit::ohm, *z);
    if (ohms >= million) return plain_digits(ohms / million, 3) + " Mohm";
    if (ohms >= thousand) return plain_digits(ohms / thousand, 3) + " kohm";
    return ohms >= hundred ? to_text(*z, 3) : fmt::format("{:.2f} ohm", ohms);
}

}  // namespace benchfeed::rules
