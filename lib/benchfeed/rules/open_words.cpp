#include <benchfeed/rules/open_words.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <utility>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/judge_parts.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

using plan::Fact;

namespace {

bool is_open_here(const Situation& s, Index element, Fact fact) {
    if (fact != Fact::amps) return plan::is_open(s.plan[element], fact);
    const Index load = s.network.load_of[element];
    return load != plan::nowhere && s.network.loads[load].ranged;
}

/// Elements that an outcome is about, rising: what counts for its limit and its place; without a limit what
/// hangs below its place and runs in its set.
std::vector<Index> concerned(const Situation& s, const Judgement& judgement, const Outcome& o) {
    const bool somewhere = o.at.kind == At::Kind::element;
    if (o.limit != plan::nowhere && o.set != no_set) {
        std::vector<Index> found = evaluate(s, judgement.limits[o.limit], set_of(s.plan, o.set).loads).loads;
        if (somewhere) found.push_back(o.at.index);
        std::sort(found.begin(), found.end());
        found.erase(std::unique(found.begin(), found.end()), found.end());
        return found;
    }
    // Preorder: what hangs below an element follows it.
    const std::vector<Index>& order = s.network.order;
    const auto at = [&](Index position) { return order.begin() + static_cast<std::ptrdiff_t>(position); };
    std::vector<Index> found(at(somewhere ? s.network.enter[o.at.index] : 0),
                             somewhere ? at(s.network.leave[o.at.index]) : order.end());
    std::sort(found.begin(), found.end());
    if (o.set == no_set) return found;
    const std::vector<Index>& running = set_of(s.plan, o.set).loads;
    std::erase_if(found, [&](Index i) {
        return s.plan[i].kind == plan::Kind::load && !std::binary_search(running.begin(), running.end(), i);
    });
    return found;
}

/// Amps between the two ends: the more, the more hangs on them.
Current width(const Situation& s, const OpenFact& open) {
    if (open.fact != Fact::amps || !s.best) return Current{};
    const Index load = s.network.load_of[open.element];
    return s.network.loads[load].current - s.best->network.loads[load].current;
}

/// The first few by name, the rest counted.
std::string names_of(const Situation& s, const std::vector<Index>& elements) {
    constexpr std::size_t most_named = 6;
    std::vector<std::string> names;
    for (std::size_t i = 0; i < std::min(elements.size(), most_named); ++i)
        names.push_back(s.plan[elements[i]].words());
    if (elements.size() > most_named) names.push_back(fmt::format("{} more", elements.size() - most_named));
    return list(names);
}

/// "the amps of the router and the saw".
std::string fact_words(const Situation& s, const std::vector<OpenFact>& open) {
    std::vector<std::string> parts;
    for (const Fact fact : plan::all_facts) {
        std::vector<Index> elements;
        for (const OpenFact& one : open)
            if (one.fact == fact) elements.push_back(one.element);
        if (elements.empty()) continue;
        const std::string names = names_of(s, elements);
        switch (fact) {
            case Fact::amps:
                parts.push_back("the amps of " + names);
                break;
            case Fact::latched:
                parts.push_back("whether the switch of " + names + " stays on by itself");
                break;
            case Fact::protection_class:
                parts.push_back("whether " + names + (elements.size() == 1 ? " is" : " are") +
                                " double insulated");
                break;
            case Fact::reel:
                parts.push_back("whether the reel of " + names + " is fully unwound");
                break;
            case Fact::overload:
                parts.push_back("whether " + names + (elements.size() == 1 ? " has" : " have") +
                                " an overload protection");
                break;
            case Fact::no_volt:
                parts.push_back("whether " + names + (elements.size() == 1 ? " lets" : " let") +
                                " go when the volts fail");
                break;
            case Fact::snap:
                parts.push_back("whether " + names +
                                (elements.size() == 1 ? " is a snap switch" : " are snap switches"));
                break;
        }
    }
    return list(parts);
}

}  // namespace

std::vector<OpenFact> deciding(const Situation& s, const Judgement& judgement, const Outcome& o) {
    std::vector<OpenFact> found;
    if (!o.open) return found;
    const auto elements = concerned(s, judgement, o);
    for (const Fact fact : plan::all_facts)
        for (const Index element : elements)
            if (o.open->decides.has(fact) && is_open_here(s, element, fact)) found.push_back({fact, element});
    std::stable_sort(found.begin(), found.end(), [&](const OpenFact& a, const OpenFact& b) {
        return a.fact == b.fact && above(width(s, a), width(s, b));
    });
    return found;
}

