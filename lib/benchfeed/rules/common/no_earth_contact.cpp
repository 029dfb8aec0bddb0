// shock.no-earth-contact: plug and outlet mate, but the earth of one does not meet the earth of the other.
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::no_earth_contact {
namespace {

constexpr std::uint8_t joined = 0, unearthed = 1, ask_plug = 2, ask_class = 3, ask_pattern = 4,
                       needs_none = 5;

/// Row of table plug-mating for the plug of an element, if it goes in at all.
std::optional<std::size_t> mating_row(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    const auto* outlet = s.plan[e.parent].as<plan::Outlet>();
    const tables::Table* matings = s.tables.table("plug-mating");
    if (!matings || !outlet || !outlet->pattern.known() || !e.plug.known()) return std::nullopt;
    for (std::size_t row = 0; row < matings->rows.size(); ++row)
        if (matings->text(row, "plug") == *e.plug && matings->text(row, "outlet") == *outlet->pattern)
            return row;
    return std::nullopt;
}

/// What hangs on the plug needs the earth: anything that feeds outlets or is built by hand, and class I
/// tools.
Known needs_earth(const Situation& s, Index i) {
    const auto* load = s.plan[i].as<plan::Load>();
    if (!load) return Known::yes;
    if (load->protection_class.is(plan::ProtectionClass::ii)) return Known::no;
    return load->protection_class.written() && load->protection_class.known() ? Known::yes : Known::open;
}

std::optional<Outcome> judge_plug(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    Outcome o;
    o.at = at_element(i);
    o.part = Part::plug;
    o.basis = Basis::standard;
    const Known needs = needs_earth(s, i);
    if (e.plug.stated_unknown) {
        if (needs == Known::no) return std::nullopt;
        return undecided(o.at, Part::plug, ask_plug);
    }
    const auto row = mating_row(s, i);
    if (!row) return std::nullopt;  // what does not go in is another rule's
    const tables::Table& matings = *s.tables.table("plug-mating");
    const auto column = *matings.column("earth");
    o.ground.grade = matings.grade_of(*row, column);
    if (needs == Known::no) {
        o.ground = {};  // by the plate, whatever the plug joins
        o.variant = needs_none;
        return o;
    }
    if (matings.flag(*row, "earth").value_or(false)) {
        return o.ground.carries_ok() ? o : undecided(o.at, Part::plug, ask_pattern);
    }
    if (needs == Known::open) return undecided(o.at, Part::plug, ask_class);
    o.verdict = Verdict::fail;
    o.variant = unearthed;
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& e = s.plan[i];
        if (e.parent == plan::nowhere || s.plan[e.parent].kind != plan::Kind::outlet) continue;
        if (!e.plug.known() && !e.plug.stated_unknown) continue;
        if (const auto o = judge_plug(s, i)) yield.outcomes.push_back(*o);
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    const plan::Element& outlet = s.plan[element.parent];
    const std::string plug = words(s, o.at, Part::plug);
    const Span at = place_of(element.plug, element);
    if (o.variant == ask_plug)
        return ask_for_rating(s, o, at, element.path() + ".plug",
                              "What pattern is " + plug + ", and has it an earth contact?",
                              "moulded into the plug; a third pin, side contacts or a hole");
    if (o.variant == ask_class)
        return ask_for_rating(
            s, o, at, element.path() + ".class",
            capital(plug) + " brings it no earth: is " + element.words() + " double insulated?",
            "a double square on the plate: class II");
    if (o.variant == ask_pattern)
        return ask_for_rating(
            s, o, at, "",
            "Only memory says that the earth of " + plug + " meets that of " + outlet.words() + ": does it?",
            "a tester, or the standard of both patterns");
    Explanation e;
    e.place = {at, ""};
    if (const auto row = mating_row(s, o.at.index)) {
        const tables::Table& matings = *s.tables.table("plug-mating");
        e.sources.push_back(matings.cite(*row, *matings.column("earth")));
    }
    if (o.variant == needs_none) {
        e.sources.clear();
        e.headline = capital(element.words()) + " is of class II and needs no earth from " + plug;
        return e;
    }
    if (o.variant == joined) {
        e.headline = capital(plug) + " joins the earth";
        return e;
    }
    e.headline = capital(plug) + " goes into " + outlet.words() + " without joining the earth";
    e.short_words = element.words() + " has no earth: " + plug + " does not join it";
    e.place.text = *element.plug + " in " + *outlet.as<plan::Outlet>()->pattern;
    e.related.push_back({place_of(outlet.as<plan::Outlet>()->pattern, outlet), "this outlet"});
    e.consequence =
        "After a fault the metal of what it feeds is live, and nothing trips until somebody "
        "touches it.";
    e.remedies = {{Cost::free, "for now: leave it unplugged"},
                  {Cost::cheap, "a plug of the pattern of the outlet, with earth; no adaptor"},
                  {Cost::electrician, "or an outlet that takes this plug with its earth"}};
    return e;
}

}  // namespace

const Rule rule{.id = "shock.no-earth-contact",
                .title = "plug and outlet mate without earth",
                .harm = Harm::shock,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::no_earth_contact
