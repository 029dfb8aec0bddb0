#include <benchfeed/report/wiring_parts.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/advice/core_colours.hpp>
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/report/cable_words.hpp>
#include <benchfeed/report/card_parts.hpp>
#include <benchfeed/rules/box_fill.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::report {

using advice::Means;
using advice::Point;
using plan::Index;
using rules::Situation;

namespace {

/// Columns of ticks that stand in one table.
constexpr std::size_t runs_in_a_table = 4;

bool is_wired(const advice::Run& run) {
    return run.refused.empty() && run.means != Means::mated;
}

/// Where a run begins, and where it ends.
Index start_of(const Situation& s, const advice::Run& run) {
    return run.element == plan::nowhere || run.from == run.element ? run.from
                                                                   : rules::starts_at(s, run.element);
}
std::string end_words(const Situation& s, const advice::Run& run) {
    return run.element == plan::nowhere ? advice::place_words(s, run.cores.front().to)
                                        : s.plan[run.element].words();
}

/// The colours of the nearest cable on the way to an element.
std::optional<advice::CoreColours> colours_near(const Situation& s, Index element) {
    for (Index up = element; up != plan::nowhere; up = s.plan[up].parent)
        if (const plan::Stock* stock = rules::stock_of(s, up)) return advice::core_colours(s, *stock);
    return std::nullopt;
}
/// A link has the colour of what it carries on.
std::string link_colour(const Situation& s, const advice::Run& run, plan::Conductor c) {
    const auto colours = colours_near(s, run.element == plan::nowhere ? run.from : run.element);
    if (!colours) return c == plan::Conductor::pe ? "green-yellow or bare" : "";
    if (c == plan::Conductor::pe) return colours->protective;
    if (c == plan::Conductor::n) return colours->neutral_colour;
    std::size_t line = static_cast<std::size_t>(c);
    for (std::size_t i = 0; i < colours->live.size(); ++i) {
        if (i == colours->neutral) continue;
        if (line-- == 0) return colours->live[i];
    }
    return colours->line_colour;
}

/// "1 brown: L"; cores that are numbered already keep their number.
std::string core_words(const Situation& s, const advice::Run& run, const advice::Core& core, int number) {
    std::string colour = core.colour;
    if (colour.empty()) colour = "link " + link_colour(s, run, core.from.conductor);
    return (colour.starts_with("core ") ? "" : std::to_string(number) + " ") + colour;
}

/// Terminals as they are called at each run of a kind: the places at its ends stand above.
std::string terminal_words(const Situation& s, const advice::Run& run, const advice::Terminal& t) {
    const bool at_an_end = t.element == run.element || t.element == start_of(s, run);
    const bool said =
        at_an_end && t.point != Point::pin && t.point != Point::returned && t.point != Point::metal;
    return said ? advice::words_there(s, t) : advice::words(s, t);
}
/// Where runs of a kind begin: each at its own switch, or all at one place.
std::string from_words(const Situation& s, const advice::Run& run) {
    const Index start = start_of(s, run);
    if (start == run.element) return "inside";
    if (s.plan[start].kind == plan::Kind::switch_ && s.plan[start].children.size() == 1)
        return "from its switch";
    return "from " + s.plan[start].words();
}

std::string ends_words(const Situation& s, const advice::Run& run) {
    if (run.means != Means::cable || run.element == plan::nowhere) return "by terminal";
    const auto& ends = s.plan[run.element].cable->ends;
    return ends.known() ? std::string(ends.word()) : unknown;
}

SheetTable cores_table(const Situation& s, const advice::Run& run) {
    SheetTable table;
    const bool marks = std::any_of(run.cores.begin(), run.cores.end(),
                                   [](const advice::Core& core) { return !core.marked.empty(); });
    table.head = {"core", "is", "from", "to", "strip mm", "ends"};
    table.columns = {Column::core, Column::words, Column::words, Column::words, Column::blank, Column::words};
    table.rooms = {0, 0, 0, 0, 10, 0};
    if (marks) {
        table.head.emplace_back("mark both ends");
        table.columns.push_back(Column::words);
        table.rooms.push_back(0);
    }
    const auto add = [&](std::vector<std::string> row, const std::string& mark) {
        if (marks) row.push_back(mark);
        table.rows.push_back(std::move(row));
    };
    int number = 0;
    for (const advice::Core& core : run.cores)
        add({core_words(s, run, core, ++number), core.means, terminal_words(s, run, core.from),
             terminal_words(s, run, core.to), "", ends_words(s, run)},
            core.marked.empty() ? "-" : core.marked);
    for (const std::string& spare : run.spare) {
        const std::string name = spare.starts_with("core ") ? spare : fmt::format("{} {}", ++number, spare);
        add({name, "spare", "end insulated", "end insulated", "-", "-"}, "spare");
    }
    table.least_height = 8;
    return table;
}

std::string feed_of(const Situation& s, const advice::Run& run) {
    switch (run.means) {
        case Means::cable:
            return feed_words(s, run.element);
        case Means::own_cord:
            return "its own cord";
        default:
            return "links, section as the cable that arrives";
    }
}

/// Runs that are wired core by core in the same way.
struct WiredAlike {
    std::string feed, from;
    SheetTable table;
    std::vector<std::string> keys, names;
};
std::vector<WiredAlike> kinds_of(const Situation& s, const advice::Schedule& schedule) {
    std::vector<WiredAlike> kinds;
    const auto keys = run_keys(schedule);
    for (std::size_t i = 0; i < schedule.runs.size(); ++i) {
        const advice::Run& run = schedule.runs[i];
        if (!is_wired(run) || run.cores.empty()) continue;
        WiredAlike kind{feed_of(s, run), from_words(s, run), cores_table(s, run), {}, {}};
        auto same = std::find_if(kinds.begin(), kinds.end(), [&](const WiredAlike& k) {
            return k.feed == kind.feed && k.from == kind.from && k.table.rows == kind.table.rows &&
                   k.keys.size() < runs_in_a_table;
        });
        if (same == kinds.end()) same = kinds.insert(kinds.end(), std::move(kind));
        same->keys.push_back(keys[i]);
        same->names.push_back(end_words(s, run));
    }
    return kinds;
}

SheetSection section_of(const WiredAlike& kind) {
    SheetSection section;
    section.wide = true;
    std::vector<std::string> names;
    for (std::size_t i = 0; i < kind.keys.size(); ++i) names.push_back(kind.keys[i] + " " + kind.names[i]);
    section.heading = joined(names, ", ");
    section.lines = {kind.feed + ", " + kind.from};
    section.table = kind.table;
    for (const std::string& key : kind.keys)
        for (const char* end : {"a", "b"}) {
            section.table.head.push_back(key + " " + end);
            section.table.columns.push_back(Column::tick);
            section.table.rooms.push_back(0);
            for (auto& row : section.table.rows) row.emplace_back();
        }
    return section;
}

}  // namespace