Question question_of(const Situation& s, const OpenFact& open) {
    const plan::Element& e = s.plan[open.element];
    switch (open.fact) {
        case Fact::amps:
            return {e.path() + ".plate.current", "How many amps are on the plate of " + e.words() + "?",
                    "its plate, often underneath"};
        case Fact::latched:
            return {e.path() + ".latched", "Does the switch of " + e.words() + " stay on by itself?",
                    "let go of it and look"};
        case Fact::protection_class:
            return {e.path() + ".class", "Is " + e.words() + " double insulated?",
                    "a double square on the plate: class II"};
        case Fact::reel:
            return {e.path() + ".cable.reel", "Is the reel of " + e.words() + " fully unwound?",
                    "the reel, while the tools run"};
        case Fact::overload:
            return {e.path() + ".overload", "What stops " + e.words() + " when it draws too much for long?",
                    "a red button on it, an overload relay or a motor protection switch before it"};
        case Fact::no_volt:
            return {e.path() + ".no_volt", "Does " + e.words() + " let go when the volts fail?",
                    "switch it on, pull the plug, push it in again: it stays off"};
        case Fact::snap:
            return {e.path() + ".kind", "What kind of switch is " + e.words() + "?",
                    "a switch for a wall box is a snap switch; a rocker that clips into a panel is not"};
    }
    return {};
}

namespace {

/// The most that a load may draw with a limit still held, all else at its worst; nothing where the limit
/// fails whatever this load draws. Pre: it fails at the worst.
std::optional<Current> holds_up_to(const Situation& s, const Limit& limit, std::span<const Index> set,
                                   Index load) {
    network::Network tried = s.network;
    network::LoadPoint& point = tried.loads[tried.load_of[load]];
    const network::LoadPoint worst = point;
    const Situation with{s.plan, tried, s.tables};
    const auto fails = [&](Current amps) {
        const Ratio scale = amps / worst.current;
        point.current = amps;
        for (std::size_t c = 0; c < network::live_conductors; ++c) point.draw[c] = scale * worst.draw[c];
        return verdict_at(limit, evaluate(with, limit, set)) == Verdict::fail;
    };
    Current good = s.best->network.loads[s.network.load_of[load]].current, bad = worst.current;
    if (fails(good)) return std::nullopt;
    for (int i = 0; i < 20; ++i) {
        const Current middle = (good + bad) / 2.0;
        (fails(middle) ? bad : good) = middle;
    }
    return good;
}

/// " (in order up to 9.2 A on the plate of the saw)": where one load's amps turn the verdict.
std::string turning_words(const Situation& s, const Judgement& judgement, const Outcome& o,
                          const std::vector<OpenFact>& open) {
    if (open.empty() || open.front().fact != Fact::amps || o.limit == plan::nowhere || o.set == no_set ||
        o.open->at_worst != Verdict::fail || !s.best)
        return "";
    constexpr std::size_t most_elements = 500;  // a network is copied for it
    const Limit& limit = judgement.limits[o.limit];
    if (s.plan.elements.size() > most_elements) return "";
    if (limit.reach.kind != Reach::Kind::through && limit.reach.kind != Reach::Kind::largest_way) return "";
    const Index load = open.front().element;
    const auto most = holds_up_to(s, limit, set_of(s.plan, o.set).loads, load);
    return most ? fmt::format(" (no fail up to {} on the plate of {})", to_text(*most), s.plan[load].words())
                : std::string{};
}

}  // namespace

