#include <benchfeed/plan/at_best.hpp>

#include <algorithm>
#include <utility>

namespace benchfeed::plan {

namespace {

/// Nobody wrote it and something is assumed.
bool open_word(const Load& load, Fact fact) {
    switch (fact) {
        case Fact::latched:
            return load.latched.assumed();
        case Fact::protection_class:
            return load.protection_class.assumed();
        case Fact::overload:
            return !load.overload.known() && !load.motor.is(Motor::none);
        case Fact::no_volt:
            return load.no_volt.stated_unknown;
        case Fact::amps:
        case Fact::reel:
        case Fact::snap:
            break;
    }
    return false;
}

template <class E>
void take(Choice<E>& field, E value) {
    field.assume(value);
    field.stated_unknown = false;
}
void take(Field<bool>& field, bool value) {
    field.value = value;
    field.origin = Origin::assumed;
    field.stated_unknown = false;
}

void take_best(Element& element, Fact fact) {
    if (fact == Fact::reel) {
        take(element.cable->reel, Reel::unwound);
        return;
    }
    if (auto* sw = std::get_if<Switch>(&element.what)) {
        if (fact == Fact::no_volt) take(sw->no_volt, true);
        if (fact == Fact::snap) take(sw->kind, SwitchKind::snap);
        return;
    }
    Load& load = std::get<Load>(element.what);
    if (fact == Fact::latched) take(load.latched, false);
    if (fact == Fact::protection_class) take(load.protection_class, ProtectionClass::ii);
    if (fact == Fact::overload) take(load.overload, OwnReset::hand);
    if (fact == Fact::no_volt) take(load.no_volt, true);
}

}  // namespace

bool is_open(const Element& element, Fact fact) {
    if (fact == Fact::reel) return element.cable && element.cable->reel.stated_unknown;
    if (const Switch* sw = element.as<Switch>())
        return (fact == Fact::no_volt && sw->no_volt.stated_unknown) ||
               (fact == Fact::snap && !sw->kind.known() && !sw->motor_rating.written());
    const Load* load = element.as<Load>();
    return load && open_word(*load, fact);
}

Facts open_words(const Plan& plan) {
    Facts facts;
    for (const Element& element : plan.elements)
        for (const Fact fact : all_facts)
            if (is_open(element, fact)) facts.add(Facts::only(fact));
    return facts;
}

Plan at_best(Plan plan, Facts facts) {
    for (Element& element : plan.elements)
        for (const Fact fact : all_facts)
            if (facts.has(fact) && is_open(element, fact)) take_best(element, fact);
    return plan;
}

}  // namespace benchfeed::plan
