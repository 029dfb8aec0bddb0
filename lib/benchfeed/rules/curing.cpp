#include <benchfeed/rules/curing.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <string_view>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

std::optional<tables::Figure<Current>> made_rating(const Situation& s, Current most) {
    const tables::Table* table =
        s.tables.table(std::string_view(s.nec() ? "nec-240-6-a" : "iec-60898-ratings"));
    std::optional<tables::Figure<Current>> largest;
    for (std::size_t row = 0; table && row < table->rows.size(); ++row) {
        // A rating that only some editions list may be none where the bench stands.
        if (s.nec() && (table->text(row, "device") == "fuse" || table->text(row, "edition") != "all"))
            continue;
        const auto rating = table->current(row, "rating");
        if (!rating || above(rating->value, most)) continue;
        if (!largest || rating->value > largest->value) largest = rating;
    }
    return largest;
}

Cost cost_at(const Situation& s, Index element, Cost on_the_bench) {
    return s.network.house[element] ? Cost::electrician : on_the_bench;
}

namespace {

/// The most that any set of the plan draws through an element; all at once where no set is declared.
Current most_through(const Situation& s, Index element, const Weight& weight) {
    Limit through;
    through.at = at_element(element);
    through.reach = {Reach::Kind::through, element};
    through.weight = weight;
    Current most{};
    for (const plan::RunSet& set : s.plan.sets) {
        const Evaluated evaluated = evaluate(s, through, set.loads);
        if (const auto* amps = std::get_if<Current>(&evaluated.value)) most = std::max(most, *amps);
    }
    return most;
}

/// Whole amps of which the current leaves the margin of practice.
Current with_margin(const Situation& s, Current amps) {
    const auto attention = threshold(s, "attention");
    const double margin = attention ? in(unit::one, attention->value) : 1.0;
    return std::ceil(in(unit::ampere, amps) / margin - 1e-9) * unit::ampere;
}

}  // namespace

SwitchFit switch_fit(const Situation& s, Index element) {
    Weight motors;
    motors.motors_only = true;
    return {with_margin(s, most_through(s, element, motors)), with_margin(s, most_through(s, element, {}))};
}

Remedy fit_switch(const Situation& s, Index element) {
    const SwitchFit fit = switch_fit(s, element);
    const plan::Element& e = s.plan[element];
    const auto& rating = e.as<plan::Switch>()->rating;  // of some the motor rating alone is known
    const Current needed = std::max(fit.total, fit.motors);
    std::vector<Change> changes;
    std::string text = "a switch made for ";
    if (rating.known() && above(needed, *rating)) {
        changes.push_back({e.path() + ".rating", to_text(needed)});
        text += to_text(needed) + " or more";
    }
    if (fit.motors > Current{}) {
        changes.push_back({e.path() + ".motor_rating", to_text(fit.motors)});
        text = changes.size() > 1
                   ? text + ", and for motors (in brackets, or in hp) " + to_text(fit.motors) + " or more"
                   : "a switch whose motor rating (in brackets, or in hp) is " + to_text(fit.motors) +
                         " or more";
    }
    return {cost_at(s, element, Cost::cheap), std::move(text), std::move(changes)};
}

bool is_helper(const Situation& s, Index load) {
    const auto& what = *s.plan[load].as<plan::Load>();
    return what.kind.is(plan::LoadKind::extractor) || what.kind.is(plan::LoadKind::light) ||
           what.kind.is(plan::LoadKind::charger) || what.starts_with_index != plan::nowhere;
}

namespace {

Current amps_of(const Situation& s, Index load) {
    return s.network.loads[s.network.load_of[load]].current;
}

/// The tool that a set is run for: the largest of those that help nobody.
Index main_tool(const Situation& s, const std::vector<Index>& loads) {
    Index largest = plan::nowhere;
    for (const Index load : loads)
        if (!is_helper(s, load) && (largest == plan::nowhere || amps_of(s, load) > amps_of(s, largest)))
            largest = load;
    return largest;
}

/// It runs whatever the set says: by itself, or because another load starts it.
bool comes_along(const Situation& s, Index load) {
    const auto& what = *s.plan[load].as<plan::Load>();
    return what.self_starting.is(true) || what.starts_with_index != plan::nowhere;
}

std::vector<Change> set_without(const Situation& s, Index set, Index out) {
    const plan::RunSet& all = set_of(s.plan, set);
    if (all.declared == plan::nowhere || comes_along(s, out)) return {};
    std::string names;
    for (const Index load : all.loads)
        if (load != out) names += (names.empty() ? "" : ",") + s.plan[load].name;
    return {{"together." + all.name + ".loads", names}};
}

/// Another of these loads hangs in its socket: it cannot be unplugged alone.
bool carries_one_of(const Situation& s, Index load, const std::vector<Index>& loads) {
    return std::any_of(loads.begin(), loads.end(),
                       [&](Index other) { return other != load && s.network.hangs_below(other, load); });
}

/// What remains at a limit without one load, if that is no longer too much.
std::optional<Current> remaining(const Situation& s, const Limit& limit, const std::vector<Index>& loads,
                                 Index out) {
    std::vector<Index> rest;
    std::copy_if(loads.begin(), loads.end(), std::back_inserter(rest), [&](Index i) { return i != out; });
    const Measure left = evaluate(s, limit, rest).value;
    const auto* amps = std::get_if<Current>(&left);
    if (!amps || above(*amps, std::get<Current>(limit.edge))) return std::nullopt;
    return *amps;
}

}  // namespace

