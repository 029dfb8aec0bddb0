// plan.contradiction: figures of one supply, or of one outlet, that cannot all be true.
#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/fault.hpp>
#include <benchfeed/rules/held_against.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules::contradiction {
namespace {

/// Which two figures disagree, and how.
enum Variant : std::uint8_t {
    line_above_stated,  ///< the line impedance lets more flow than the highest current of the plan
    loop_above_stated,  ///< the earth loop does
    line_below_stated,  ///< the line impedance lets far less flow
    loop_below_line,    ///< the earth loop is less than the line conductor alone
    loop_beside_line,   ///< protective conductor and neutral are one, and the loops are not alike
    reading_beside      ///< a reading says another loop than the one that the calculation is fed with
};

using plan::Earthing;
using plan::Supply;

bool is_tn(const Supply& supply) {
    return supply.earthing.is(Earthing::tn_s) || supply.earthing.is(Earthing::tn_c_s) ||
           supply.earthing.is(Earthing::tn_c);
}

/// What figures of one supply may differ by: two readings of the same; what no two readings do; and a highest
/// current that the distributor states beside what is there.
struct Margins {
    double reading = 0, doubt = 0, stated = 0;
};
std::optional<Margins> margins(const Situation& s) {
    const auto reading = threshold(s, "source_reading"), doubt = threshold(s, "source_doubt"),
               stated = threshold(s, "source_stated");
    if (!reading || !doubt || !stated) return std::nullopt;
    return Margins{in(unit::one, reading->value), in(unit::one, doubt->value), in(unit::one, stated->value)};
}

/// Current of a loop at the panel against the current that the plan states.
std::optional<Variant> against_current(const Situation& s, Index i, const Margins& most) {
    const Supply& supply = *s.plan[i].as<Supply>();
    if (!supply.fault_current.known()) return std::nullopt;
    const Voltage volts = network::line_to_neutral(s.plan, i);
    const Current stated = *supply.fault_current;
    const auto flows = [&](const plan::Field<Impedance>& z) { return Current(volts / *z); };
    const auto& line = supply.line_impedance;
    const auto& loop = supply.loop_impedance;
    if (line.known() && above(flows(line), Current(stated * most.reading))) return line_above_stated;
    if (is_tn(supply) && loop.known() && above(flows(loop), Current(stated * most.reading)))
        return loop_above_stated;
    // In the US the stated current is that between the lines of a transformer.
    if (!s.nec() && line.known() && above(stated, Current(flows(line) * most.stated)))
        return line_below_stated;
    return std::nullopt;
}

/// The two loops of a TN supply against each other.
std::optional<Variant> against_each_other(const Supply& supply, const Margins& most) {
    if (!is_tn(supply) || !supply.line_impedance.known() || !supply.loop_impedance.known())
        return std::nullopt;
    const double line = in(unit::ohm, *supply.line_impedance), loop = in(unit::ohm, *supply.loop_impedance);
    if (above(line, loop * most.doubt)) return loop_below_line;
    const bool one_conductor = !supply.earthing.is(Earthing::tn_s);
    return one_conductor && above(loop, line * most.doubt) ? std::optional(loop_beside_line) : std::nullopt;
}

/// Of these readings the latest cold ones of loops at outlets whose loop was measured, where the two are too
/// far apart to be readings of the same.
std::vector<const plan::MeterReading*> beside_measured(const Situation& s, const Margins& most,
                                                       std::vector<const plan::MeterReading*> readings) {
    using Kind = plan::Found::Kind;
    std::vector<const plan::MeterReading*> beside;
    for (const plan::MeterReading* reading : latest_of(std::move(readings))) {
        if (!reading->test.is(plan::Test::loop) || reading->cold.is(false)) continue;
        const auto& measured = s.plan[reading->element].as<plan::Outlet>()->measured;
        const auto found = plan::read_found(*reading->found);
        if (!measured || !measured->loop.known() || !found || found->kind == Kind::open) continue;
        const double fed = in(unit::ohm, *measured->loop), read = number(found->value);
        const bool less = found->kind != Kind::above && above(fed, read * most.reading),
                   more = found->kind != Kind::below && above(read, fed * most.reading);
        if (less || more) beside.push_back(reading);
    }
    return beside;
}

/// A loop that was measured feeds the calculation; another reading of it is beside that.
void look_at_readings(const Situation& s, const Margins& most, Yield& yield) {
    for (const plan::MeterReading* reading : beside_measured(s, most, latest_readings(s.plan))) {
        Outcome o;
        o.at = at_element(reading->element);
        o.fold = reading->element;
        o.verdict = Verdict::caution;
        o.basis = Basis::physics;
        o.value = plan::read_found(*reading->found)->value;
        o.edge = *s.plan[reading->element].as<plan::Outlet>()->measured->loop;
        o.variant = reading_beside;
        yield.outcomes.push_back(o);
    }
}

Yield look(const Situation& s) {
    Yield yield;
    const auto most = margins(s);
    if (most && !s.plan.readings.empty()) look_at_readings(s, *most, yield);
    for (Index i = 0; i < s.plan.elements.size() && most; ++i) {
        const auto* supply = s.plan[i].as<Supply>();
        if (!supply || !supply->source.is(plan::SupplySource::public_network)) continue;
        auto variant = against_current(s, i, *most);
        if (!variant) variant = against_each_other(*supply, *most);
        if (!variant) continue;
        Outcome o;
        o.at = at_element(i);
        o.verdict = Verdict::caution;
        o.basis = Basis::physics;
        o.variant = *variant;
        yield.outcomes.push_back(o);
    }
    return yield;
}

Explanation explain_current(const Situation& s, const Outcome& o, const plan::Field<Impedance>& z,
                            const std::string& what) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& stated = element.as<Supply>()->fault_current;
    Explanation e;
    e.place = {place_of(z, element), to_text(*z, 6)};
    e.related.push_back({place_of(stated, element), to_text(*stated, 6)});
    Working working;
    const Voltage volts = network::line_to_neutral(s.plan, o.at.index);
    const Value flows = working.add(
        "I", "U0 / Z", "{} / {}", {working.written(to_text(volts, 6)), working.written(to_text(*z, 6))}, "A");
    const bool more = o.variant != line_below_stated;
    working.compare(flows, more ? ">" : "<", working.written(to_text(*stated, 6)));
    e.steps = working.finish();
    e.headline = fmt::format("{} of {} ({}) means {}; the plan says {} at most", capital(what),
                             element.words(), to_text(*z), to_text(Current(volts / *z)), to_text(*stated));
    e.consequence =
        more ? "Devices and cables are held against less than flows in a short circuit."
             : "One of the two is not of this supply: either the dips or the faults are worked out too mild.";
    return e;
}

