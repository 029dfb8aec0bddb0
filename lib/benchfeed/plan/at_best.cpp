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
        case Fact::amps:
        case Fact::reel:
            break;
    }
    return false;
}

void take_best(Element& element, Fact fact) {
    if (fact == Fact::reel) {
        element.cable->reel.assume(Reel::unwound);
        element.cable->reel.stated_unknown = false;
        return;
    }
    Load& load = std::get<Load>(element.what);
    if (fact == Fact::latched) load.latched.value = false;
    if (fact == Fact::protection_class) load.protection_class.assume(ProtectionClass::ii);
}

}  // namespace

bool is_open(const Element& element, Fact fact) {
    if (fact == Fact::reel) return element.cable && element.cable->reel.stated_unknown;
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
