#include <benchfeed/report/diagram.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/report/cable_words.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

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

}  // namespace

Diagram diagram_of(const Situation& s, const rules::Judgement& judgement, const advice::Schedule& schedule) {
    // Who feeds whom: the runs of the schedule; in front of them and behind them the plan's own words.
    std::vector<Index> from(s.plan.elements.size(), plan::nowhere);
    for (Index i = 0; i < s.plan.elements.size(); ++i) from[i] = s.plan[i].parent;
    for (const advice::Run& run : schedule.runs)
        if (run.element != plan::nowhere && run.from != run.element) from[run.element] = run.from;
    const auto busiest = busiest_parts(s, judgement);
    double most = 0;
    for (const Busiest& b : busiest) most = std::max(most, b.share);

    Diagram diagram;
    std::map<Index, std::size_t> node_of;
    for (const Index i : s.network.order) {
        const std::string amps = amps_of_load(s, i);
        if (s.plan[i].kind == Kind::load && s.plan[i].children.empty() &&
            s.plan[from[i]].kind == Kind::outlet) {
            diagram.nodes[node_of.at(from[i])].loads.push_back(short_name(s, i) +
                                                               (amps.empty() ? "" : " " + amps));
            continue;
        }
        DiagramNode node;
        node.element = i;
        node.sign = sign_of(s, i);
        node.name = short_name(s, i);
        node.feed = feed_words(s, i);
        if (const Busiest& b = busiest[i]; b.outcome) {
            node.figure = figure_of(*b.outcome);
            node.share = b.share;
            node.weakest = b.share == most;
        } else {
            node.figure = amps;
        }
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
        const std::string margin(std::min<std::size_t>(2 * depth, width / 2), ' ');
        std::string line = node.name;
        if (!node.figure.empty()) line += ": " + node.figure;
        if (node.weakest) line += " (the weakest)";
        for (const std::string& load : node.loads) line += "; " + load;
        if (!node.feed.empty()) line += "; " + node.feed;
        out += wrapped(harmless(line), margin + (depth == 0 ? "" : "- "), margin + "    ", {.width = width});
        // A chain stays at its depth; only what branches off is set in.
        const bool branches = node.children.size() > 1;
        for (auto child = node.children.rbegin(); child != node.children.rend(); ++child)
            stack.push_back({*child, depth + (branches || depth == 0 ? 1 : 0)});
    }
    return out;
}

}  // namespace benchfeed::report