std::optional<Remedy> leave_one_out(const Situation& s, const Limit& limit, Index set) {
    const std::vector<Index> loads = evaluate(s, limit, set_of(s.plan, set).loads).loads;
    if (loads.size() < 2 || !std::holds_alternative<Current>(limit.edge)) return std::nullopt;
    const Index kept = main_tool(s, set_of(s.plan, set).loads);
    Index best = plan::nowhere;
    Current best_left{};
    for (const Index out : loads) {
        if (out == kept || s.plan[out].as<plan::Load>()->self_starting.is(true)) continue;
        if (carries_one_of(s, out, loads)) continue;
        const auto left = remaining(s, limit, loads, out);
        if (!left) continue;
        // A helper before a tool; of several the one that leaves most in use.
        const bool first = best == plan::nowhere || (is_helper(s, out) && !is_helper(s, best));
        if (!first && (is_helper(s, best) != is_helper(s, out) || !(*left > best_left))) continue;
        best = out;
        best_left = *left;
    }
    if (best == plan::nowhere) return std::nullopt;
    const std::string name = s.plan[best].words();
    const std::string how = is_helper(s, best) ? "without " + name : "when " + name + " does not";
    return Remedy{Cost::free,
                  fmt::format("run it {}, or plug {} into another circuit: {} remain here, {} go there", how,
                              name, to_text(best_left), to_text(amps_of(s, best))),
                  set_without(s, set, best)};
}

namespace {

bool guarded_by_one_device(const Situation& s, const Outcome& o) {
    const std::string_view id = registry()[o.rule].id;
    return o.verdict == Verdict::fail && o.at.kind == At::Kind::element &&
           (id == "heat.element-unprotected" || id == "heat.cable-unprotected") &&
           std::holds_alternative<Current>(o.edge) && !inside_a_machine(s, o.at.index);
}

/// The first element of the bench on the way to this one; nowhere for a part of the house that feeds more
/// than one bench.
Index bench_of(const Situation& s, Index element) {
    Index first = element;
    while (s.network.house[first]) {
        if (s.plan[first].kind != plan::Kind::outlet || s.plan[first].children.size() != 1)
            return plan::nowhere;
        first = s.plan[first].children.front();
    }
    while (s.plan[first].parent != plan::nowhere && !s.network.house[s.plan[first].parent])
        first = s.plan[first].parent;
    return s.plan[first].kind == plan::Kind::load || s.plan[first].kind == plan::Kind::supply ? plan::nowhere
                                                                                              : first;
}

/// What can carry too much behind the inlet of a bench, and before it up to the wall outlet.
struct Chain {
    std::vector<const Outcome*> parts;
    Current least{}, least_contact{};
};
Chain chain_of(const Situation& s, const Judgement& judgement, Index bench) {
    Chain chain;
    for (const Outcome& o : judgement.outcomes) {
        if (!guarded_by_one_device(s, o) || o.accepted != plan::nowhere) continue;
        if (bench_of(s, o.at.index) != bench) continue;
        const Current edge = std::get<Current>(o.edge);
        if (chain.parts.empty() || edge < chain.least) chain.least = edge;
        const bool cable = o.part == Part::cable;
        if (!cable && (!(chain.least_contact > Current{}) || edge < chain.least_contact))
            chain.least_contact = edge;
        chain.parts.push_back(&o);
    }
    return chain;
}

/// Sets in which a device of this rating would open.
std::string opens_in(const Situation& s, Index bench, Current rating) {
    Limit through;
    through.reach = {Reach::Kind::through, bench};
    std::vector<std::string> sets;
    for (Index set = 0; set < s.plan.sets.size(); ++set) {
        const Measure value = evaluate(s, through, s.plan.sets[set].loads).value;
        const auto* amps = std::get_if<Current>(&value);
        if (amps && above(*amps, rating))
            sets.push_back(fmt::format("{} ({})", set_words(s, set), to_text(*amps)));
    }
    constexpr std::size_t most_named = 3;
    if (sets.empty()) return "";
    if (sets.size() > most_named) return fmt::format("; it trips in {} of the sets", sets.size());
    return "; it trips in the set" + std::string(sets.size() == 1 ? " " : "s ") + list(sets);
}

}  // namespace

std::vector<Remedy> one_device(const Situation& s, const Judgement& judgement, const Outcome& outcome) {
    if (!guarded_by_one_device(s, outcome)) return {};
    const Index bench = bench_of(s, outcome.at.index);
    if (bench == plan::nowhere) {
        const auto rating = made_rating(s, std::get<Current>(outcome.edge));
        if (!rating) return {};
        return {{Cost::electrician, "or have the circuit protected at " + to_text(rating->value)}};
    }
    const Chain chain = chain_of(s, judgement, bench);
    const Current least = chain.parts.empty() ? std::get<Current>(outcome.edge) : chain.least;
    const auto rating = made_rating(s, least);
    if (!rating) return {};
    std::string text = "one breaker or fuse of " + to_text(rating->value) +
                       " at the inlet of the bench, ahead of everything else: it protects all of it" +
                       opens_in(s, bench, rating->value);
    const auto with_cables = made_rating(s, chain.least_contact);
    if (with_cables && above(with_cables->value, rating->value))
        text += fmt::format("; {} is enough if the cables may carry that, too", to_text(with_cables->value));
    return {{Cost::moderate, std::move(text)},
            {Cost::electrician, "or have the circuit protected at " + to_text(rating->value)}};
}

}  // namespace benchfeed::rules
