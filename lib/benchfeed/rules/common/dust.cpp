// heat.dust: wood dust gets into outlets that face up and into open enclosures.
#include <charconv>

#include <benchfeed/rules/cited.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::dust {
namespace {

constexpr std::uint8_t faces_up = 0, open = 1;

/// First figure of an IP code, protection against solid bodies: "IP44" 4, "IPX4" nothing.
std::optional<int> solid_figure(const plan::Field<std::string>& ip) {
    if (!ip.known()) return std::nullopt;
    const auto at = ip->find("IP");
    if (at == std::string::npos || at + 2 >= ip->size()) return std::nullopt;
    int figure = 0;
    const char* first = ip->data() + at + 2;
    return std::from_chars(first, first + 1, figure).ec == std::errc{} ? std::optional(figure) : std::nullopt;
}

const plan::Field<std::string>* ip_of(const plan::Element& e) {
    if (const auto* outlet = e.as<plan::Outlet>()) return &outlet->ip;
    if (const auto* box = e.as<plan::Box>()) return &box->ip;
    return nullptr;
}

std::optional<double> least_figure(const Situation& s) {
    const tables::Table* table = s.tables.table("thresholds");
    return table ? table->number("dust_ip") : std::nullopt;
}

std::vector<Index> facing_up(const Situation& s) {
    std::vector<Index> found;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* outlet = s.plan[i].as<plan::Outlet>();
        if (outlet && outlet->faces.is(plan::Faces::up)) found.push_back(i);
    }
    return found;
}

std::vector<Index> open_enclosures(const Situation& s) {
    std::vector<Index> found;
    const auto least = least_figure(s);
    for (Index i = 0; i < s.plan.elements.size() && least; ++i) {
        const auto* ip = ip_of(s.plan[i]);
        const auto figure = ip ? solid_figure(*ip) : std::nullopt;
        if (figure && *figure < *least) found.push_back(i);
    }
    return found;
}

/// One finding for all of them.
void tell(Yield& yield, const std::vector<Index>& found, std::uint8_t variant) {
    Outcome o;
    o.basis = Basis::recommendation;
    o.variant = variant;
    o.fold = fold_of(variant);
    if (found.empty()) yield.outcomes.push_back(o);
    o.verdict = Verdict::caution;
    for (const Index i : found) {
        o.at = at_element(i);
        yield.outcomes.push_back(o);
    }
}

Yield look(const Situation& s) {
    Yield yield;
    if (s.plan.site.dust.is(false)) return yield;
    tell(yield, facing_up(s), faces_up);
    tell(yield, open_enclosures(s), open);
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    Explanation e;
    if (o.verdict == Verdict::ok) {
        e.headline = o.variant == faces_up ? "No outlet faces up" : "No enclosure is marked as open to dust";
        e.place = {s.plan.head.header, ""};
        return e;
    }
    const std::vector<Index> found = o.variant == faces_up ? facing_up(s) : open_enclosures(s);
    const bool one = found.size() == 1;
    for (const Index i : found) {
        const plan::Element& element = s.plan[i];
        const Label label{o.variant == faces_up ? place_of(element.as<plan::Outlet>()->faces, element)
                                                : place_of(*ip_of(element), element),
                          o.variant == faces_up ? "faces up" : "open to dust"};
        if (i == o.at.index)
            e.place = label;
        else
            e.related.push_back(label);
    }
    e.consequence = "Chips and fine dust settle on live parts: they track, warm and smoulder.";
    if (o.variant == faces_up) {
        e.headline = capital(list(s, found)) + (one ? " faces" : " face") + " up into the chips";
        e.short_words = list(s, found) + (one ? " fills" : " fill") + " with dust";
        e.remedies = {{Cost::free, "turn them sideways or down, out of the stream of chips"},
                      {Cost::cheap, "or outlets with a flap that closes by itself"}};
        if (s.nec()) cite_fact(s, e, "nec-406", "face_up");
        return e;
    }
    e.headline = "By the IP code wood dust gets into " + list(s, found);
    e.short_words = "dust gets into " + list(s, found);
    e.remedies = {{Cost::free, "close spare knockouts and blow dust out with the plug pulled"},
                  {Cost::cheap, "covers of IP4X, better IP5X"}};
    if (const tables::Table* table = s.tables.table("thresholds"))
        if (const auto* fact = table->fact("dust_ip")) e.sources.push_back(table->cite(*fact));
    return e;
}

}  // namespace

const Rule rule{.id = "heat.dust",
                .title = "wood dust gets to live parts",
                .harm = Harm::heat,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::dust
