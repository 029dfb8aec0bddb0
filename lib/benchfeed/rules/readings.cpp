#include <benchfeed/rules/readings.hpp>

#include <algorithm>
#include <cmath>

#include <benchfeed/figures/iec_60364_6.hpp>
#include <benchfeed/figures/iec_61008_times.hpp>
#include <benchfeed/figures/sheet_tests.hpp>
#include <benchfeed/figures/thresholds.hpp>
#include <benchfeed/figures/ul_943.hpp>
#include <benchfeed/network/fault.hpp>
#include <benchfeed/rules/starting.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules {

using plan::Conductor;

namespace {

/// Elements of the bench on the way to one of its own, from the plug (or the panel of a fixed bench).
std::vector<Index> bench_way(const Situation& s, Index element) {
    std::vector<Index> way = s.plan.path_to(element);
    std::erase_if(way, [&](Index i) { return s.network.house[i]; });
    return way;
}

bool length_known(const network::Branch& branch) {
    return !branch.cable || (branch.known && branch.length == branch.length_most);
}

/// The end of what a core may have cold that is asked for: `least` or `cold`.
using End = ImpedancePerLength network::Core::*;

/// Cold ohms of the protective conductor; nothing where a run has none or it is not known.
std::optional<Impedance> protective_ohms(const Situation& s, Index element, End end) {
    Impedance sum{};
    for (const Index i : bench_way(s, element)) {
        const network::Branch& branch = s.network.branches[i];
        if (!branch.cable || branch.protective_passes == Ratio{}) continue;
        if (!branch.protective || !length_known(branch)) return std::nullopt;
        sum += Impedance((*branch.protective).*end * branch.length * branch.protective_passes);
    }
    return sum;
}

/// Cold ohms of one live conductor, strands plain where nobody knows their coating.
std::optional<Impedance> live_ohms(const Situation& s, Index element, Conductor c) {
    Impedance sum{};
    for (const Index i : bench_way(s, element)) {
        const network::Branch& branch = s.network.branches[i];
        if (!branch.cable) continue;
        if (branch.no_resistance || !length_known(branch)) return std::nullopt;
        sum += Impedance(branch.line.least * branch.length * branch.passes[static_cast<std::size_t>(c)]);
    }
    return sum;
}

/// The most that is in order + margin, and never more than a cord of that length may have.
Impedance protective_stop(const Situation& s, Index element, Impedance most_in_order) {
    using Of = figures::thresholds;
    const Impedance margin = Of::continuity_margin(s.tables).value,
                    short_cord = Of::continuity_most_short(s.tables).value,
                    step = Of::continuity_step(s.tables).value, most = Of::continuity_most(s.tables).value;
    const Length step_length = Of::continuity_step_length(s.tables).value,
                 short_length = Of::continuity_short_length(s.tables).value;
    Length length{};
    for (const Index i : bench_way(s, element)) length += s.network.branches[i].length;
    const double steps =
        std::max(0.0, std::ceil(in(unit::one, Ratio((length - short_length) / step_length))));
    const Impedance allowed = std::min(Impedance(short_cord + steps * step), most);
    return std::min(Impedance(most_in_order + margin), allowed);
}

}  // namespace

Ohms protective_reading(const Situation& s, Index element) {
    Ohms reading;
    reading.expected = protective_ohms(s, element, &network::Core::least);
    // Tinned strands read more and are no fault: the stop goes by the most that the standard allows.
    if (const auto most = protective_ohms(s, element, &network::Core::cold))
        reading.stop = protective_stop(s, element, *most);
    return reading;
}

