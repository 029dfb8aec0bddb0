#include "report/card_parts.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/quantity_text.hpp"
#include "report/cable_words.hpp"
#include "rules/box_fill.hpp"
#include "rules/stops.hpp"
#include "rules/support.hpp"
#include "rules/upstream.hpp"

namespace benchfeed::report {

using plan::Index;
using rules::Situation;

namespace {

const std::string unknown = "?";

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

std::vector<Index> loads_at(const Situation& s, Index outlet) {
    std::vector<Index> loads;
    for (const Index child : s.plan[outlet].children)
        if (s.plan[child].kind == plan::Kind::load) loads.push_back(child);
    return loads;
}

std::string ohms(Impedance value) {
    return fmt::format("{:.2f} ohm", in(unit::ohm, value));
}

/// Outlets in which a reading is the same share one row.
struct Row {
    std::vector<std::string> where;
    std::string test, expected, stop;
};
void add_row(std::vector<Row>& rows, std::string where, std::string test, std::string expected,
             std::string stop) {
    for (Row& row : rows)
        if (row.test == test && row.expected == expected && row.stop == stop) {
            row.where.push_back(std::move(where));
            return;
        }
    rows.push_back({{std::move(where)}, std::move(test), std::move(expected), std::move(stop)});
}
/// "every outlet", "every outlet but the lamp outlet", or their names.
std::string where_words(const std::vector<std::string>& where, const std::vector<std::string>& outlets) {
    std::vector<std::string> missing;
    for (const std::string& outlet : outlets)
        if (std::find(where.begin(), where.end(), outlet) == where.end()) missing.push_back(outlet);
    if (where.size() + missing.size() != outlets.size() || where.size() < 3 || missing.size() > 2)
        return rules::list(where);
    return missing.empty() ? "every outlet" : "every outlet but " + rules::list(missing);
}
void put_rows(SheetSection& section, const std::vector<Row>& rows, const std::vector<std::string>& outlets) {
    section.table.head = {"test", "expected", "stop if", "read"};
    for (const Row& row : rows) {
        const std::string where = where_words(row.where, outlets);
        section.table.rows.push_back(
            {row.test + (where.empty() ? "" : ": " + where), row.expected, row.stop, ""});
    }
}

/// "1 brown"; cores that are numbered already keep their number.
std::string numbered(int number, const std::string& colour) {
    if (colour.starts_with("core ")) return colour;
    return fmt::format("{} {}", number, colour.empty() ? "link" : colour);
}

std::vector<std::string> tested_outlets(const Situation& s, const advice::Readings& read) {
    std::vector<std::string> names;
    for (const auto& r : read.outlets) names.push_back(s.plan[r.outlet].words());
    return names;
}

std::string from_words(const Situation& s) {
    return rules::bench_plugs(s).empty() ? "From the panel" : "From the pins of the plug";
}

}  // namespace

std::string joined(const std::vector<std::string>& words, std::string_view between) {
    std::string out;
    for (const std::string& word : words) out += (out.empty() ? "" : std::string(between)) + word;
    return out;
}

SheetSection outlet_section(const Situation& s) {
    SheetSection section{"Outlets", {}, {}, false, true};
    section.table.head = {"outlet",  "belongs there",     "switch", "limit", "poles",
                          "no-volt", "restarts by itself"};
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (s.plan[i].kind != plan::Kind::outlet || s.network.house[i]) continue;
        std::vector<std::string> loads, restarts, poles;
        for (const Index load : loads_at(s, i)) {
            const auto position = s.network.load_of[load];
            const bool known = position != plan::nowhere && s.network.loads[position].known();
            loads.push_back(fmt::format("{} {}", s.plan[load].words(),
                                        known ? to_text(s.network.loads[position].current) : unknown + " A"));
            restarts.push_back(restart_words(s, load));
        }
        const auto switches = switches_above(s, i);
        std::vector<std::string> names;
        bool no_volt = false;
        for (const Index sw : switches) {
            names.push_back(s.plan[sw].words());
            poles.push_back(poles_words(*s.plan[sw].as<plan::Switch>()));
            no_volt |= s.plan[sw].as<plan::Switch>()->no_volt.is(true);
        }
        section.table.rows.push_back({s.plan[i].words(), loads.empty() ? "free" : joined(loads, "; "),
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
    SheetSection section{"Cords and runs", {}, {}, false, false};
    section.table.head = {"to", "cable", "protected by"};
    for (const Cable& c : cables) section.table.rows.push_back({rules::list(c.where), c.words, c.device});
    return section;
}

SheetSection dead_tests(const Situation& s, const advice::Readings& read, const advice::Schedule& schedule) {
    SheetSection section{"DEAD: unplugged, tools out, for the builder. " + from_words(s) + " to each place",
                         {"Expected: cold, strands plain; tinned ones read a little more."},
                         {},
                         false,
                         false};
    std::vector<Row> rows;
    for (const auto& r : read.outlets) {
        const std::string name = s.plan[r.outlet].words();
        add_row(rows, name, "protective conductor",
                r.protective.expected ? ohms(*r.protective.expected) : unknown,
                r.protective.stop ? "above " + ohms(*r.protective.stop) : "an electrician says");
    }
    for (const auto& m : read.metals)
        add_row(rows, "metal of " + s.plan.metals[m.metal].name, "protective conductor",
                m.protective.expected ? ohms(*m.protective.expected) : unknown,
                m.protective.stop ? "above " + ohms(*m.protective.stop) : "an electrician says");
    for (const auto& r : read.outlets) {
        const std::string name = s.plan[r.outlet].words();
        if (r.open_when_dead)
            add_row(rows, name, "line and neutral, behind a release", "open", "joined");
        else
            add_row(rows, name, "L and N joined at the outlet, switch on", r.round ? ohms(*r.round) : unknown,
                    read.loop_excess ? fmt::format("open, or {} more", read.loop_excess->written) : "open");
    }
    if (std::any_of(read.outlets.begin(), read.outlets.end(), [&](const auto& r) {
            return !r.open_when_dead &&
                   std::any_of(schedule.gates.begin(), schedule.gates.end(), [&](const auto& gate) {
                       return s.network.hangs_below(r.outlet, gate.element);
                   });
        }))
        add_row(rows, "", "each switch off: its outlet open, no other changes", "open", "joined");
    add_row(rows, "", "L to N, each to PE; no coil, lamp or electronics between", "open", "joined");
    if (read.insulation_least)
        add_row(rows, "",
                fmt::format("insulation at {} DC, L and N to PE, electronics and coils disconnected",
                            to_text(read.insulation_volts->value)),
                "far more", "below " + std::string(read.insulation_least->written));
    else
        add_row(rows, "", "insulation: an electrician chooses voltage and limit", unknown,
                "an electrician says");
    put_rows(section, rows, tested_outlets(s, read));
    return section;
}

namespace {

/// What goes dead when a stop is pressed: the tools behind it, or where none is plugged in the contactors.
std::string stopped_words(const Situation& s, const rules::Stop& stop) {
    const std::vector<Index> loads = rules::stopped_by(s, stop);
    return loads.empty() ? "what is behind " + rules::list(s, stop.opens) : rules::list(s, loads);
}

/// Pressed and pulled out again, each emergency stop.
void add_stop_tests(std::vector<Row>& rows, const Situation& s) {
    for (const rules::Stop& stop : rules::emergency_stops(s)) {
        const std::string name = s.plan[stop.element].words();
        if (!stop.known || stop.opens.empty()) {
            add_row(rows, name, "pressed while everything runs", unknown, "a blade runs on");
            continue;
        }
        add_row(rows, name, "pressed while everything runs, once a month", stopped_words(s, stop) + ": dead",
                "one runs on");
        add_row(rows, name, "pulled out again", "all of it stays dead", "something starts");
    }
}

}  // namespace

SheetSection live_tests(const Situation& s, const advice::Readings& read) {
    SheetSection section{"LIVE: electrician", {}, {}, false, false};
    std::vector<Row> rows;
    for (const auto& r : read.outlets) {
        const std::string name = s.plan[r.outlet].words();
        add_row(
            rows, name, fmt::format("volts beside a heater of {}", to_text(r.load)),
            r.loaded ? fmt::format("{:.0f} V of {}", in(unit::volt, *r.loaded), to_text(r.idle)) : unknown,
            read.drop_excess ? fmt::format("drop {} more", read.drop_excess->written) : "drop is more");
    }
    if (!s.nec())
        for (const auto& r : read.outlets)
            add_row(rows, s.plan[r.outlet].words(),
                    r.loop_by_residual ? "fault loop, for the residual device to open" : "fault loop",
                    r.loop ? ohms(*r.loop) : unknown,
                    r.loop_stop ? "above " + ohms(*r.loop_stop) : "an electrician says");
    for (const auto& r : read.residuals) {
        const std::string name = s.plan[r.device].words();
        std::string at = "residual device at " + to_text(r.trip),
                    stop = r.at_1 ? "slower than " + to_text(r.at_1->value) : unknown;
        if (r.at_5) {
            at += " (" + to_text(Current(5.0 * r.trip)) + ")";
            stop += " (" + to_text(r.at_5->value) + ")";
        }
        add_row(rows, name, at, "opens", stop);
        add_row(rows, name, "test button", "opens", "it stays");
    }
    const bool releases =
        std::any_of(s.plan.elements.begin(), s.plan.elements.end(), [](const plan::Element& e) {
            const auto* sw = e.as<plan::Switch>();
            return sw && sw->no_volt.is(true);
        });
    if (releases)
        add_row(rows, "", "power off and on with the tool on, each no-volt switch", "it stays off",
                "it starts");
    add_stop_tests(rows, s);
    add_row(rows, "", "plug and cord, after half an hour of the heaviest set", "warm", "too hot to hold");
    put_rows(section, rows, tested_outlets(s, read));
    return section;
}

namespace {

/// Table and ladder of a run, core by core.
void add_cores(SheetSection& section, const Situation& s, const advice::Run& run, Index starts) {
    using advice::Point;
    const auto is_at = [](const advice::Terminal& terminal, Index element) {
        return terminal.element == element && terminal.point != Point::returned &&
               terminal.point != Point::pin;
    };
    int number = 0;
    for (const advice::Core& core : run.cores) {
        std::string name = numbered(++number, core.colour);
        section.table.rows.push_back({name, advice::words(s, core.from), advice::words(s, core.to),
                                      core.means, core.marked.empty() ? "-" : core.marked});
        if (!core.marked.empty()) name += ", marked " + core.marked;
        // What comes back from a switch begins at the far end.
        const bool comes_back = run.element != starts && is_at(core.from, run.element);
        const advice::Terminal &near = comes_back ? core.to : core.from,
                               &far = comes_back ? core.from : core.to;
        // The place stands above; what is elsewhere says so.
        const auto short_words = [&](const advice::Terminal& terminal, bool here) {
            return here ? advice::words_there(s, terminal) : advice::words(s, terminal);
        };
        section.ladder.rungs.push_back({short_words(near, near.point == Point::pin || is_at(near, starts)),
                                        short_words(far, is_at(far, run.element)), name, core.colour});
    }
    for (const std::string& spare : run.spare) {
        const std::string name = numbered(++number, spare);
        section.table.rows.push_back({name, "end insulated", "end insulated", "spare", "spare"});
        section.ladder.rungs.push_back({"end insulated", "end insulated", name, spare, true});
    }
}

}  // namespace

std::vector<SheetSection> core_sections(const Situation& s, const advice::Schedule& schedule) {
    std::vector<SheetSection> sections;
    std::vector<std::string> refused;
    for (const advice::Run& run : schedule.runs) {
        if (!run.refused.empty()) {
            refused.push_back(fmt::format("{}: {}", s.plan[run.element].words(), run.refused));
            continue;
        }
        if (run.means == advice::Means::mated) continue;
        const Index starts = run.element == plan::nowhere || run.from == run.element
                                 ? run.from
                                 : rules::starts_at(s, run.element);
        const std::string from = s.plan[starts].words(),
                          to = run.element == plan::nowhere ? "a metal part" : s.plan[run.element].words();
        SheetSection section{"", {}, {}, false, true};
        switch (run.means) {
            case advice::Means::cable:
                section.heading = fmt::format("{}: {}, from {}", to, feed_words(s, run.element), from);
                break;
            case advice::Means::own_cord:
                section.heading = fmt::format("{}: its own cord, from {}", to, from);
                break;
            default:
                section.heading = from == to ? fmt::format("{}: links inside", to)
                                             : fmt::format("{}: links from {}", to, from);
        }
        section.table.head = {"core", "from", "to", "is", "mark both ends"};
        const auto place = [&](const advice::Terminal& terminal, const std::string& otherwise) {
            const bool plugged =
                terminal.point == advice::Point::pin || terminal.point == advice::Point::inlet;
            return plugged ? advice::place_words(s, terminal) : otherwise;
        };
        if (!run.cores.empty()) {
            section.ladder.left = place(run.cores.front().from, from);
            section.ladder.right = place(run.cores.front().to, to);
        }
        add_cores(section, s, run, starts);
        sections.push_back(std::move(section));
    }
    SheetSection ways{"Ways that each potential needs", {}, {}, false, true};
    ways.table.head = {"terminals", "conductors"};
    for (const advice::Ways& way : schedule.ways) {
        std::string words = advice::words(s, way.terminal);
        if (way.terminal.point == advice::Point::returned) words += ", in " + s.plan[way.box].words();
        ways.table.rows.push_back({words, std::to_string(way.wires)});
    }
    if (!ways.table.rows.empty()) sections.push_back(std::move(ways));
    if (!refused.empty())
        sections.insert(sections.begin(), {"Cannot be connected as planned", refused, {}, true, true});
    sections.push_back(
        {"Colours",
         {"A colour is a claim: prove dead, test each core before it is connected. The cable in your "
          "hand may have others: then write them in. Never use the protective core for anything else."},
         {},
         false,
         true});
    return sections;
}

}  // namespace benchfeed::report
