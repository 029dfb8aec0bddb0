// Terminals in words.
#include <algorithm>

#include <benchfeed/advice/schedule.hpp>
#include <benchfeed/rules/box_fill.hpp>

namespace benchfeed::advice {

using plan::Conductor;
using rules::Situation;

std::string conductor_words(const Situation& s, Index element, Conductor c) {
    if (c == Conductor::pe) return "PE";
    if (c == Conductor::n) return "N";
    using plan::System;
    const auto& system = s.plan.supply_of(element).system;
    if (system.is(System::v230) || system.is(System::v240) || system.is(System::v120)) return "L";
    return c == Conductor::l1 ? "L1" : c == Conductor::l2 ? "L2" : "L3";
}

namespace {

/// "terminals L" " in " "the junction box".
struct Wording {
    std::string what;
    std::string_view between;
    std::string place;
};

std::string metal_name(const Situation& s, Index metal) {
    std::string name = s.plan.metals[metal].name;
    std::replace(name.begin(), name.end(), '_', ' ');
    return "the " + name;
}

bool is_stop(const Situation& s, Index element) {
    const auto* sw = s.plan[element].as<plan::Switch>();
    return sw && sw->kind.is(plan::SwitchKind::emergency_stop);
}

Wording wording(const Situation& s, const Terminal& t) {
    if (t.point == Point::metal) return {"the metal", " of ", metal_name(s, t.element)};
    const std::string name = s.plan[t.element].words(), c = conductor_words(s, t.element, t.conductor);
    switch (t.point) {
        case Point::source:
        case Point::load:
            return {c, " of ", name};
        case Point::pin:
            return {"pin " + c, " of ", "the plug"};
        case Point::inlet:
            return {c, " of ", "the inlet at " + name};
        case Point::bank:
            return {"terminals " + c, " in ", name};
        case Point::contact:
            return {"contact " + c, " of ", name};
        case Point::in:
            return {c + " in", ", ", name};
        case Point::out:
            return {c + (t.position == plan::nowhere ? " out" : " out to " + s.plan[t.position].words()),
                    ", ", name};
        case Point::passing:
            return {t.conductor == Conductor::pe ? "PE terminal" : "joint " + c, " at ", name};
        case Point::returned:
            return {"terminals " + c, " switched by ", name};
        case Point::coil:
            return {"coil or lamp " + c, ", ", name};
        case Point::coil_fed:
            return {"fed end of the coil", " of ", name};
        case Point::holding:
            return {"holding contact", " of ", name};
        case Point::stopped:
            return {"terminals " + c + " behind " + name, " in ",
                    s.plan[rules::starts_at(s, t.element)].words()};
        case Point::button_in:
            return {"line side of the stop button", " of ", name};
        case Point::button_between:
            // A stop alone has no start button behind it.
            return {is_stop(s, t.element) ? "load side of the stop button" : "between stop and start", " of ",
                    name};
        case Point::button_out:
            return {"load side of the start button", " of ", name};
        case Point::metal:
            break;
    }
    return {c, " of ", name};
}

}  // namespace

std::string words(const Situation& s, const Terminal& t) {
    const Wording w = wording(s, t);
    return w.what + std::string(w.between) + w.place;
}

std::string words_there(const Situation& s, const Terminal& t) {
    return wording(s, t).what;
}

std::string place_words(const Situation& s, const Terminal& t) {
    return wording(s, t).place;
}

}  // namespace benchfeed::advice