namespace {

/// The usual load of the reading, or the largest handy part of it that plug, switches and outlets on the way
/// all carry.
Current test_load(const Situation& s, Index outlet, Current usual) {
    Current least = usual;
    const auto bound = [&](std::optional<Current> rating) {
        if (rating) least = std::min(least, *rating);
    };
    for (const Index i : s.plan.path_to(outlet)) {
        const plan::Element& e = s.plan[i];
        if (e.plug.known()) bound(plug_rating(s, i).current);
        if (e.fuse.known()) bound(*e.fuse);
        if (e.kind == plan::Kind::outlet) bound(outlet_rating(s, i).current);
        if (const auto* sw = e.as<plan::Switch>()) bound(sw->rating.value);
        if (const auto* device = e.as<plan::Device>()) bound(device->rating.value);
    }
    for (const double part : {1.0, 0.5, 0.2, 0.1})
        if (least >= part * usual) return part * usual;
    return least;
}

/// Where the second meter stands, and the impedance from there to an outlet, out on one conductor and back.
struct Way {
    FallFrom from = FallFrom::idle;
    std::optional<ComplexImpedance> impedance;  ///< nothing: a length or a table of the bench is missing
};

/// The last element of the house on the way to one of the bench.
Index wall_before(const Situation& s, Index element) {
    Index up = element;
    while (s.plan[up].parent != plan::nowhere && !s.network.house[up]) up = s.plan[up].parent;
    return up;
}

Way way_to(const Situation& s, Index outlet, const network::Pair& pair) {
    const auto between = [&](Index element) {
        const auto z = network::impedance_to(s.plan, s.network, element);
        return z[static_cast<std::size_t>(pair.from)] + z[static_cast<std::size_t>(pair.to)];
    };
    const Index wall = wall_before(s, outlet);
    Way way;
    for (const Index up : s.plan.path_to(outlet)) {
        const network::Branch& branch = s.network.branches[up];
        if (branch.known && !branch.no_resistance) continue;
        if (!s.network.house[up]) return {FallFrom::wall, {}};
        way.from = FallFrom::wall;
    }
    if (way.from == FallFrom::wall) return {FallFrom::wall, between(outlet) - between(wall)};
    const SourceSeen source = source_seen(s, outlet);
    if (!source.known) return {FallFrom::source, between(outlet)};
    // A line's loop with its neutral stands for the source between two lines too: it is counted once.
    const Impedance before = source.impedance.value_or(Impedance{});
    return {FallFrom::idle, between(outlet) + rectangular(before, Impedance{})};
}

std::optional<FallReading> fall_reading(const Situation& s, Index outlet) {
    const auto used = s.plan[outlet].conductors.value_or(plan::Conductors{});
    const auto pair = network::pair_of(used);
    if (!pair) return std::nullopt;
    const plan::Supply& supply = s.plan.supply_of(outlet);
    const Way way = way_to(s, outlet, *pair);
    FallReading r;
    r.heater = network::nominal_between(supply, used);
    r.load = test_load(s, outlet, figures::thresholds::reading_load(s.tables).value);
    r.from = way.from;
    if (!way.impedance) return r;
    const VoltagePhasor idle =
        network::nominal_voltage(supply, pair->from) - network::nominal_voltage(supply, pair->to);
    const auto direction = idle.value() / std::abs(idle.value());
    const VoltagePhasor lost =
        VoltagePhasor::from_value(in(unit::ampere, r.load) * direction * way.impedance->value());
    r.expected = magnitude(idle) - magnitude(VoltagePhasor(idle - lost));
    const Ratio excess = figures::thresholds::reading_drop_excess(s.tables).value;
    r.stop = Voltage(*r.expected * Ratio(1.0 * unit::one + excess));
    return r;
}

/// What a loop meter shows: the loop at the panel as stated (or a reading at an outlet) and the runs, cold.
/// A stated fault current is an upper bound and no reading.
std::optional<Impedance> loop_reading(const Situation& s, Index outlet) {
    network::Loop loop = network::fault_loop(s.plan, s.tables, s.network, outlet, network::Return::protective,
                                             network::Extreme::most);
    const plan::Supply& supply = s.plan.supply_of(outlet);
    if (loop.read_at == plan::nowhere) loop.source = supply.loop_impedance.value;
    loop.reactive = false;
    if (!loop.known() || loop.uncertain != plan::nowhere) return std::nullopt;
    return loop.impedance();
}

/// What the region tests by.
tables::Found<figures::sheet_tests::Row> tests_of(const Situation& s) {
    return figures::sheet_tests::at(s.tables, s.practice().region);
}

/// A cold loop above which the warm one may be too much, where the region has such a share of U0 / Ia.
void set_doubtful_loop(const Situation& s, OutletReadings& r, const AllowedLoop& allowed) {
    const auto tests = tests_of(s);
    if (!tests)
        r.missing = tests.missing();
    else if (const auto share = tests->loop_doubt())
        r.loop_doubt =
            Impedance(share->value * network::line_to_neutral(s.plan, r.outlet) / allowed.opening.current);
}

/// Puts the reading of the loop above which somebody stops.
///
/// Where the loop that is expected is too much for every overcurrent device, the residual device is what
/// opens: in a TT system with any loop up to its own, elsewhere a fifth more than expected is a bad joint,
/// however much the device bears.
void set_loop_stop(const Situation& s, OutletReadings& r) {
    if (s.nec()) return;
    const Ratio cold = figures::thresholds::cold_loop(s.tables).value;
    const auto allowed = allowed_loop(s, r.outlet);
    if (allowed.missing) {
        r.missing = allowed.missing;
        return;
    }
    if (allowed.best) {
        r.loop_stop = Impedance(cold * allowed.best->loop);
        r.loop_warm = allowed.best->loop;
        set_doubtful_loop(s, r, *allowed.best);
    }
    const bool tt = s.plan.supply_of(r.outlet).earthing.is(plan::Earthing::tt);
    const bool enough = r.loop ? r.loop_stop && *r.loop <= *r.loop_stop : !tt;
    const auto residual = residual_above(s, r.outlet);
    if (enough || !residual || !residual->trip) return;
    const auto touch = touch_voltage(s);
    const auto stable = stable_electrode(s);
    const Ratio excess = figures::thresholds::reading_drop_excess(s.tables).value;
    r.loop_by_residual = true;
    r.loop_doubt.reset();
    r.loop_stop = Impedance(touch.value / *residual->trip);
    if (tt) r.loop_stop = std::min(*r.loop_stop, stable.value);
    r.loop_warm = r.loop_stop;
    if (!tt) r.loop_stop = std::min(*r.loop_stop, Impedance(*r.loop * (1.0 + excess)));
}

}  // namespace

