// heat.tool-socket-overloaded: the socket on an extractor or other load, or that load's own plug and cord,
// carries more than it is made for.
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::tool_socket_overloaded {
namespace {

void add(Yield& yield, const Situation& s, Index at, Part part, Current edge, const Ground& ground) {
    Limit limit;
    limit.at = at_element(at);
    limit.part = part;
    limit.reach = {Reach::Kind::through, at};
    limit.edge = edge;
    limit.ground = ground;
    limit.once_per_set = true;
    if (const auto share = threshold(s, "attention")) limit.caution = Current(edge * share->value);
    if (part == Part::cable) limit.caution = std::monostate{};  // a conductor has no contact to get tired
    yield.limits.push_back(limit);
}

void look_at_socket(const Situation& s, Yield& yield, Index socket) {
    const ContactRating rating = outlet_rating(s, socket);
    if (rating.current)
        add(yield, s, socket, Part::whole, *rating.current, rating.ground);
    else
        yield.outcomes.push_back(undecided(at_element(socket), Part::whole));
}

/// The carrier's plug and cord pass its own current and that of the tools in its sockets.
void look_at_carrier(const Situation& s, Yield& yield, Index carrier) {
    const ContactRating rating = plug_rating(s, carrier);
    if (rating.current)
        add(yield, s, carrier, Part::plug, *rating.current, rating.ground);
    else if (s.plan[carrier].plug.stated_unknown)
        yield.outcomes.push_back(undecided(at_element(carrier), Part::plug));
    if (!s.plan[carrier].cable) return;
    const auto iz = network::ampacity(s.plan, s.tables, s.network, carrier);
    if (iz.value)
        add(yield, s, carrier, Part::cable, *iz.value, {iz.grade, iz.beyond});
    else
        yield.outcomes.push_back(undecided(at_element(carrier), Part::cable));
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (is_tool_socket(s, i)) look_at_socket(s, yield, i);
        if (carries_sockets(s, i)) look_at_carrier(s, yield, i);
    }
    return yield;
}

Explanation explain_undecided(const Situation& s, const Outcome& outcome) {
    const plan::Element& element = s.plan[outcome.at.index];
    if (outcome.part == Part::plug)
        return ask_for_rating(s, outcome, place_of(element.plug, element), element.path() + ".plug",
                              "Which plug does " + element.words() + " have?", "moulded into the plug");
    if (outcome.part == Part::cable) {
        const auto iz = network::ampacity(s.plan, s.tables, s.network, outcome.at.index);
        return ask_for_rating(s, outcome, cable_place(element), iz.missing,
                              "What may the cord of " + element.words() + " carry? " + iz.why,
                              "printed along the sheath");
    }
    const auto& outlet = *element.as<plan::Outlet>();
    return ask_for_rating(s, outcome, place_of(outlet.limit, element), element.path() + ".limit",
                          "What may be plugged into " + element.words() + "?",
                          "printed beside the socket, or in the manual");
}

Explanation explain(const Situation& s, const Outcome& outcome, const Limit* limit) {
    if (outcome.verdict == Verdict::cannot_judge && outcome.limit == plan::nowhere)
        return explain_undecided(s, outcome);
    const Index index = outcome.at.index;
    const plan::Element& element = s.plan[index];
    OverloadWords words;
    if (outcome.part == Part::whole) {
        const auto& outlet = *element.as<plan::Outlet>();
        const ContactRating rating = outlet_rating(s, index);
        words = {.rating = rating.written,
                 .source = rating.source,
                 .place = outlet.limit.written() ? outlet.limit.span : place_of(outlet.pattern, element)};
        if (!rating.source) words.watts = watts_of(outlet.limit);
    } else if (outcome.part == Part::plug) {
        const ContactRating rating = plug_rating(s, index);
        words = {.rating = rating.written, .source = rating.source, .place = place_of(element.plug, element)};
    } else {
        const auto iz = network::ampacity(s.plan, s.tables, s.network, index);
        words = {.rating = "", .source = iz.base.source, .place = cable_place(element)};
    }
    words.names_the_part =
        true;  // socket, plug and cord are sold with the machine: none of them is exchanged
    Explanation e = explain_overload(s, outcome, *limit, words);
    if (outcome.verdict == Verdict::cannot_judge) return e;
    if (outcome.verdict == Verdict::fail) {
        e.consequence = outcome.part == Part::whole
                            ? "The socket and the wires behind it heat; no device knows of them."
                            : "One plug and cord carry both machines: they heat and nothing trips.";
        e.remedies.insert(
            e.remedies.begin(),
            {Cost::free,
             "plug the tool into an outlet of its own, not into the socket of the other machine"});
    } else {
        e.consequence = "It works, with little left: no larger tool in this socket.";
    }
    return e;
}

}  // namespace

const Rule rule{.id = "heat.tool-socket-overloaded",
                .title = "the socket on a machine, or that machine's plug and cord, carries too much",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::own},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::tool_socket_overloaded
