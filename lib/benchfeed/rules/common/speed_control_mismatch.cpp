// heat.speed-control-mismatch: a speed control before a motor that it is not made for.
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::speed_control_mismatch {
namespace {

enum Variant : std::uint8_t { suits, induction, electronic, unknown_motor };

/// The nearest speed control on the way to a load; nowhere if there is none.
Index control_before(const Situation& s, Index load) {
    for (Index up = s.plan[load].parent; up != plan::nowhere; up = s.plan[up].parent) {
        const auto* sw = s.plan[up].as<plan::Switch>();
        if (sw && sw->kind.is(plan::SwitchKind::speed_control)) return up;
    }
    return plan::nowhere;
}

Variant variant_of(const plan::Load& load) {
    if (load.motor.is(plan::Motor::induction)) return induction;
    const bool electronics = load.motor.is(plan::Motor::electronic) || load.soft_start.is(true) ||
                             (load.drive.known() && !load.drive.is(plan::Drive::none));
    if (electronics) return electronic;
    if (load.motor.is(plan::Motor::none)) return suits;
    const bool open = !load.motor.known() || load.soft_start.stated_unknown || load.drive.stated_unknown;
    return open ? unknown_motor : suits;
}

Yield look(const Situation& s) {
    Yield yield;
    for (const network::LoadPoint& point : s.network.loads) {
        if (control_before(s, point.element) == plan::nowhere) continue;
        Outcome o;
        o.at = at_element(point.element);
        o.basis = Basis::marking;
        o.variant = variant_of(*s.plan[point.element].as<plan::Load>());
        if (o.variant == induction || o.variant == electronic) o.verdict = Verdict::fail;
        if (o.variant == unknown_motor) o.verdict = Verdict::caution;
        yield.outcomes.push_back(o);
    }
    return yield;
}

/// The field that says what the tool is, for the carets.
Span place_in(const plan::Element& element, const plan::Load& load) {
    if (load.motor.is(plan::Motor::induction) || load.motor.is(plan::Motor::electronic) ||
        !load.motor.known())
        return place_of(load.motor, element);
    if (load.soft_start.written() && !load.soft_start.is(false)) return load.soft_start.span;
    if (load.drive.written() && !load.drive.is(plan::Drive::none)) return load.drive.span;
    return element.header;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    const plan::Load& load = *element.as<plan::Load>();
    const plan::Element& control = s.plan[control_before(s, o.at.index)];
    const std::string name = element.words(), knob = control.words();
    Explanation e;
    e.place = {place_in(element, load), ""};
    e.related.push_back({place_of(control.as<plan::Switch>()->kind, control), "a speed control"});
    e.short_words = knob + " is the wrong speed control for " + name;
    e.remedies = {{Cost::free, "feed " + name + " past " + knob + ", from an outlet without it"}};
    switch (o.variant) {
        case induction:
            e.headline = capital(name) + " has an induction motor, and " + knob + " chops its voltage";
            e.place.text = "its speed follows the frequency, not the volts";
            e.consequence =
                "It does not turn slower: it slips, draws more than its plate says, and its winding burns.";
            break;
        case electronic:
            e.headline = capital(name) + " has electronics of its own, and " + knob + " chops their voltage";
            e.place.text = "has electronics of its own";
            e.consequence =
                "Two controls work against each other: one of them overheats and fails, maybe at full speed.";
            break;
        case unknown_motor:
            e.headline = "Whether " + name + " may run behind " + knob + " is not known";
            e.place.text = "what kind of motor, and is there electronics in it?";
            e.short_words = knob + " may be the wrong speed control for " + name;
            e.consequence =
                "Only a motor with brushes and without electronics may run behind a speed control.";
            e.questions.push_back({element.path() + ".motor", "What kind of motor does " + name + " have?",
                                   "brushes and whine: universal; hum, heavy, a hump for the capacitor: "
                                   "induction; a speed wheel or a soft start: electronics"});
            break;
        default:
            e.headline = capital(name) + " may run behind " + knob;
            e.short_words.clear();
            e.remedies.clear();
    }
    return e;
}

}  // namespace

const Rule rule{.id = "heat.speed-control-mismatch",
                .title = "a speed control before a motor that it is not made for",
                .harm = Harm::heat,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::speed_control_mismatch
