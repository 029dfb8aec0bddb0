#include <benchfeed/report/card_parts.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/report/cable_words.hpp>
#include <benchfeed/rules/box_fill.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::report {

using plan::Index;
using rules::Situation;

namespace {

/// Switches between an outlet and the supply that are the bench's own, nearest first.
std::vector<Index> switches_above(const Situation& s, Index outlet) {
    std::vector<Index> found;
    for (Index up = s.plan[outlet].parent; up != plan::nowhere; up = s.plan[up].parent)
        if (s.plan[up].kind == plan::Kind::switch_) found.push_back(up);
    return found;
}

/// The least of what outlet and switches carry, and of what their motor ratings allow.
std::string limit_words(const Situation& s, Index outlet) {
    std::optional<Current> least = rules::outlet_rating(s, outlet).current, motors;
    bool open = !least;
    const auto lower = [](std::optional<Current>& bound, Current value) {
        if (!bound || value < *bound) bound = value;
    };
    for (const Index sw : switches_above(s, outlet)) {
        const auto& what = *s.plan[sw].as<plan::Switch>();
        if (what.rating.known())
            lower(least, *what.rating);
        else
            open = true;
        if (what.motor_rating.known())
            if (const auto* amps = std::get_if<Current>(&*what.motor_rating)) lower(motors, *amps);
    }
    std::string words = least ? to_text(*least) : unknown;
    if (open && least) words = "at most " + words;
    if (motors && (!least || *motors < *least)) words += ", motors " + to_text(*motors);
    return words;
}

std::string poles_words(const plan::Switch& sw) {
    return sw.poles.known() ? std::to_string(*sw.poles) : unknown;
}

/// What a load does when power comes back: no, YES, or nobody knows.
std::string restart_words(const Situation& s, Index load) {
    const auto& what = *s.plan[load].as<plan::Load>();
    if (rules::released_below(s, s.plan.supply_index_of(load), load)) return "no";
    if (what.latched.is(false)) return "no";
    if (!what.latched.is(true)) return unknown;
    return rules::turns(what) ? "YES" : "yes";
}

/// The name under a head that says what it is: "saw" for "the saw outlet". A label loses its article
/// alone.
std::string name_in_column(const plan::Element& e) {
    std::string name = e.words();
    if (name.starts_with("the ")) name.erase(0, 4);
    const std::string kind = " " + std::string(plan::word(e.kind));
    if (!e.label.known() && name.ends_with(kind)) name.resize(name.size() - kind.size());
    return name;
}

std::vector<Index> loads_at(const Situation& s, Index outlet) {
    std::vector<Index> loads;
    for (const Index child : s.plan[outlet].children)
        if (s.plan[child].kind == plan::Kind::load) loads.push_back(child);
    return loads;
}

}  // namespace

std::string joined(const std::vector<std::string>& words, std::string_view between) {
    std::string out;
    for (const std::string& word : words) out += (out.empty() ? "" : std::string(between)) + word;
    return out;
}

SheetSection outlet_section(const Situation& s) {
    SheetSection section{"Outlets", {}};
    section.wide = true;
    section.table.head = {"key",   "outlet", "tool",    "switch",
                          "limit", "poles",  "no-volt", "restarts by itself"};
    const auto keys = outlet_keys(s);
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (s.plan[i].kind != plan::Kind::outlet || s.network.house[i]) continue;
        std::vector<std::string> loads, restarts, poles;
        for (const Index load : loads_at(s, i)) {
            const auto position = s.network.load_of[load];
            const bool known = position != plan::nowhere && s.network.loads[position].known();
            loads.push_back(fmt::format("{} {}",
                                        known ? to_text(s.network.loads[position].current) : unknown + " A",
                                        name_in_column(s.plan[load])));
            restarts.push_back(restart_words(s, load));
        }
        const auto switches = switches_above(s, i);
        std::vector<std::string> names;
        bool no_volt = false;
        for (const Index sw : switches) {
            names.push_back(name_in_column(s.plan[sw]));
            poles.push_back(poles_words(*s.plan[sw].as<plan::Switch>()));
            no_volt |= s.plan[sw].as<plan::Switch>()->no_volt.is(true);
        }
        section.table.rows.push_back({keys[i].empty() ? "-" : keys[i], name_in_column(s.plan[i]),
                                      loads.empty() ? "free" : joined(loads, "; "),
                                      names.empty() ? "none" : joined(names, ", "), limit_words(s, i),
                                      poles.empty() ? "none" : joined(poles, ", "), no_volt ? "yes" : "no",
                                      restarts.empty() ? "-" : joined(restarts, "; ")});
    }
    return section;
}

SheetSection cable_section(const Situation& s) {
    struct Cable {
        std::string words, device;
        std::vector<std::string> where;
    };
    std::vector<Cable> cables;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (s.network.house[i] || !rules::stock_of(s, i) || rules::as_sold(s, i)) continue;
        const auto guard = network::overload_guard(s.plan, s.tables, i, network::Place::cable);
        std::string device = "nothing";
        if (guard.found) {
            device = rules::words(s, rules::at_element(guard.found->element), rules::part_of(*guard.found));
            if (guard.found->rating) device += " " + to_text(*guard.found->rating);
        } else if (guard.undecided) {
            device = unknown;
        }
        const std::string words = feed_words(s, i), where = s.plan[i].words();
        const auto same = std::find_if(cables.begin(), cables.end(), [&](const Cable& c) {
            return c.words == words && c.device == device;
        });
        if (same != cables.end())
            same->where.push_back(where);
        else
            cables.push_back({words, device, {where}});
    }
    SheetSection section{"Cords and runs", {}};
    section.table.head = {"to", "cable", "protected by"};
    for (const Cable& c : cables) section.table.rows.push_back({rules::list(c.where), c.words, c.device});
    return section;
}

}  // namespace benchfeed::report