OutletReadings outlet_readings(const Situation& s, Index outlet) {
    OutletReadings r;
    r.outlet = outlet;
    r.protective = protective_reading(s, outlet);
    const auto used = s.plan[outlet].conductors.value_or(plan::Conductors{});
    if (const auto pairs = network::pairs_of(used); pairs.count > 0) {
        r.line = live_ohms(s, outlet, pairs.begin()->from);
        const auto back = live_ohms(s, outlet, pairs.begin()->to);
        if (r.line && back) r.round = *r.line + *back;
        if (used.has(Conductor::n) && pairs.begin()->to != Conductor::n)
            r.neutral = live_ohms(s, outlet, Conductor::n);
    }
    for (const Index up : bench_way(s, outlet))
        if (const auto* sw = s.plan[up].as<plan::Switch>()) r.open_when_dead |= open_when_dead(*sw);
    r.loop = loop_reading(s, outlet);
    set_loop_stop(s, r);
    r.fall = fall_reading(s, outlet);
    return r;
}

namespace {

/// Class A of UL 943: at the least current at which it must trip. What protects equipment has other times.
void test_by_class(const Situation& s, ResidualReading& r) {
    using Of = figures::ul_943;
    const Current most = Of::must_trip_at(s.tables).value;
    if (above(r.trip, most)) return;
    r.test = most;
    r.stays = Of::no_trip_below(s.tables);
    const auto row = Of::at(s.tables, most);
    if (row)
        r.most = row->max_trip();
    else
        r.missing = row.missing();
}

/// IEC 61008-1 Table 1, at what the region tests.
void test_by_times(const Situation& s, ResidualReading& r, bool delayed) {
    using Of = figures::iec_61008_times;
    const Of::Row row = Of::at(s.tables, delayed ? Of::Kind::s : Of::Kind::general);
    r.most = row.at_1();
    const auto tests = tests_of(s);
    if (!tests) r.missing = tests.missing();
    if (!tests || !tests->residual_at_5()) return;
    r.most_at_high = row.at_5();
    r.high_test = Current(r.test * Of::high_test(s.tables).value);
}

}  // namespace

std::optional<ResidualReading> residual_reading(const Situation& s, Index i) {
    const auto* device = s.plan[i].as<plan::Device>();
    if (!device || !device->residual || !device->residual->trip.known()) return std::nullopt;
    ResidualReading r;
    r.device = i;
    r.trip = r.test = *device->residual->trip;
    if (s.nec())
        test_by_class(s, r);
    else
        test_by_times(s, r, device->residual->delay.is(plan::Delay::s));
    return r;
}

namespace {

std::vector<ResidualReading> residual_readings(const Situation& s) {
    std::vector<ResidualReading> found;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (const auto reading = residual_reading(s, i)) found.push_back(*reading);
    return found;
}

/// An outlet that somebody tests: of the bench, and not inside a machine.
bool is_tested(const Situation& s, Index i) {
    return s.plan[i].kind == plan::Kind::outlet && !s.network.house[i] && !inside_a_machine(s, i);
}

}  // namespace

bool open_when_dead(const plan::Switch& sw) {
    using plan::SwitchKind;
    return sw.no_volt.is(true) || sw.wiring.is(plan::Wiring::control) || sw.kind.is(SwitchKind::contactor) ||
           sw.kind.is(SwitchKind::current_sensing) || sw.kind.is(SwitchKind::remote) ||
           sw.kind.is(SwitchKind::timer);
}

Readings readings(const Situation& s) {
    Readings all;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (is_tested(s, i)) all.outlets.push_back(outlet_readings(s, i));
    for (Index m = 0; m < s.plan.metals.size(); ++m)
        if (const Index at = s.plan.metals[m].bonded_index; at != plan::nowhere)
            all.metals.push_back({m, protective_reading(s, at)});
    all.residuals = residual_readings(s);
    all.loop_excess = figures::thresholds::continuity_margin(s.tables);
    if (!s.nec()) {
        using Of = figures::iec_60364_6;
        const Of::Row row = Of::at(s.tables, Of::Circuit::up_to_500_v_felv_included);
        all.insulation_volts = row.test_voltage();
        all.insulation_least = row.min_insulation();
    }
    return all;
}

}  // namespace benchfeed::rules
