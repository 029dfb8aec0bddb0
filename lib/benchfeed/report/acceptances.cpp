#include <benchfeed/report/acceptances.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/report/json_parts.hpp>
#include <benchfeed/rules/accept.hpp>

namespace benchfeed::report {

using State = Acceptance::State;

namespace {

std::string_view words(State state) {
    constexpr std::string_view names[] = {"holds", "other revision", "covers nothing", "over"};
    return names[static_cast<std::size_t>(state)];
}

State state_of(const plan::Plan& plan, const rules::Judgement& judgement, rules::Index i) {
    if (rules::ended(plan, plan.accepts[i])) return State::over;
    if (!rules::covers_something(judgement, i)) return State::covers_nothing;
    return rules::outdated(plan, plan.accepts[i]) ? State::other_revision : State::holds;
}

Json or_null(const std::string& text) {
    return text.empty() ? Json(nullptr) : words_json(text);
}

}  // namespace

std::vector<Acceptance> acceptances(const std::string& path, const plan::Plan& plan,
                                    const rules::Judgement& judgement) {
    std::vector<Acceptance> list;
    for (rules::Index i = 0; i < plan.accepts.size(); ++i) {
        const plan::Accept& accept = plan.accepts[i];
        list.push_back({state_of(plan, judgement, i), plan.today.empty() && accept.until.known(), path,
                        accept.header.line, *accept.rule, *accept.at, accept.set.value_or(""), *accept.reason,
                        *accept.revision, accept.until.value_or("")});
    }
    return list;
}

std::string acceptances_text(std::vector<Acceptance> list, const Style& style) {
    std::stable_sort(list.begin(), list.end(),
                     [](const Acceptance& a, const Acceptance& b) { return a.state > b.state; });
    std::string out;
    const auto count = [&](State state) {
        return std::count_if(list.begin(), list.end(), [&](const Acceptance& a) { return a.state == state; });
    };
    out +=
        wrapped(fmt::format("{} {}: {} over, {} that cover nothing, {} of another revision, {} that hold.",
                            list.size(), list.size() == 1 ? "acceptance" : "acceptances", count(State::over),
                            count(State::covers_nothing), count(State::other_revision), count(State::holds)),
                "", "", style);
    if (std::any_of(list.begin(), list.end(), [](const Acceptance& a) { return a.undated; }))
        out += wrapped("Whether the time of some is over was not judged: no date was given (--today).", "",
                       "", style);
    for (const Acceptance& a : list) {
        out += "\n" + inked(words(a.state), a.state == State::holds ? Ink::plain : Ink::doubtful, style) +
               harmless(fmt::format(" {} at {}{}", a.rule, a.at, a.set.empty() ? "" : ", set " + a.set)) +
               "\n";
        out += wrapped(harmless(fmt::format("{}:{}: revision {}{}. {}", a.plan, a.line, a.revision,
                                            a.until.empty() ? "" : ", until " + a.until, a.reason)),
                       "  ", "  ", style);
    }
    return out;
}

std::string acceptances_json(const Tool& tool, const std::vector<Acceptance>& list) {
    Json json{{"format", 1}, {"tool", tool_json(tool)}, {"acceptances", Json::array()}};
    for (const Acceptance& a : list)
        json["acceptances"].push_back({{"plan", a.plan},
                                       {"line", a.line},
                                       {"rule", words_json(a.rule)},
                                       {"at", words_json(a.at)},
                                       {"set", or_null(a.set)},
                                       {"reason", words_json(a.reason)},
                                       {"revision", words_json(a.revision)},
                                       {"until", or_null(a.until)},
                                       {"until_judged", !a.until.empty() && !a.undated},
                                       {"state", words(a.state)}});
    return dumped(json) + "\n";
}

}  // namespace benchfeed::report