std::vector<std::string> run_keys(const advice::Schedule& schedule) {
    std::vector<std::string> keys;
    int number = 0;
    for (const advice::Run& run : schedule.runs)
        keys.push_back(is_wired(run) && !run.cores.empty() ? fmt::format("W{}", ++number) : "");
    return keys;
}

void name_runs(Diagram& diagram, const advice::Schedule& schedule) {
    const auto keys = run_keys(schedule);
    for (DiagramNode& node : diagram.nodes)
        for (std::size_t i = schedule.runs.size(); i-- > 0;)
            if (schedule.runs[i].element == node.element && !keys[i].empty())
                node.feed = keys[i] + (node.feed.empty() ? " links" : " " + node.feed);
}

std::vector<SheetSection> core_sections(const Situation& s, const advice::Schedule& schedule) {
    std::vector<SheetSection> sections;
    std::vector<std::string> refused;
    for (const advice::Run& run : schedule.runs)
        if (!run.refused.empty())
            refused.push_back(fmt::format("{}: {}", s.plan[run.element].words(), run.refused));
    if (!refused.empty()) {
        SheetSection section{"Cannot be connected as planned", refused};
        section.type = Type::strong;
        section.wide = true;
        sections.push_back(std::move(section));
    }
    for (const WiredAlike& kind : kinds_of(s, schedule)) sections.push_back(section_of(kind));
    SheetSection circuits{"Control circuits, at rest", {}};
    circuits.wide = true;
    circuits.circuits = control_circuits(s, schedule);
    if (!circuits.circuits.empty()) sections.push_back(std::move(circuits));
    SheetSection ways{"Terminal ways needed", {}};
    ways.table.head = {"terminals", "conductors"};
    for (const advice::Ways& way : schedule.ways) {
        std::string words = advice::words(s, way.terminal);
        if (way.terminal.point == Point::returned) words += ", in " + s.plan[way.box].words();
        ways.table.rows.push_back({words, std::to_string(way.wires)});
    }
    if (!ways.table.rows.empty()) sections.push_back(std::move(ways));
    sections.push_back(
        {"Colours",
         {"A colour is a claim: prove dead, test each core before it is connected. The cable in your "
          "hand may have others: then write them in. Never use the protective core for anything else.",
          "Strip as far as the terminal says, and write it in. Tick an end when it is tight and pulled at: a "
          "where the run begins, b where it ends."}});
    return sections;
}

