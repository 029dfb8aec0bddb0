#include <benchfeed/rules/questions.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <numeric>
#include <set>

#include <benchfeed/rules/causes.hpp>
#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/noted.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

namespace {

/// "load.saw.plate.current" and "load.router.plate.current" are one question.
std::string kind_of(const Question& question) {
    const auto name = question.path.find('.');
    const auto field = name == std::string::npos ? name : question.path.find('.', name + 1);
    if (field == std::string::npos) return question.path.empty() ? "? " + question.ask : question.path;
    return question.path.substr(0, name) + question.path.substr(field);
}

void add_once(std::vector<std::string>& list, const std::string& words) {
    if (!words.empty() && std::find(list.begin(), list.end(), words) == list.end()) list.push_back(words);
}

/// Questions by kind, in the order in which they are met.
class Collected {
public:
    Asked& of(const Question& question) {
        const auto [place, fresh] = places_.try_emplace(kind_of(question), all_.size());
        if (fresh) all_.push_back({{}, question.ask, question.look, {}, 0});
        add_once(all_[place->second].paths, question.path);
        return all_[place->second];
    }
    [[nodiscard]] std::vector<Asked> all() && { return std::move(all_); }

private:
    std::vector<Asked> all_;
    std::map<std::string, std::size_t> places_;
};

/// Fields that the plan leaves open, of whatever check.
void add_noted(const Situation& s, Collected& collected) {
    for (const Group& group : noted(s).asked)
        for (std::size_t at = 0; at < group.paths.size();) {
            const std::size_t end = std::min(group.paths.find(", ", at), group.paths.size());
            const std::string path = group.paths.substr(at, end - at);
            (void)collected.of({path + "." + group.key, capital(group.meaning) + "?", group.look});
            at = end + 2;
        }
}

/// Each next one settles most, then has the greatest share. Equals stay as they are. `counts`: outcomes that
/// do.
template <class Counts>
void order_by_share(std::vector<Asked>& all, const Counts& counts) {
    std::map<Index, std::size_t> wanted;  // questions that an outcome still waits for
    for (const Asked& asked : all)
        for (const Index o : asked.decides)
            if (counts(o)) ++wanted[o];
    const auto worth = [&](const Asked& asked) {
        std::size_t settled = 0;
        double share = 0;
        for (const Index o : asked.decides) {
            if (!counts(o)) continue;
            settled += wanted[o] == 1;
            share += 1.0 / static_cast<double>(wanted[o]);
        }
        return std::pair(settled, share);
    };
    for (std::size_t i = 0; i < all.size(); ++i) {
        std::size_t next = i;
        for (std::size_t k = i + 1; k < all.size(); ++k)
            if (worth(all[k]) > worth(all[next])) next = k;
        const auto at = [&](std::size_t k) { return all.begin() + static_cast<std::ptrdiff_t>(k); };
        std::rotate(at(i), at(next), at(next + 1));
        for (const Index o : all[i].decides)
            if (counts(o) && wanted[o] > 1) --wanted[o];
    }
}

}  // namespace

std::vector<Asked> questions(const Situation& s, const Judgement& judgement) {
    Collected collected;
    const std::vector<Index> lead = causes(s, judgement);  // what the cure of a fail answers is not asked
    for (Index i = 0; i < judgement.outcomes.size(); ++i) {
        const Outcome& o = judgement.outcomes[i];
        if (o.verdict != Verdict::cannot_judge || o.accepted != plan::nowhere || lead[i] != plan::nowhere)
            continue;
        for (const Question& question : explain(s, judgement, o).questions) {
            Asked& asked = collected.of(question);
            if (!asked.decides.empty() && asked.decides.back() == i) continue;
            asked.decides.push_back(i);
            asked.grave += is_grave_question(o);
        }
    }
    add_noted(s, collected);
    std::vector<Asked> all = std::move(collected).all();
    const auto middle =
        std::stable_partition(all.begin(), all.end(), [](const Asked& a) { return a.grave > 0; });
    std::stable_partition(middle, all.end(), [](const Asked& a) { return !a.decides.empty(); });
    constexpr std::size_t most_ordered = 200;  // beyond it the order of the findings does
    if (all.size() > most_ordered) return all;
    const auto grave = static_cast<std::size_t>(middle - all.begin());
    std::vector<Asked> rest(std::make_move_iterator(middle), std::make_move_iterator(all.end()));
    all.resize(grave);
    order_by_share(all, [&](Index o) { return is_grave_question(judgement.outcomes[o]); });
    order_by_share(rest, [](Index) { return true; });
    std::move(rest.begin(), rest.end(), std::back_inserter(all));
    return all;
}

std::string decides_words(const Situation& s, const Judgement& judgement, const Asked& asked,
                          std::size_t most_named) {
    std::map<Harm, std::vector<std::string>> places;
    for (const Index i : asked.decides) {
        const Outcome& o = judgement.outcomes[i];
        const std::string where = o.at.kind == At::Kind::plan ? "the plan" : words(s, o.at, o.part);
        add_once(places[registry()[o.rule].harm], where);
    }
    std::string out;
    for (auto& [harm, named] : places) {
        const std::size_t more = named.size() - std::min(named.size(), most_named);
        named.resize(named.size() - more);
        if (more > 0) named.push_back(fmt::format("{} more", more));
        out += fmt::format("{}{}: {}", out.empty() ? "" : "; ", words(harm), list(named));
    }
    return out;
}

}  // namespace benchfeed::rules
