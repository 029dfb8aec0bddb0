#include "report/together_words.hpp"

#include <fmt/format.h>

#include "base/quantity_text.hpp"
#include "report/style.hpp"
#include "rules/summary.hpp"
#include "rules/support.hpp"

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

std::string reason_words(const rules::Situation& s, const rules::Judgement& judgement,
                         const advice::Broken& broken) {
    const rules::Limit& limit = judgement.limits[broken.limit];
    const rules::Rule& rule = rules::registry()[limit.rule];
    return harmless(fmt::format("{}: {} {} {} ({}, {})", rules::words(s, limit.at, limit.part),
                                beside(broken.evaluated.value, limit.edge),
                                limit.bound == rules::Bound::at_most ? "of" : "instead of",
                                to_text(limit.edge), rules::words(rule.harm), rule.id));
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
    if (set.left) {
        const rules::Limit& limit = judgement.limits[set.weakest.limit];
        line += fmt::format("; {} of {} at {}", to_text(*set.value), to_text(limit.edge),
                            rules::words(s, limit.at, limit.part));
        if (limit.weight.motors_only) line += " for motors";
        if (*set.left > Current{} && set.answer == Together::yes)
            line += fmt::format(", {} ({}) left", to_text(*set.left, 2), to_text(*set.watts_left, 2));
    }
    return line + ".";
}

}  // namespace benchfeed::report
