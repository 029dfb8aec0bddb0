#include <benchfeed/report/diagram.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include <benchfeed/advice/pictures.hpp>
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/report/cable_words.hpp>
#include <benchfeed/report/set_type.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::report {

using plan::Kind;
using rules::Situation;

namespace {

Sign sign_of(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    switch (e.kind) {
        case Kind::supply:
            return Sign::source;
        case Kind::device: {
            const auto& device = *e.as<plan::Device>();
            if (device.kind.is(plan::DeviceKind::fuse)) return Sign::fuse;
            return device.kind.is(plan::DeviceKind::residual_current_device) ? Sign::residual : Sign::breaker;
        }
        case Kind::outlet:
            return Sign::outlet;
        case Kind::box:
            return Sign::box;
        case Kind::switch_:
            return Sign::opener;
        case Kind::load:
            break;
    }
    const auto& load = *e.as<plan::Load>();
    if (load.kind.is(plan::LoadKind::light)) return Sign::lamp;
    if (load.kind.is(plan::LoadKind::heater)) return Sign::heater;
    return load.motor.is(plan::Motor::universal) || load.motor.is(plan::Motor::induction) ? Sign::motor
                                                                                          : Sign::other;
}

/// The part of an element with the greatest share of what it may carry, over all declared sets.
struct Busiest {
    const rules::Outcome* outcome = nullptr;
    double share = 0;
};
std::vector<Busiest> busiest_parts(const Situation& s, const rules::Judgement& judgement) {
    std::vector<Busiest> found(s.plan.elements.size());
    for (const rules::Outcome& o : judgement.outcomes) {
        if (o.at.kind != rules::At::Kind::element || o.set == rules::everything_set) continue;
        if (o.limit == plan::nowhere || !judgement.limits[o.limit].weakest) continue;
        const auto share = o.share();
        if (!share || !std::holds_alternative<Current>(o.value)) continue;
        Busiest& busiest = found[o.at.index];
        if (!busiest.outcome || *share > busiest.share) busiest = {&o, *share};
    }
    return found;
}

std::string figure_of(const rules::Outcome& o) {
    const std::string part = o.part == rules::Part::whole ? "" : std::string(rules::words(o.part)) + " ";
    return fmt::format("{}{} of {}", part, plain_digits(in(unit::ampere, std::get<Current>(o.value)), 3),
                       to_text(o.edge));
}

/// In a drawing every letter counts.
std::string short_name(const Situation& s, Index i) {
    const std::string name = s.plan[i].words();
    return name.starts_with("the ") ? name.substr(4) : name;
}

std::string amps_of_load(const Situation& s, Index i) {
    const Index load = s.network.load_of[i];
    if (load == plan::nowhere) return "";
    return s.network.loads[load].known() ? to_text(s.network.loads[load].current) : "? A";
}

/// Poles that an element opens, or as many strokes as nobody can take for more.
int poles_of(const plan::Element& e) {
    if (const auto* sw = e.as<plan::Switch>()) return sw->poles.known() ? *sw->poles : 1;
    if (const auto* device = e.as<plan::Device>()) return device->poles.known() ? *device->poles : 1;
    return 1;
}

/// Cores of the cable that feeds an element, or the conductors that its plug carries.
int conductors_of_feed(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    if (const plan::Stock* stock = rules::stock_of(s, i); stock && stock->cores.known()) return *stock->cores;
    if (!e.cable && !e.plug.known()) return 0;
    return e.conductors.known() ? e.conductors->lines() + (e.conductors->has(plan::Conductor::n) ? 1 : 0) + 1
                                : 0;
}

/// Of those with the greatest share the one that is told everywhere else as well.
Index weakest_element(const Situation& s, const rules::Judgement& judgement) {
    for (const advice::LoadBar& bar : advice::load_bars(s, judgement))
        if (bar.weakest && bar.at.kind == rules::At::Kind::element) return bar.at.index;
    return plan::nowhere;
}

DiagramNode node_of_element(const Situation& s, Index i, const std::string& key) {
    const plan::Element& e = s.plan[i];
    DiagramNode node;
    node.element = i;
    node.sign = sign_of(s, i);
    node.poles = poles_of(e);
    const auto* device = e.as<plan::Device>();
    node.residual = device && device->residual && node.sign != Sign::residual;
    node.conductors = conductors_of_feed(s, i);
    node.name = (key.empty() ? "" : key + " ") + short_name(s, i);
    node.kind = e.kind == Kind::switch_ ? "switch" : std::string(word(e.kind));
    node.feed = feed_words(s, i);
    return node;
}

}  // namespace