namespace {

/// A rule asked of the best end.
struct BestAnswer {
    Judgement judgement;
    const Outcome* outcome = nullptr;  ///< nothing: there is nothing to say there
    [[nodiscard]] Explanation explained(const Situation& best) const {
        const Limit* limit = outcome->limit == plan::nowhere ? nullptr : &judgement.limits[outcome->limit];
        return registry()[outcome->rule].explain(best, *outcome, limit);
    }
};
BestAnswer at_best(const Situation& s, const Outcome& o) {
    const Rule& rule = registry()[o.rule];
    BestAnswer answer{judge_sets(*s.best, [&](const Rule& one) { return one.id == rule.id; })};
    for (const Outcome& one : answer.judgement.outcomes)
        if (place_key(one) == place_key(o) && one.set == o.set && one.missing == plan::nowhere)
            answer.outcome = &one;
    return answer;
}

Outcome at_worst(const Outcome& o) {
    Outcome worst = o;
    worst.verdict = o.open->at_worst;
    worst.open.reset();
    return worst;
}

/// As the rule says it of one bench: the worse end.
Explanation explain_worse_end(const Situation& s, const Outcome& o, const Limit* limit) {
    if (!o.open) return registry()[o.rule].explain(s, o, limit);
    if (o.open->at_best > o.open->at_worst)
        if (const BestAnswer best = at_best(s, o); best.outcome) return best.explained(*s.best);
    return registry()[o.rule].explain(s, at_worst(o), limit);
}

/// The steps of the end that explain_worse_end() does not tell.
std::vector<Step> steps_of_better_end(const Situation& s, const Outcome& o, const Limit* limit) {
    constexpr std::size_t most_elements = 500;  // the rule is asked anew for it
    if (s.plan.elements.size() > most_elements) return {};
    if (o.open->at_best > o.open->at_worst) return registry()[o.rule].explain(s, at_worst(o), limit).steps;
    const BestAnswer best = at_best(s, o);
    return best.outcome ? best.explained(*s.best).steps : std::vector<Step>{};
}

void add_better_end(Explanation& e, const Situation& s, const Outcome& o, const Limit* limit) {
    if (e.steps.empty()) return;
    std::vector<Step> better = steps_of_better_end(s, o, limit);
    if (better.empty()) return;
    e.steps.push_back({{}, {}, {}, {}, {}, "The same with what is missing at its best:"});
    std::move(better.begin(), better.end(), std::back_inserter(e.steps));
}

/// A fail at both ends: "; at least 6.52 A, whatever is missing".
void add_certain_figure(Explanation& e, const Outcome& o) {
    if (o.verdict != Verdict::fail || std::holds_alternative<std::monostate>(o.least)) return;
    e.headline += fmt::format("; at {} {}, whatever the missing facts are",
                              o.bound == Bound::at_most ? "least" : "most", to_text(o.least));
}

/// What decides between the ends, and how it is asked for.
void add_what_decides(Explanation& e, const Situation& s, const Judgement& judgement, const Outcome& o) {
    const auto open = deciding(s, judgement, o);
    const std::string facts = open.empty() ? "what the plan does not say" : fact_words(s, open);
    const Verdict better = std::min(o.open->at_worst, o.open->at_best);
    const std::string least =
        std::holds_alternative<std::monostate>(o.least) ? "" : " " + to_text(o.least) + " and";
    const std::string at_best = better == Verdict::ok        ? "in order"
                                : better == Verdict::caution ? "a caution"
                                                             : "not to be judged";
    e.headline = fmt::format("{}; at best{} {}: it depends on {}{}", e.headline, least, at_best, facts,
                             turning_words(s, judgement, o, open));
    // A range says by itself that it may be less.
    const bool ranged = !std::holds_alternative<std::monostate>(o.least) &&
                        e.short_words.find(value_words(o)) != std::string::npos;
    if (!e.short_words.empty() && !ranged) e.short_words = "perhaps " + e.short_words;
    if (o.verdict == Verdict::cannot_judge && !open.empty()) e.questions.clear();
    constexpr std::size_t most_asked = 50;
    for (std::size_t i = 0; i < std::min(open.size(), most_asked); ++i)
        e.questions.push_back(question_of(s, open[i]));
}

}  // namespace

Explanation explain_range(const Situation& s, const Judgement& judgement, const Outcome& o) {
    const Limit* limit = o.limit == plan::nowhere ? nullptr : &judgement.limits[o.limit];
    if (o.open && o.open->at_worst == Verdict::cannot_judge)  // the rule asks by itself
        return registry()[o.rule].explain(s, at_worst(o), limit);
    Explanation e = explain_worse_end(s, o, limit);
    if (!o.open || std::max(o.open->at_worst, o.open->at_best) == Verdict::cannot_judge) {
        add_certain_figure(e, o);
        return e;
    }
    add_what_decides(e, s, judgement, o);
    add_better_end(e, s, o, limit);
    return e;
}

}  // namespace benchfeed::rules
