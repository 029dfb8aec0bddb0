// restart.contacts-weld: a contactor or switch behind a larger device than its maker allows: at the first
// short circuit its contacts may weld, and then nothing switches off what it feeds.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::contacts_weld {
namespace {

enum Variant : std::uint8_t { small_enough, too_large, ask_figure, ask_rating };

/// Devices before a switch that end a short circuit: the one with the least rating lets through least.
struct Before {
    std::optional<network::Guard> least;
    Index unknown = plan::nowhere;  ///< one of which nobody knows the rating
    bool unknown_fuse = false;
};
Before devices_before(const Situation& s, Index i) {
    Before before;
    for (const network::Guard& guard : network::guards_above(s.plan, s.tables, i, network::Place::whole)) {
        if (!guard.short_circuit && guard.known) continue;
        if (!guard.known || !guard.rating) {
            if (before.unknown == plan::nowhere) {
                before.unknown = guard.element;
                before.unknown_fuse = guard.plug_fuse;
            }
            continue;
        }
        if (!before.least || *guard.rating < *before.least->rating) before.least = guard;
    }
    return before;
}

std::optional<Outcome> judge_switch(const Situation& s, Index i) {
    const auto* sw = s.plan[i].as<plan::Switch>();
    if (!sw || !(sw->backup_max.known() || sw->backup_max.stated_unknown)) return std::nullopt;
    const Before before = devices_before(s, i);
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::marking;
    if (!sw->backup_max.known()) return undecided(o.at, Part::whole, ask_figure);
    if (before.least) {
        o.value = *before.least->rating;
        o.edge = *sw->backup_max;
        if (!above(*before.least->rating, *sw->backup_max)) return o;
    }
    if (!before.least || before.unknown != plan::nowhere) return undecided(o.at, Part::whole, ask_rating);
    o.verdict = Verdict::fail;
    o.variant = too_large;
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (const auto o = judge_switch(s, i)) yield.outcomes.push_back(*o);
    return yield;
}

std::string guard_words(const Situation& s, const network::Guard& guard) {
    const std::string name = s.plan[guard.element].words();
    return guard.plug_fuse ? "the fuse in the plug of " + name : name;
}

Explanation explain_question(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& sw = *element.as<plan::Switch>();
    if (o.variant == ask_figure)
        return ask_for_rating(s, o, place_of(sw.backup_max, element), element.path() + ".backup_max",
                              "What is the largest fuse or breaker allowed before " + element.words() + "?",
                              "its data sheet: short-circuit protection, type 1 or type 2 co-ordination");
    const Before before = devices_before(s, o.at.index);
    if (before.unknown == plan::nowhere)
        return ask_for_rating(s, o, element.header, element.path() + ".from",
                              "Which breaker or fuse is before " + element.words() + "?",
                              source_place(s, o.at.index));
    const plan::Element& device = s.plan[before.unknown];
    const std::string field = before.unknown_fuse ? ".fuse" : ".rating";
    return ask_for_rating(
        s, o, device.header, device.path() + field,
        "For how many amps is " + std::string(before.unknown_fuse ? "the fuse in the plug of " : "") +
            device.words() + " made, and does it open a short circuit?",
        before.unknown_fuse ? "printed on the fuse: open the plug" : "printed on its handle or front");
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.verdict == Verdict::cannot_judge) return explain_question(s, o);
    const plan::Element& element = s.plan[o.at.index];
    const auto& sw = *element.as<plan::Switch>();
    const std::string name = element.words(), most = to_text(*sw.backup_max, 6);
    const network::Guard guard = *devices_before(s, o.at.index).least;
    const std::string rating = to_text(*guard.rating, 6);
    Explanation e;
    e.place = {place_of(sw.backup_max, element), "its maker's largest device"};
    Working working;
    working.compare(working.written(rating), o.verdict == Verdict::ok ? "<=" : ">", working.written(most));
    e.steps = working.finish();
    if (o.verdict == Verdict::ok) {
        e.headline = fmt::format("{} ({}) is no larger than the maker of {} allows before it",
                                 capital(guard_words(s, guard)), rating, name);
        return e;
    }
    e.related.push_back({s.plan[guard.element].header, "the least device before it"});
    e.headline = fmt::format("{} is behind {} ({}); its maker allows {} before it", capital(name),
                             guard_words(s, guard), rating, most);
    e.short_words = name + " may weld at the first short circuit";
    e.consequence =
        "A short circuit is over before the contacts have opened, and it may weld them: from then on the "
        "tool "
        "runs whatever is pressed, an emergency stop included.";
    e.remedies = {
        {Cost::free, "for now: after a trip try whether it still switches off, with the blade guarded"},
        {Cost::moderate, "a fuse or breaker of at most " + most + " before it"},
        {Cost::moderate,
         "a contactor or switch whose maker allows " + rating + " before it",
         {{element.path() + ".backup_max", rating}}}};
    return e;
}

}  // namespace

const Rule rule{.id = "restart.contacts-weld",
                .title = "contacts may weld before the device opens",
                .harm = Harm::restart,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::contacts_weld