std::vector<std::string> outlet_keys(const Situation& s) {
    std::vector<std::string> keys(s.plan.elements.size());
    int number = 0;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == Kind::outlet && !s.network.house[i] && !rules::inside_a_machine(s, i))
            keys[i] = fmt::format("O{}", ++number);
    return keys;
}

Diagram diagram_of(const Situation& s, const rules::Judgement& judgement, const advice::Schedule& schedule) {
    // Who feeds whom: the runs of the schedule; in front of them and behind them the plan's own words.
    std::vector<Index> from(s.plan.elements.size(), plan::nowhere);
    for (Index i = 0; i < s.plan.elements.size(); ++i) from[i] = s.plan[i].parent;
    for (const advice::Run& run : schedule.runs)
        if (run.element != plan::nowhere && run.from != run.element) from[run.element] = run.from;
    const auto busiest = busiest_parts(s, judgement);
    const Index weakest = weakest_element(s, judgement);
    const auto keys = outlet_keys(s);

    Diagram diagram;
    std::map<Index, std::size_t> node_of;
    for (const Index i : s.network.order) {
        const std::string amps = amps_of_load(s, i);
        if (s.plan[i].kind == Kind::load && s.plan[i].children.empty() &&
            s.plan[from[i]].kind == Kind::outlet) {
            diagram.nodes[node_of.at(from[i])].loads.push_back({amps, short_name(s, i), sign_of(s, i)});
            continue;
        }
        DiagramNode node = node_of_element(s, i, keys[i]);
        if (const Busiest& b = busiest[i]; b.outcome) {
            node.figure = figure_of(*b.outcome);
            node.share = b.share;
        } else {
            node.figure = amps;
        }
        node.weakest = i == weakest;
        node_of[i] = diagram.nodes.size();
        if (from[i] == plan::nowhere)
            diagram.roots.push_back(diagram.nodes.size());
        else
            diagram.nodes[node_of.at(from[i])].children.push_back(diagram.nodes.size());
        diagram.nodes.push_back(std::move(node));
    }
    return diagram;
}

std::string diagram_text(const Diagram& diagram, std::size_t width) {
    std::string out;
    struct Visit {
        std::size_t node, depth;
    };
    std::vector<Visit> stack;
    for (auto root = diagram.roots.rbegin(); root != diagram.roots.rend(); ++root)
        stack.push_back({*root, 0});
    while (!stack.empty()) {
        const auto [at, depth] = stack.back();
        stack.pop_back();
        const DiagramNode& node = diagram.nodes[at];
        const std::string margin(std::min<std::size_t>(2 * depth, width / 3), ' ');
        std::string line = node.name;
        if (!node.figure.empty()) line += ": " + node.figure;
        if (node.share > 1) line += ", " + over_words(node.share);
        if (node.weakest) line += " (the weakest)";
        if (!node.feed.empty()) line += "; " + node.feed;
        out += wrapped(kept_together(harmless(line)), margin + (depth == 0 ? "" : "- "), margin + "    ",
                       {.width = width});
        for (const PluggedLoad& load : node.loads)
            out += wrapped(kept_together(harmless(load.name + ": " + load.amps)), margin + "  - ",
                           margin + "      ", {.width = width});
        for (auto child = node.children.rbegin(); child != node.children.rend(); ++child)
            stack.push_back({*child, depth + 1});
    }
    return plain_spaces(out);
}

}  // namespace benchfeed::report
