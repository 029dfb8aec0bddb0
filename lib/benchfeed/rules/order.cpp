#include <benchfeed/rules/order.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include <benchfeed/rules/overload.hpp>

namespace benchfeed::rules {

namespace {

/// Rules that are worse than others of their harm.
struct Ranked {
    std::string_view id;
    Danger danger;
};
constexpr std::array ranked{
    Ranked{"shock.protective-conductor", Danger::touch},
    Ranked{"shock.no-earth-contact", Danger::touch},
    Ranked{"shock.cores-missing", Danger::touch},
    Ranked{"shock.one-pole-off", Danger::touch},
    Ranked{"shock.lines-not-ganged", Danger::touch},
    Ranked{"shock.second-supply", Danger::touch},
    Ranked{"shock.joined-neutrals", Danger::touch},
    Ranked{"heat.cable-unprotected", Danger::heat_unended},
    Ranked{"heat.element-unprotected", Danger::heat_unended},
    Ranked{"heat.short-circuit-slow", Danger::heat_unended},
    Ranked{"heat.breaking-capacity", Danger::heat_unended},
    Ranked{"volts.collapse", Danger::heat},  // a motor that stalls heats its cable
};

Danger by_harm(Harm harm) {
    switch (harm) {
        case Harm::heat:
            return Danger::heat;
        case Harm::shock:
            return Danger::shock;
        case Harm::restart:
            return Danger::restart;
        case Harm::volts:
            return Danger::volts;
        case Harm::trip:
            return Danger::trip;
        case Harm::plan:
            break;
    }
    return Danger::plan;
}

/// What is asked for comes before what is advised.
int rank(Basis basis) {
    constexpr std::array order{Basis::standard, Basis::marking,        Basis::physics,
                               Basis::local,    Basis::recommendation, Basis::practice};
    return static_cast<int>(std::find(order.begin(), order.end(), basis) - order.begin());
}

}  // namespace

Danger danger(const Rule& rule) {
    const auto it =
        std::find_if(ranked.begin(), ranked.end(), [&](const Ranked& r) { return r.id == rule.id; });
    return it == ranked.end() ? by_harm(rule.harm) : it->danger;
}

Danger danger(const Situation& s, const Outcome& o) {
    const Danger by_rule = danger(registry()[o.rule]);
    const bool overload = by_rule == Danger::heat && o.verdict == Verdict::fail && o.share().has_value();
    return overload && nothing_trips(s, o) ? Danger::heat_unended : by_rule;
}

double severity(const Outcome& o) {
    const Measure& edge = std::holds_alternative<std::monostate>(o.edge) ? o.caution : o.edge;
    if (edge.index() != o.value.index() || std::holds_alternative<std::monostate>(edge)) return 0;
    const double value = number(o.value), at_edge = number(edge);
    return o.bound == Bound::at_most ? value / at_edge : at_edge / value;
}

Urgency urgency(const Situation& s, const Outcome& o) {
    return {o.verdict, danger(s, o), severity(o), rank(o.basis)};
}

bool told_before(const Urgency& a, const Urgency& b) {
    if (a.verdict != b.verdict) return a.verdict > b.verdict;
    if (a.danger != b.danger) return a.danger < b.danger;
    if (std::abs(a.severity - b.severity) > 1e-9 * std::max(a.severity, b.severity))
        return a.severity > b.severity;
    return a.basis < b.basis;
}

}  // namespace benchfeed::rules
