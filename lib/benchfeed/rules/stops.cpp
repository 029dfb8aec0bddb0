#include <benchfeed/rules/stops.hpp>

#include <algorithm>
#include <array>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/thresholds.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

using plan::Conductors;

namespace {

Stop stop_at(const Situation& s, Index i) {
    const plan::Switch& sw = *s.plan[i].as<plan::Switch>();
    Stop stop{i, sw.stop_indices, true};
    const bool own_contacts = !in_control_circuit(sw) || !s.plan[i].children.empty();
    if (own_contacts) stop.opens.push_back(i);
    stop.known = own_contacts || sw.stops.known();
    return stop;
}

}  // namespace

std::vector<Stop> emergency_stops(const Situation& s) {
    std::vector<Stop> stops;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (const auto* sw = s.plan[i].as<plan::Switch>();
            sw && sw->kind.is(plan::SwitchKind::emergency_stop))
            stops.push_back(stop_at(s, i));
    return stops;
}

bool acts_on(const Situation& s, const Stop& stop, Index element) {
    return std::any_of(stop.opens.begin(), stop.opens.end(),
                       [&](Index open) { return s.network.hangs_below(element, open); });
}

bool opens_something(const Situation& s, const Stop& stop) {
    return std::any_of(stop.opens.begin(), stop.opens.end(),
                       [&](Index open) { return feeds_outlets(s, open) || !loads_below(s, open).empty(); });
}

std::vector<Index> stopped_by(const Situation& s, const Stop& stop) {
    std::vector<Index> loads;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == plan::Kind::load && acts_on(s, stop, i)) loads.push_back(i);
    return loads;
}

bool in_control_circuit(const plan::Switch& sw) {
    return sw.wiring.is(plan::Wiring::control);
}

namespace {
/// No load, outlet or switch of the power circuit at or below an element.
bool only_control_below(const Situation& s, Index element) {
    const plan::Element& e = s.plan[element];
    if (const auto* sw = e.as<plan::Switch>()) return in_control_circuit(*sw) && e.children.empty();
    if (e.kind != plan::Kind::box && e.kind != plan::Kind::device) return false;
    return !e.children.empty() && std::all_of(e.children.begin(), e.children.end(),
                                              [&](Index child) { return only_control_below(s, child); });
}
}  // namespace

bool carries_coils_alone(const Situation& s, Index element) {
    const auto* sw = s.plan[element].as<plan::Switch>();
    return sw ? in_control_circuit(*sw) : only_control_below(s, element);
}

namespace {

using plan::Conductor;

/// The coil pulls in and does not get too hot: 220, 230 and 240 V are one, 380, 400 and 415 V another.
///
///     coil_pick_up <= U / U_coil <= coil_most
bool fits(const Situation& s, Voltage coil, Voltage there) {
    const Ratio least = figures::thresholds::coil_pick_up(s.tables).value,
                most = figures::thresholds::coil_most(s.tables).value;
    const double share = in(unit::one, Ratio(there / coil));
    return !above(in(unit::one, least), share) && !above(share, in(unit::one, most));
}

/// Each line against the neutral, or each two lines.
std::vector<network::Pair> pairs_at(Conductors arriving, bool between_lines) {
    std::vector<network::Pair> pairs;
    constexpr std::array lines{Conductor::l1, Conductor::l2, Conductor::l3};
    for (std::size_t a = 0; a < lines.size(); ++a) {
        if (!arriving.has(lines[a])) continue;
        if (!between_lines) pairs.push_back({lines[a], Conductor::n});
        for (std::size_t b = a + 1; between_lines && b < lines.size(); ++b)
            if (arriving.has(lines[b])) pairs.push_back({lines[a], lines[b]});
    }
    return pairs;
}

Voltage between(const plan::Supply& supply, network::Pair pair) {
    return magnitude(VoltagePhasor(network::nominal_voltage(supply, pair.from) -
                                   network::nominal_voltage(supply, pair.to)));
}

/// Where a coil lets go; nothing: the element has none.
std::optional<tables::Figure<Ratio>> hold_of(const Situation& s, Index element) {
    using Of = figures::thresholds;
    if (const auto* sw = s.plan[element].as<plan::Switch>()) {
        const bool contactor = sw->kind.is(plan::SwitchKind::contactor);
        if (!contactor && !sw->no_volt.is(true)) return std::nullopt;
        if (s.nec()) return Of::coil_hold_us(s.tables);
        return contactor ? Of::coil_hold_contactor(s.tables) : Of::coil_hold_no_volt(s.tables);
    }
    const auto* device = s.plan[element].as<plan::Device>();
    if (!device || !device->standard.is(plan::DeviceStandard::iec_61540)) return std::nullopt;
    return Of::coil_hold_portable(s.tables);
}

}  // namespace

std::optional<Remedy> control_fuse(const Situation& s, Index element) {
    const auto least = figures::thresholds::control_fuse_least(s.tables),
               most = figures::thresholds::control_fuse_most(s.tables);
    if (!s.plan[element].cable || !carries_coils_alone(s, element)) return std::nullopt;
    return Remedy{Cost::cheap, "a control fuse of " + to_text(least.value) + " to " + to_text(most.value) +
                                   " where the control circuit leaves the power circuit"};
}

std::optional<Coil> coil_of(const Situation& s, Index element) {
    const auto hold = hold_of(s, element);
    if (!hold) return std::nullopt;
    Coil coil;
    coil.hold = *hold;
    const plan::Supply& supply = s.plan.supply_of(element);
    Conductors arriving = s.plan[element].conductors.value_or(Conductors{});
    // A control circuit may take a conductor from the box before it that its contacts do not carry on.
    if (const Index above = s.plan[element].parent; above != plan::nowhere)
        arriving.mask =
            static_cast<std::uint8_t>(arriving.mask | s.plan[above].conductors.value_or(Conductors{}).mask);
    const auto* sw = s.plan[element].as<plan::Switch>();
    const std::optional<Voltage> marked = sw ? sw->coil.value : std::nullopt;
    for (const bool lines : {false, true}) {
        if (lines ? arriving.lines() < 2 : !arriving.has(Conductor::n)) continue;
        const auto pairs = pairs_at(arriving, lines);
        if (pairs.empty()) continue;
        coil.pairs = pairs;
        coil.there = between(supply, pairs.front());
        coil.made_for = marked.value_or(coil.there);
        coil.seat = lines ? Seat::line_to_line : Seat::line_to_neutral;
        if (fits(s, coil.made_for, coil.there)) return coil;
        // What is higher than the lower volts may still fit the higher ones.
        coil.seat = coil.made_for < coil.there ? Seat::too_low : Seat::too_high;
        if (coil.seat == Seat::too_low) return coil;
    }
    if (coil.pairs.empty()) return std::nullopt;
    return coil;
}

}  // namespace benchfeed::rules