Explanation explain_reading(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& measured = element.as<plan::Outlet>()->measured->loop;
    Explanation e;
    e.place = {place_of(measured, element), "the calculation takes this"};
    const auto most = margins(s);
    if (!most) return e;
    std::vector<const plan::MeterReading*> here;
    for (const plan::MeterReading& reading : s.plan.readings)
        if (reading.element == o.at.index) here.push_back(&reading);
    const auto all = beside_measured(s, *most, std::move(here));
    const auto it = std::find_if(all.begin(), all.end(), [&](const plan::MeterReading* reading) {
        return plan::read_found(*reading->found)->value == o.value;
    });
    if (it == all.end()) return e;
    const plan::MeterReading& reading = **it;
    e.related.push_back({reading.found.span, "read on " + *reading.date});
    e.headline = fmt::format("The fault loop at {} is {} as measured, and {} as read on {}", element.words(),
                             to_text(*measured), *reading.found, *reading.date);
    e.short_words = "two loops of " + element.words() + " contradict each other";
    e.consequence =
        "The calculation takes the first. One of the two is not of this outlet, or something has "
        "changed between them.";
    e.remedies = {{Cost::free, "read it again, and write it in both places"}};
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.variant == reading_beside) return explain_reading(s, o);
    const plan::Element& element = s.plan[o.at.index];
    const Supply& supply = *element.as<Supply>();
    Explanation e;
    if (o.variant == line_above_stated || o.variant == line_below_stated) {
        e = explain_current(s, o, supply.line_impedance, "the line impedance");
    } else if (o.variant == loop_above_stated) {
        e = explain_current(s, o, supply.loop_impedance, "the earth fault loop");
    } else {
        e.place = {place_of(supply.loop_impedance, element), to_text(*supply.loop_impedance, 6)};
        e.related.push_back({place_of(supply.line_impedance, element), to_text(*supply.line_impedance, 6)});
        e.headline =
            fmt::format("The earth fault loop of {} is {}, the line impedance {}: {}", element.words(),
                        to_text(*supply.loop_impedance), to_text(*supply.line_impedance),
                        o.variant == loop_below_line
                            ? "both run through the line conductor, so they cannot differ so much"
                            : "both come back through one conductor, so they should be alike");
        e.consequence = "Either the drops or the fault times are worked out with a wrong figure.";
    }
    e.short_words = "two figures of " + element.words() + " contradict each other";
    e.remedies = {{Cost::free,
                   "read both again off the test report: line to neutral, line to earth, and the "
                   "highest fault current"},
                  {Cost::electrician, "have all three measured at the panel"}};
    e.questions.push_back({element.path() + ".line_impedance", "Which of the two was measured at this panel?",
                           "the test report of the house"});
    return e;
}

}  // namespace

const Rule rule{.id = "plan.contradiction",
                .title = "figures of a supply, or of an outlet, that contradict each other",
                .harm = Harm::plan,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::contradiction
