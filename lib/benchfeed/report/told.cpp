#include <benchfeed/report/told.hpp>

#include <set>

namespace benchfeed::report {

using rules::Finding;
using rules::Verdict;

Told what_is_told(const rules::Situation& s, const rules::Judgement& judgement,
                  const std::vector<Finding>& found) {
    Told told;
    std::set<std::string> asked;
    for (const Finding& f : found) {
        const rules::Outcome& o = *f.outcome;
        // One question often keeps several outcomes open: it is asked once.
        if (o.verdict == Verdict::cannot_judge) {
            const auto questions = rules::explain(s, judgement, o).questions;
            if (!questions.empty() && !questions.front().path.empty() &&
                !asked.insert(questions.front().path).second) {
                ++told.same_question;
                continue;
            }
        }
        const bool practice = o.verdict == Verdict::caution && o.basis == rules::Basis::practice &&
                              rules::registry()[o.rule].harm != rules::Harm::plan;
        (practice ? told.practice : told.plain).push_back(&f);
    }
    return told;
}

std::string sentence(std::string text) {
    if (!text.empty() && text.back() != '?' && text.back() != '.') text += '.';
    return text;
}

}  // namespace benchfeed::report
