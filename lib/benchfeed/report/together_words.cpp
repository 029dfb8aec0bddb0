#include <benchfeed/report/together_words.hpp>

#include <fmt/format.h>

#include <benchfeed/advice/together.hpp>
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/circuits.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using advice::ChosenSet;
using advice::Together;

namespace {

/// Loads that stand for each other are named up to so many.
constexpr std::size_t most_named = 3;

/// A value with as many digits as show on which side of its edge it lies.
std::string beside(const Measure& value, const Measure& edge) {
    for (int significant = 3; significant < 9; ++significant)
        if (to_text(value, significant) != to_text(edge)) return to_text(value, significant);
    return to_text(value);
}

}  // namespace

std::string choices_words(const rules::Situation& s, const ChosenSet& set) {
    std::vector<std::string> words;
    for (const auto& choice : set.choices) {
        if (choice.of.size() == 1) {
            words.push_back(s.plan[choice.of.front()].words());
        } else if (choice.count == choice.of.size()) {
            for (const plan::Index load : choice.of) words.push_back(s.plan[load].words());
        } else if (choice.of.size() <= most_named) {
            words.push_back(fmt::format("any {} of {}", choice.count, rules::list(s, choice.of)));
        } else {
            words.push_back(fmt::format("any {} of the {} like {}", choice.count, choice.of.size(),
                                        s.plan[choice.of.front()].words()));
        }
    }
    return harmless(rules::list(words));
}

std::string not_beside_words(const rules::Situation& s, const ChosenSet& set) {
    if (set.not_beside.empty()) return "";
    return harmless(fmt::format("; not while {} can start by {}", rules::list(s, set.not_beside),
                                set.not_beside.size() == 1 ? "itself" : "themselves"));
}

std::string reason_words(const rules::Situation& s, const rules::Judgement& judgement,
                         const advice::Broken& broken) {
    const rules::Limit& limit = judgement.limits[broken.limit];
    const rules::Rule& rule = rules::registry()[limit.rule];
    return harmless(fmt::format("{}: {} {} {} ({}, {})", rules::words(s, limit.at, limit.part),
                                beside(broken.evaluated.value, limit.edge),
                                limit.bound == rules::Bound::at_most ? "of" : "instead of",
                                to_text(limit.edge), rules::words(rule.harm), rule.id));
}

std::string figures_words(const rules::Situation& s, const rules::Judgement& judgement,
                          const advice::PlanSet& set) {
    std::string out;
    for (const rules::WeakestOf& weakest : rules::weakest_by_circuit(s, judgement, set.set)) {
        if (weakest.unknown_load && !(weakest.drawn > Current{})) continue;  // nothing is known of it
        out += (out.empty() ? "" : "; ") + rules::carried_words(s, weakest);
        const Current left(weakest.rated - weakest.drawn);
        if (left > Current{} && set.answer == Together::yes)
            out += fmt::format(", {} ({}) left", to_text(left, 2),
                               to_text(Power(left * advice::volts_at(s, weakest.limit->at.index)), 2));
    }
    return out;
}

std::string none_forbidden_words(const rules::Situation& s, const rules::Judgement& judgement,
                                 const advice::TogetherAnswer& answer) {
    std::vector<plan::Index> open;
    for (std::size_t i = 0; i < answer.doubts.size(); ++i)
        if (answer.doubts[i].open) open.push_back(answer.company.loads[i]);
    constexpr std::size_t most_doubted = 4;
    if (!open.empty())
        return "nothing is known to be too much, but " +
               (open.size() > most_doubted ? fmt::format("{} loads", open.size()) : rules::list(s, open)) +
               " could not be judged";
    if (judgement.essential_undecided)
        return "nothing is known to be too much, but `check` has open questions that decide";
    if (answer.fails_whatever_runs > 0)
        return fmt::format("no choice of loads is too much, but {} check{} whichever tools run",
                           answer.fails_whatever_runs, answer.fails_whatever_runs == 1 ? " fails" : "s fail");
    return "";
}

std::string set_line(const rules::Situation& s, const rules::Judgement& judgement,
                     const advice::PlanSet& set) {
    const plan::RunSet& run = s.plan.sets[set.set];
    const std::string name = rules::set_words(s, set.set) + (run.assumed ? " (assumed set)" : "");
    std::string line = name + ": ";
    if (set.answer == Together::no) {
        line += "must not run. ";
        line += set.broken ? rules::capital(reason_words(s, judgement, *set.broken))
                           : std::string("`check` says why");
        return line + ".";
    }
    line += set.answer == Together::yes ? "may run" : "cannot be judged";
    const std::string open = rules::open_words(s, judgement, set.set);
    if (set.answer != Together::yes && !open.empty()) line += ", since " + open;
    const std::string figures = figures_words(s, judgement, set);
    if (!figures.empty()) line += "; " + figures;
    return line + ".";
}

}  // namespace benchfeed::report
