// volts.wrong-voltage: a load hangs on volts, lines or a frequency that its plate does not name.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/nema_mg1_voltage.hpp>
#include <benchfeed/figures/thresholds.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/stops.hpp>

namespace benchfeed::rules::wrong_voltage {
namespace {

constexpr std::uint8_t fits = 0, wrong_volts = 1, low_side = 2, wrong_frequency = 3, ask_volts = 4,
                       coil_fits = 5, coil_too_high = 6, coil_ask = 7;

tables::Figure<Ratio> tolerance(const Situation& s) {
    return figures::nema_mg1_voltage::voltage_tolerance(s.tables);
}

bool two_voltages(const plan::Supply& supply) {
    return supply.system.is(plan::System::v120_240) || supply.system.is(plan::System::v120_208) ||
           supply.system.is(plan::System::v230_400);
}

Voltage volts_of(const Situation& s, Index load) {
    return network::nominal_between(s.plan.supply_of(load),
                                    s.plan[load].conductors.value_or(plan::Conductors{}));
}

/// A plate of another frequency matters to motors whose speed follows it.
bool other_frequency(const Situation& s, Index i) {
    const auto& load = *s.plan[i].as<plan::Load>();
    if (!load.plate || !load.plate->frequency.known() || !load.motor.is(plan::Motor::induction)) return false;
    const Frequency supply = s.plan.supply_of(i).frequency.value_or(s.practice().frequency);
    return std::abs(in(unit::hertz, *load.plate->frequency) - in(unit::hertz, supply)) > 1;
}

/// Volts within the plate's range are right; outside it the tolerance of motors decides. 208 V on a plate of
/// 230 V is within it, and still too little for full torque.
std::uint8_t compare(Voltage volts, const VoltageRange& plate, Ratio allowed, Ratio low_share) {
    const double v = in(unit::volt, volts), low = in(unit::volt, plate.low),
                 high = in(unit::volt, plate.high), share = in(unit::one, allowed), slack = 1e-9;
    if (v < low * (1 - share) - slack || v > high * (1 + share) + slack) return wrong_volts;
    return v < low * in(unit::one, low_share) ? low_side : fits;
}

std::optional<Outcome> judge_load(const Situation& s, Index i) {
    const auto& load = *s.plan[i].as<plan::Load>();
    const auto allowed = tolerance(s);
    const Ratio low_share = figures::thresholds::low_side_voltage(s.tables).value;
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::marking;
    o.value = volts_of(s, i);
    o.ground.grade = allowed.source.grade;
    const bool stated = load.plate && load.plate->voltage.known() && load.plate->voltage.written();
    if (!stated) {
        if (!two_voltages(s.plan.supply_of(i))) return std::nullopt;  // taken to be of the supply's volts
        o = undecided(o.at, Part::whole, ask_volts);
        return o;
    }
    o.variant = compare(volts_of(s, i), *load.plate->voltage, allowed.value, low_share);
    if (o.variant == wrong_volts) o.verdict = Verdict::fail;
    if (o.variant == low_side) o.verdict = Verdict::caution;
    if (o.variant != wrong_volts && other_frequency(s, i)) {
        o.variant = wrong_frequency;
        o.verdict = Verdict::fail;
    }
    return o;
}

/// The coil of a contactor or release against the conductors at it.
std::optional<Outcome> judge_coil(const Situation& s, Index i) {
    const auto* sw = s.plan[i].as<plan::Switch>();
    const auto coil = sw && sw->coil.known() ? coil_of(s, i) : std::nullopt;
    if (!coil) return std::nullopt;
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::marking;
    o.value = coil->there;
    o.variant = coil_fits;
    const auto most = threshold(s, "coil_most"), least = threshold(s, "coil_pick_up");
    if (coil->made_for != coil->there && (!most || !least))
        return undecided(o.at, Part::whole, coil_ask);  // nobody says how far volts may be apart
    if (coil->made_for != coil->there)  // one that is made for too much falls to the lower end alone
        o.ground.grade = coil->seat == Seat::too_high ? least->source.grade
                                                      : std::min(most->source.grade, least->source.grade);
    if (coil->seat == Seat::too_low) return undecided(o.at, Part::whole, coil_ask);
    if (coil->seat == Seat::too_high) {
        o.verdict = Verdict::fail;
        o.variant = coil_too_high;
    }
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (const network::LoadPoint& load : s.network.loads)
        if (const auto outcome = judge_load(s, load.element)) yield.outcomes.push_back(*outcome);
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (const auto outcome = judge_coil(s, i)) yield.outcomes.push_back(*outcome);
    return yield;
}

/// What a coil gets as a share of its mark, and the band in which it works.
void add_coil_band(const Situation& s, const Coil& coil, Explanation& e) {
    const auto least = threshold(s, "coil_pick_up"), most = threshold(s, "coil_most");
    if (!least || !most || coil.made_for == coil.there) return;
    e.sources = {least->source};
    if (coil.seat != Seat::too_high) e.sources.push_back(most->source);
    Working working;
    const Value made = working.written(to_text(coil.made_for, 6)),
                there = working.computed(in(unit::volt, coil.there), "V");
    const Value low =
        working.add("U_least", "share * U_coil", "{} * {}", {working.written(to_text(least->value)), made},
                    "V", {network::cited(least->source)});
    const bool enough = coil.seat != Seat::too_high;
    working.compare(there, enough ? ">=" : "<", low);
    if (enough)
        working.compare(
            there, "<=",
            working.add("U_most", "share * U_coil", "{} * {}", {working.written(to_text(most->value)), made},
                        "V", {network::cited(most->source)}));
    e.steps = working.finish();
}

Explanation explain_coil(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& mark = element.as<plan::Switch>()->coil;
    const Coil coil = *coil_of(s, o.at.index);
    const std::string name = element.words(), made = to_text(coil.made_for, 6), there = to_text(coil.there);
    if (o.variant == coil_ask)
        return ask_for_rating(
            s, o, place_of(mark, element), element.path() + ".coil",
            fmt::format(
                "What feeds the {} coil of {}? The plan has {} there: without a transformer it gets too hot",
                made, name, there),
            "printed at the coil; a transformer or a power supply in the control box");
    Explanation e;
    e.place = {place_of(mark, element), ""};
    e.related.push_back({s.plan[element.parent].header, "here are " + there});
    e.headline = fmt::format("The coil of {} is made for {} and gets {}", name, made, there);
    add_coil_band(s, coil, e);
    if (o.variant == coil_fits) return e;
    e.short_words = "the coil of " + name + " is made for another voltage";
    e.consequence = "It does not pull in, or hums and lets go: the tool never runs.";
    e.remedies = {{Cost::cheap, "a coil for " + there, {{element.path() + ".coil", there}}}};
    return e;
}

std::string plate_text(const VoltageRange& plate) {
    return plate.low == plate.high ? to_text(plate.low, 6)
                                   : to_text(plate.low, 6) + " to " + to_text(plate.high, 6);
}

void explain_volts(const Situation& s, const Outcome& o, Explanation& e) {
    const auto& plate = *s.plan[o.at.index].as<plan::Load>()->plate->voltage;
    const auto allowed = tolerance(s);
    const bool low = volts_of(s, o.at.index) < plate.low;
    const double share = in(unit::one, allowed.value);
    Working working;
    const Value edge = working.add(
        low ? "U_least" : "U_most", low ? "U_plate * (1 - tolerance)" : "U_plate * (1 + tolerance)",
        low ? "{} * (1 - {})" : "{} * (1 + {})",
        {working.written(to_text(low ? plate.low : plate.high, 6)), working.written(digits(share, 3))}, "V",
        {network::cited(allowed.source)});
    const Value volts = working.computed(number(o.value), "V");
    const bool outside = o.variant == wrong_volts;
    working.compare(volts, low ? (outside ? "<" : ">=") : (outside ? ">" : "<="), edge);
    e.steps = working.finish();
    e.sources.push_back(allowed.source);
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.variant >= coil_fits) return explain_coil(s, o);
    const plan::Element& element = s.plan[o.at.index];
    const auto& load = *element.as<plan::Load>();
    const std::string name = element.words();
    if (o.variant == ask_volts)
        return ask_for_rating(s, o, element.header, element.path() + ".plate.voltage",
                              "For which voltage is " + name + " made? Two voltages are there",
                              "on its plate; some motors are wired for one of two");
    Explanation e;
    e.place = {place_of(load.plate->voltage, element), ""};
    e.related.push_back({s.plan[element.parent].header,
                         "here are " + to_text(o.value) + " (" +
                             plan::conductors_text(element.conductors.value_or(plan::Conductors{})) + ")"});
    const std::string plate = plate_text(*load.plate->voltage);
    if (o.variant == wrong_frequency) {
        e.place = {place_of(load.plate->frequency, element), ""};
        e.headline = fmt::format(
            "{} is made for {}, the supply has {}", capital(name), to_text(*load.plate->frequency),
            to_text(s.plan.supply_of(o.at.index).frequency.value_or(s.practice().frequency)));
        e.short_words = name + " is made for another frequency";
        e.consequence = "An induction motor runs at another speed and gets hot.";
        e.remedies = {{Cost::moderate, "a motor for this frequency"}};
        return e;
    }
    explain_volts(s, o, e);
    e.headline = fmt::format("{} is made for {} and gets {}", capital(name), plate, to_text(o.value));
    if (o.variant == fits) return e;
    if (o.variant == low_side) {
        e.consequence = "A motor gives less torque and pulls more current than its plate says.";
        e.remedies = {{Cost::free, "see whether it can be wired for " + to_text(o.value)}};
        return e;
    }
    e.short_words = name + " is connected to the wrong voltage";
    const bool low = number(o.value) < in(unit::volt, load.plate->voltage->low);
    e.consequence = low ? "It does not start, or runs weakly and heats." : "It is destroyed, and may burn.";
    e.remedies = {{Cost::free, "an outlet on the lines that its plate asks for, if the bench has one"},
                  {Cost::electrician, "a circuit of that voltage"}};
    return e;
}

}  // namespace

const Rule rule{.id = "volts.wrong-voltage",
                .title = "a load is connected to a voltage that its plate does not name",
                .harm = Harm::volts,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::wrong_voltage
