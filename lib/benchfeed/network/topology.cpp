// Who hangs below whom, what is house and what is bench, and which impedances two feeds share.
#include <benchfeed/network/network.hpp>
#include <benchfeed/network/parts.hpp>

namespace benchfeed::network {

using plan::Conductor;
using plan::Element;
using plan::Kind;
using plan::Plan;

namespace {

/// Preorder numbers without recursion: a chain may be deep.
void number_subtrees(const Plan& plan, Network& network) {
    network.enter.assign(plan.elements.size(), 0);
    network.leave.assign(plan.elements.size(), 0);
    network.order.clear();
    Index next = 0;
    struct Visit {
        Index element;
        std::size_t child;
    };
    std::vector<Visit> stack;
    for (Index root = 0; root < plan.elements.size(); ++root) {
        if (plan[root].parent != plan::nowhere) continue;
        network.enter[root] = next++;
        network.order.push_back(root);
        stack.push_back({root, 0});
        while (!stack.empty()) {
            auto& [element, child] = stack.back();
            if (child == plan[element].children.size()) {
                network.leave[element] = next;
                stack.pop_back();
                continue;
            }
            const Index below = plan[element].children[child++];
            network.enter[below] = next++;
            network.order.push_back(below);
            stack.push_back({below, 0});
        }
    }
}

/// As found: what lies between the panel and the wall outlet. On a bench with a plug that is everything
/// above the first plug that still leads to one, and every outlet there; `existing = true` says so
/// anywhere, and covers what feeds it.
void mark_house(const Plan& plan, Network& network) {
    const std::size_t count = plan.elements.size();
    const bool has_plug = plan.head.mounting.get_or(plan::Mounting::mobile) != plan::Mounting::fixed;
    std::vector<bool> plug_above(count, false), plug_below(count, false);
    const auto plugged = [&](Index i) { return plan[i].plug.written() && plan[i].kind != Kind::load; };
    for (const Index i : network.order) {
        const Index parent = plan[i].parent;
        plug_above[i] = plugged(i) || (parent != plan::nowhere && plug_above[parent]);
    }
    network.house.assign(count, false);
    for (auto it = network.order.rbegin(); it != network.order.rend(); ++it) {  // children before parents
        const Index i = *it, parent = plan[i].parent;
        const Element& element = plan[i];
        if (has_plug && !plug_above[i] && element.kind != Kind::load &&
            (element.kind == Kind::supply || element.kind == Kind::outlet || plug_below[i]))
            network.house[i] = true;
        if (element.existing.value_or(false)) network.house[i] = true;
        if (parent == plan::nowhere) continue;
        if (plug_below[i] || plugged(i)) plug_below[parent] = true;
        if (network.house[i]) network.house[parent] = true;
    }
}

}  // namespace

void make_topology(const Plan& plan, Network& network) {
    number_subtrees(plan, network);
    mark_house(plan, network);
    for (Index i = 0; i < plan.elements.size(); ++i)
        if (is_bench_plug(plan, network, i)) ++network.bench_plugs;
}

bool is_bench_plug(const Plan& plan, const Network& network, Index element) {
    const Element& e = plan[element];
    return e.kind != Kind::load && e.plug.known() && e.parent != plan::nowhere && network.house[e.parent];
}

std::array<ComplexImpedance, live_conductors> impedance_to(const Plan& plan, const Network& network,
                                                           Index element, Extent extent) {
    return common_impedance(plan, network, element, element, extent);
}

void add_up_impedances(const Plan& plan, Network& network) {
    using Sums = std::vector<std::array<ComplexImpedance, live_conductors>>;
    const auto add_up = [&](Sums& sums, auto Branch::*impedance) {
        sums.resize(plan.elements.size());
        for (const Index i : network.order) {
            sums[i] = network.branches[i].*impedance;
            if (plan[i].parent == plan::nowhere) continue;
            for (std::size_t c = 0; c < live_conductors; ++c) sums[i][c] += sums[plan[i].parent][c];
        }
    };
    add_up(network.down_to, &Branch::impedance);
    add_up(network.down_to_far_end, &Branch::far_end);
}

Index last_in_common(const Plan& plan, const Network& network, Index a, Index b) {
    Index up = a;
    while (up != plan::nowhere && !network.hangs_below(b, up)) up = plan[up].parent;
    return up;
}

bool feed_is_unknown(const Plan& plan, const Network& network, Index element) {
    for (Index up = element; up != plan::nowhere; up = plan[up].parent)
        if (!network.branches[up].known) return true;
    return false;
}

std::array<ComplexImpedance, live_conductors> common_impedance(const Plan& plan, const Network& network,
                                                               Index a, Index b, Extent extent) {
    const Index last = last_in_common(plan, network, a, b);
    if (last == plan::nowhere) return {};
    return extent == Extent::near_end ? network.down_to[last] : network.down_to_far_end[last];
}

std::vector<Index> unknown_branches(const Plan& plan, const Network& network, Index element) {
    std::vector<Index> unknown;
    if (!feed_is_unknown(plan, network, element)) return unknown;
    for (const Index up : plan.path_to(element))
        if (!network.branches[up].known) unknown.push_back(up);
    return unknown;
}

std::optional<Pair> pair_of(plan::Conductors conductors) {
    std::array<Conductor, live_conductors> live{};
    std::size_t count = 0;
    for (const auto c : {Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n})
        if (conductors.has(c)) live[count++] = c;
    if (count == 3 && conductors.lines() == 2) --count;  // the neutral beside two lines
    if (count != 2) return std::nullopt;
    return Pair{live[0], live[1]};
}

Pairs pairs_of(plan::Conductors conductors) {
    if (const auto pair = pair_of(conductors)) return {{*pair}, 1};
    return {
        {{{Conductor::l1, Conductor::l2}, {Conductor::l2, Conductor::l3}, {Conductor::l3, Conductor::l1}}},
        3};
}

}  // namespace benchfeed::network
