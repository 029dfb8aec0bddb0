// heat.element-unprotected: a plug, outlet, switch or residual current device that may carry more than it is
// made for while the device upstream holds. Judged on everything behind it, not on the declared sets:
// nothing trips, and sets are habit.
#include <algorithm>

#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/stops.hpp>

namespace benchfeed::rules::element_unprotected {
namespace {

using network::Place;

constexpr std::uint8_t by_sum = 1;       // variant: the loads behind add up to more
constexpr std::uint8_t by_free_way = 2;  // variant: a way is free, so anything may be added
constexpr std::uint8_t feeds_any = 3;    // variant: a switch or RCD in front of outlets
constexpr std::uint8_t no_device = 4;    // variant: nothing upstream that ends an overload
constexpr std::uint8_t device_unknown = 5;
constexpr std::uint8_t fused_plugs = 6;   // variant: the fuse sits in the plug that goes in
constexpr std::uint8_t mark_unknown = 7;  // variant: only the mark tells whether the inlet carries the sum
constexpr std::uint8_t load_unknown = 8;  // variant: nobody knows what one of the loads behind draws

struct Member {
    Index element;
    Part part;
    Place place;
    std::optional<Current> rating;
    bool only_for_outlets = false;      ///< a switch or RCD: judged when outlets hang behind it
    std::optional<Current> doubt = {};  ///< above it the mark on the part decides
};

std::vector<Member> members(const Situation& s) {
    std::vector<Member> found;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& e = s.plan[i];
        if (e.plug.known() && !as_sold(s, i))
            found.push_back({i, Part::plug, Place::plug, plug_rating(s, i).current});
        if (e.inlet.known()) {
            const ContactRating inlet = inlet_rating(s, i);
            found.push_back({i, Part::inlet, Place::inlet, inlet.current, false, inlet.doubt});
        }
        if (e.kind == plan::Kind::outlet)
            found.push_back({i, Part::whole, Place::whole, outlet_rating(s, i).current});
        // A contact in a control circuit carries the current of a coil, which cannot overload it.
        const auto* sw = e.as<plan::Switch>();
        if (sw && !(in_control_circuit(*sw) && e.children.empty()))
            found.push_back({i, Part::whole, Place::whole, sw->rating.value, true});
        const auto* device = e.as<plan::Device>();
        if (device && device->kind.is(plan::DeviceKind::residual_current_device))
            found.push_back({i, Part::whole, Place::whole, device->rating.value, true});
    }
    return found;
}

/// The region permits outlets of this rating behind a device of that one.
bool permitted(const Situation& s, const Member& member, Current device) {
    if (s.plan[member.element].kind != plan::Kind::outlet || is_tool_socket(s, member.element)) return false;
    return permitted_pair(s, *member.rating, device).has_value();
}

/// Largest sum that can pass the contact: of an outlet one way, otherwise all behind. `unknown` is of any
/// way.
Sum worst_behind(const Situation& s, const Member& member) {
    if (s.plan[member.element].kind != plan::Kind::outlet || is_tool_socket(s, member.element))
        return all_below(s, member.element);
    Sum worst;
    Index unknown = plan::nowhere;
    for (const Index child : s.plan[member.element].children) {
        Sum sum = all_below(s, child);
        if (unknown == plan::nowhere) unknown = sum.unknown;
        if (sum.current > worst.current) worst = std::move(sum);
    }
    worst.unknown = unknown;
    return worst;
}

bool ways_to_add(const Situation& s, const Member& member) {
    if (s.plan[member.element].kind != plan::Kind::outlet) return free_ways(s, member.element) > 0;
    for (const Index child : s.plan[member.element].children)
        if (free_ways(s, child) > 0) return true;
    return false;
}

/// Plugs of this pattern carry their own fuse, which covers what follows them, whatever stands before.
bool takes_fused_plugs(const Situation& s, const Member& member) {
    const auto* outlet = s.plan[member.element].as<plan::Outlet>();
    return outlet && outlet->pattern.known() && fused(s, *outlet->pattern);
}

/// Whatever is plugged into the outlet has a device at its inlet that opens before the contact suffers.
bool every_way_ends_in_a_device(const Situation& s, const Member& member) {
    const plan::Element& outlet = s.plan[member.element];
    if (outlet.kind != plan::Kind::outlet || outlet.children.empty()) return false;
    return std::all_of(outlet.children.begin(), outlet.children.end(), [&](Index child) {
        const auto end = network::guard_at_far_end(s.plan, s.tables, child, Place::plug);
        return end && !above(*end->rating, *member.rating);
    });
}

Outcome judge_member(const Situation& s, const Member& member, const network::Guard& guard) {
    Outcome o;
    o.at = at_element(member.element);
    o.part = member.part;
    o.basis = Basis::standard;
    o.edge = *member.rating;
    o.value = *guard.rating;
    const Current sure = member.doubt.value_or(*member.rating);
    if (!above(*guard.rating, sure)) return o;  // the device trips before the element suffers
    const auto end = network::guard_at_far_end(s.plan, s.tables, member.element, member.place);
    if (end && !above(*end->rating, sure)) return o;
    if (every_way_ends_in_a_device(s, member)) return o;
    const Sum sum = worst_behind(s, member);
    if (member.only_for_outlets) {
        if (!feeds_outlets(s, member.element)) return o;
        o.verdict = Verdict::fail;
        o.variant = feeds_any;
        return o;
    }
    const bool covered = !above(*guard.rating, *member.rating);
    const bool too_much = !covered && above(sum.current, *member.rating), free = ways_to_add(s, member);
    const bool asks = sum.unknown != plan::nowhere;
    const bool doubtful = member.doubt && (free || asks || above(sum.current, *member.doubt));
    if (!too_much && doubtful) return undecided(o.at, o.part, mark_unknown);
    if (!too_much && !free && !asks) return o;
    o.variant = too_much ? by_sum : free ? by_free_way : load_unknown;
    if (too_much) o.value = sum.current;
    // Of a permitted pair it is no more than a caution, whatever the load draws.
    o.verdict = permitted(s, member, *guard.rating) ? Verdict::caution
                : o.variant == load_unknown         ? Verdict::cannot_judge
                                                    : Verdict::fail;
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (const Member& member : members(s)) {
        if (!member.rating) continue;  // the overload rules ask for it
        if (takes_fused_plugs(s, member)) {
            Outcome o;
            o.at = at_element(member.element);
            o.part = member.part;
            o.basis = Basis::standard;
            o.value = o.edge = *member.rating;
            o.variant = fused_plugs;
            yield.outcomes.push_back(o);
            continue;
        }
        const network::Search search =
            network::overload_guard(s.plan, s.tables, member.element, member.place);
        const bool settled = search.found && !above(*search.found->rating, *member.rating);
        if (!settled && (search.undecided || !search.found)) {
            // A device at the far end may settle it whatever hangs upstream.
            const auto end = network::guard_at_far_end(s.plan, s.tables, member.element, member.place);
            if (end && !above(*end->rating, *member.rating)) continue;
            yield.outcomes.push_back(undecided(at_element(member.element), member.part,
                                               search.undecided ? device_unknown : no_device));
            continue;
        }
        yield.outcomes.push_back(judge_member(s, member, *search.found));
    }
    return yield;
}

Place place_in(const Outcome& o) {
    if (o.part == Part::plug) return Place::plug;
    if (o.part == Part::inlet) return Place::inlet;
    return Place::whole;
}

/// What was judged, as far as a sum of it needs it.
Member member_of(const Outcome& o) {
    return {o.at.index, o.part, place_in(o), std::get<Current>(o.edge)};
}

std::string guard_words(const Situation& s, const network::Guard& guard) {
    return guard.plug_fuse ? words(s, at_element(guard.element), Part::fuse) : s.plan[guard.element].words();
}

Explanation explain_undecided(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto search = network::overload_guard(s.plan, s.tables, o.at.index, place_in(o));
    const std::string what = words(s, o.at, o.part);
    if (o.variant == no_device)
        return ask_for_rating(s, o, element.header, "device", "Which breaker or fuse is before " + what + "?",
                              on_source(s, o.at.index) + ": its rating and letter are printed on the front");
    if (o.variant == load_unknown) return ask_for_plate(s, o, worst_behind(s, member_of(o)).unknown);
    if (o.variant == mark_unknown)
        return ask_for_rating(s, o, place_of(element.inlet, element), element.path() + ".inlet_rating",
                              "How many amps are marked on " + what +
                                  "? The device before it lets more through "
                                  "than every inlet of its pattern carries",
                              "moulded beside its pins");
    const plan::Element& device = s.plan[search.asked];
    return ask_for_rating(
        s, o, device.header, device.path() + (search.asked_fuse ? ".fuse" : ".rating"),
        "Which device protects " + what + " against overload? The rating of " +
            guard_words(
                s,
                {.element = search.asked, .plug_fuse = search.asked_fuse, .rating = {}, .cable_rule = {}}) +
            " is missing",
        search.asked_fuse ? "printed on the fuse: open the plug" : "printed on the front of the device");
}

/// A part for all that the device lets through. A plug takes its outlet along, which may be in the wall.
Remedy larger_part(const Situation& s, const Outcome& o, const std::string& device) {
    const Index outlet = s.plan[o.at.index].parent;
    const bool plug = o.part == Part::plug && outlet != plan::nowhere;
    return {cost_at(s, plug ? outlet : o.at.index, Cost::moderate),
            "or fit a part made for at least " + device +
                (o.part == Part::whole ? "" : ", with an outlet of the same kind before it")};
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.verdict == Verdict::cannot_judge) return explain_undecided(s, o);
    const plan::Element& element = s.plan[o.at.index];
    if (o.variant == fused_plugs) {
        Explanation e;
        e.headline = capital(element.words()) + " takes plugs that carry their own fuse";
        e.place = {element.header, ""};
        return e;
    }
    const auto search = network::overload_guard(s.plan, s.tables, o.at.index, place_in(o));
    const network::Guard& guard = *search.found;
    const std::string what = words(s, o.at, o.part), rating = to_text(std::get<Current>(o.edge)),
                      device = to_text(*guard.rating);
    Explanation e;
    e.place = {element.header, what + " is made for " + rating};
    if (o.part == Part::plug) e.place.span = place_of(element.plug, element);
    if (o.part == Part::inlet) e.place.span = place_of(element.inlet, element);
    const plan::Element& above_it = s.plan[guard.element];
    const Span guard_span = guard.plug_fuse ? place_of(above_it.fuse, above_it)
                                            : place_of(above_it.as<plan::Device>()->rating, above_it);
    e.related.push_back({guard_span, capital(guard_words(s, guard)) + " holds " + device});
    Working working;
    const Value in_ = working.written(device), most = working.written(rating);
    if (o.variant == by_sum) {
        const Value sum = sum_of(working, s, worst_behind(s, member_of(o)).loads, "I_all");
        working.compare(sum, ">", most);
    }
    if (o.verdict == Verdict::ok) {
        e.headline =
            capital(what) + " (" + rating + ") is covered by " + guard_words(s, guard) + " (" + device + ")";
        if (!above(*guard.rating, std::get<Current>(o.edge))) working.compare(in_, "<=", most);
    } else {
        working.compare(in_, ">", most);
        e.short_words =
            guard_words(s, guard) + " lets " + device + " through " + what + ", which is made for " + rating;
        e.headline = capital(what) + " is made for " + rating + ", but " + guard_words(s, guard) + " lets " +
                     device + " through";
        if (o.variant == by_sum)
            e.headline +=
                ", and all the tools behind it together draw " + to_text(std::get<Current>(o.value));
        if (o.variant == by_free_way) e.headline += ", and one more tool can be plugged in";
        if (o.variant == load_unknown) {
            const Index load = worst_behind(s, member_of(o)).unknown;
            e.headline += ", and what " + s.plan[load].words() + " draws is not known";
            e.questions = ask_for_plate(s, o, load).questions;
        }
        e.consequence = "If more tools run than planned, it heats and nothing trips.";
        if (inside_a_machine(s, o.at.index))
            e.remedies = {{Cost::free, "plug the tool into an outlet of its own, not into the machine"}};
        else
            e.remedies = {larger_part(s, o, device)};
    }
    e.steps = working.finish();
    return e;
}

}  // namespace

const Rule rule{.id = "heat.element-unprotected",
                .title = "a part can carry more than it is made for while nothing trips",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::element_unprotected
