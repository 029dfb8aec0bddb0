// heat.cable-overloaded: a set draws more than a cable carries as it lies.
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/plan/fields.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::cable_overloaded {
namespace {

constexpr std::uint8_t by_guidance = 1;  // variant: the limit includes a factor that is only guidance

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!cable_is_judged(s, i)) continue;
        const auto iz = network::ampacity(s.plan, s.tables, s.network, i);
        if (!iz.value) {
            // The house is as found: what nobody knows of it is told once, not asked cable by cable.
            if (!s.network.house[i]) yield.outcomes.push_back(undecided(at_element(i), Part::cable));
            continue;
        }
        // A ring shares its load between two legs; heat.cable-unprotected judges it against its device.
        if (s.plan[i].cable->ring.is(true)) continue;
        Limit limit;
        limit.at = at_element(i);
        limit.part = Part::cable;
        limit.reach = {Reach::Kind::through, i};
        limit.edge = iz.with_guidance();
        limit.ground = {iz.grade, iz.beyond};
        limit.basis = iz.cord && !s.nec() ? Basis::physics : Basis::standard;
        limit.variant = iz.guidance ? by_guidance : std::uint8_t{0};
        yield.limits.push_back(limit);
    }
    return yield;
}

/// As the list of fields says it of the field that is missing; what has no field is on the sheath.
std::string where_to_look(plan::Head head, plan::Cable cable, std::string_view path) {
    const std::string_view key = path.substr(path.rfind('.') + 1);
    for (const auto& list : {plan::slots(cable), plan::slots(head)})
        for (const plan::Slot& slot : list)
            if (slot.info.key == key && !slot.info.look.empty()) return std::string(slot.info.look);
    return "printed along its sheath";
}

Explanation explain(const Situation& s, const Outcome& o, const Limit* limit) {
    const plan::Element& element = s.plan[o.at.index];
    const auto iz = network::ampacity(s.plan, s.tables, s.network, o.at.index);
    const std::string what = words(s, o.at, Part::cable);
    if (o.verdict == Verdict::cannot_judge && (!iz.value || iz.beyond)) {
        Explanation e = ask_for_rating(s, o, cable_place(element), iz.missing,
                                       "How much may " + what + " carry? " + capital(iz.why),
                                       where_to_look(s.plan.head, *element.cable, iz.missing));
        return e;
    }
    Explanation e = explain_overload(s, o, *limit,
                                     {.rating = "",
                                      .source = iz.base.source,
                                      .place = cable_place(element),
                                      .limit_words = iz.beyond ? "at most as it lies" : "as it lies"});
    if (o.verdict == Verdict::cannot_judge) return e;
    for (const auto& factor : iz.factors) e.sources.push_back(factor.figure.source);
    if (iz.guidance) e.sources.push_back(iz.guidance->figure.source);
    if (o.verdict == Verdict::fail) {
        e.consequence =
            "The conductors run hotter than their insulation withstands; it ages fast and may melt.";
        e.remedies.push_back(larger_section(
            s, o.at.index, "or a cable of the next larger section, if its plug and terminals take it"));
    }
    return e;
}

}  // namespace

const Rule rule{.id = "heat.cable-overloaded",
                .title = "a cable carries more than it may as it lies",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::own},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::cable_overloaded