namespace {

/// From a line to the buttons, through the emergency stops before them.
std::vector<ControlStep> way_to_buttons(const Situation& s, const advice::Schedule& schedule,
                                        const advice::Run& buttons) {
    std::vector<ControlStep> steps;
    for (const advice::Run* run = &buttons; run;) {
        const auto first = std::find_if(run->cores.begin(), run->cores.end(), [](const advice::Core& core) {
            return core.to.point == Point::button_in;
        });
        if (first == run->cores.end()) break;
        const Index stop = first->from.point == Point::stopped ? first->from.element : plan::nowhere;
        steps.insert(steps.begin(),
                     stop == plan::nowhere
                         ? ControlStep{ControlStep::Kind::terminal, advice::words(s, first->from), ""}
                         : ControlStep{ControlStep::Kind::opens, s.plan[stop].words(), ""});
        const auto next = std::find_if(schedule.runs.begin(), schedule.runs.end(), [&](const advice::Run& r) {
            return stop != plan::nowhere && r.element == stop;
        });
        run = next == schedule.runs.end() ? nullptr : &*next;
    }
    return steps;
}

}  // namespace

std::vector<ControlCircuit> control_circuits(const Situation& s, const advice::Schedule& schedule) {
    using Kind = ControlStep::Kind;
    std::vector<ControlCircuit> circuits;
    for (const advice::Run& run : schedule.runs) {
        if (run.element == plan::nowhere || run.means != Means::cable) continue;
        const auto* sw = s.plan[run.element].as<plan::Switch>();
        if (!sw || !sw->wiring.is(plan::Wiring::control)) continue;
        const auto leads_on = [](const advice::Core& core) { return core.to.point == Point::stopped; };
        if (std::any_of(run.cores.begin(), run.cores.end(), leads_on)) continue;  // drawn with each coil
        ControlCircuit circuit{s.plan[run.element].words(), way_to_buttons(s, schedule, run)};
        const bool stop_only = sw->kind.is(plan::SwitchKind::emergency_stop);
        circuit.steps.push_back({Kind::opens, stop_only ? "emergency stop" : "stop button", ""});
        if (!stop_only) circuit.steps.push_back({Kind::closes, "start button", "holding contact"});
        circuit.steps.push_back({Kind::coil, "coil", ""});
        for (const advice::Run& links : schedule.runs)
            for (const advice::Core& core : links.cores)
                if (core.to.point == Point::coil && core.to.element == run.element)
                    circuit.steps.push_back({Kind::terminal, advice::words(s, core.from), ""});
        circuits.push_back(std::move(circuit));
    }
    return circuits;
}

}  // namespace benchfeed::report
