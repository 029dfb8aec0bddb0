#include <benchfeed/rules/summary.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <unordered_map>
#include <utility>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/accept.hpp>
#include <benchfeed/rules/causes.hpp>
#include <benchfeed/rules/circuits.hpp>
#include <benchfeed/rules/cited.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/held_against.hpp>
#include <benchfeed/rules/local_limits.hpp>
#include <benchfeed/rules/open_words.hpp>
#include <benchfeed/rules/order.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

void first_without_or(std::vector<Remedy>& remedies) {
    if (!remedies.empty() && remedies.front().text.starts_with("or ")) remedies.front().text.erase(0, 3);
}

Explanation explain(const Situation& s, const Judgement& judgement, const Outcome& outcome) {
    if (outcome.missing != plan::nowhere)
        return explain_missing(s, outcome, judgement.missing[outcome.missing]);
    const Rule& rule = registry()[outcome.rule];
    Explanation e = rule.explain_review ? rule.explain_review(s, judgement, outcome)
                                        : explain_range(s, judgement, outcome);
    if (Label house = local_limit(s, outcome); !house.span.nowhere()) e.related.push_back(std::move(house));
    const std::vector<Remedy> device = one_device(s, judgement, outcome);
    e.remedies.insert(e.remedies.begin(), device.begin(), device.end());
    std::stable_sort(e.remedies.begin(), e.remedies.end(),
                     [](const Remedy& a, const Remedy& b) { return a.cost < b.cost; });
    first_without_or(e.remedies);
    if (outcome.verdict == Verdict::ok) {
        e.consequence.clear();
        e.remedies.clear();
        e.questions.clear();
    }
    return e;
}

std::string path_of(const plan::Plan& plan, At at) {
    switch (at.kind) {
        case At::Kind::plan:
            break;
        case At::Kind::element:
            return plan[at.index].path();
        case At::Kind::together:
            return "together." + plan.together[at.index].name.value_or("");
        case At::Kind::stock:
            return plan.stocks[at.index].path();
        case At::Kind::metal:
            return "metal." + plan.metals[at.index].name;
    }
    return "plan";
}

std::string set_name(const plan::Plan& plan, Index set) {
    return set == no_set ? std::string{} : set_of(plan, set).name;
}

Counts count_verdicts(const Judgement& judgement) {
    Counts counts;
    for (const Outcome& o : judgement.outcomes) {
        if (o.accepted != plan::nowhere) {
            ++counts.accepted;
            continue;
        }
        switch (o.verdict) {
            case Verdict::ok:
                ++counts.ok;
                break;
            case Verdict::caution:
                ++counts.caution;
                break;
            case Verdict::cannot_judge:
                ++counts.cannot_judge;
                break;
            case Verdict::fail:
                ++counts.fail;
                break;
        }
    }
    return counts;
}

namespace {

/// One finding for each rule, place and part, at its worst set.
std::vector<Finding> over_sets(const Judgement& judgement, bool accepted) {
    std::vector<Finding> found;
    std::unordered_map<std::uint64_t, std::size_t> places;
    for (const Outcome& o : judgement.outcomes) {
        if (o.verdict == Verdict::ok || (o.accepted != plan::nowhere) != accepted) continue;
        const auto [place, fresh] = places.try_emplace(place_key(o), found.size());
        if (fresh) {
            found.push_back({&o, {}, {}, {}});
            continue;
        }
        Finding& same = found[place->second];
        if (o.verdict != same.outcome->verdict) continue;  // a lesser one in another set is no second finding
        same.also.push_back(o.set);
        if (severity(o) > severity(*same.outcome) * (1 + 1e-9)) {
            same.also.back() = same.outcome->set;
            same.outcome = &o;
        }
    }
    return found;
}

/// As they are told, worst first; equals as they stand.
std::vector<Finding> in_order(const Situation& s, std::vector<Finding> found) {
    std::vector<std::pair<Urgency, Finding>> keyed;
    for (Finding& f : found) {
        const Urgency key = urgency(s, *f.outcome);
        keyed.emplace_back(key, std::move(f));
    }
    std::stable_sort(keyed.begin(), keyed.end(),
                     [](const auto& a, const auto& b) { return told_before(a.first, b.first); });
    found.clear();
    for (auto& [key, finding] : keyed) found.push_back(std::move(finding));
    return found;
}

}  // namespace

std::vector<Finding> findings(const Situation& s, const Judgement& judgement) {
    std::vector<Finding> found = over_sets(judgement, false);
    const std::vector<Index> lead = causes(s, judgement);
    const auto lead_of = [&](const Outcome& o) -> const Outcome* {
        const Index at = lead[static_cast<std::size_t>(&o - judgement.outcomes.data())];
        return at == plan::nowhere ? nullptr : &judgement.outcomes[at];
    };
    // A finding is told under another only if that one speaks of the same set.
    std::map<const Outcome*, std::vector<const Outcome*>> follows, answers;
    std::set<const Outcome*> speaking;
    for (const Finding& f : found) speaking.insert(f.outcome);
    std::erase_if(found, [&](const Finding& f) {
        const Outcome* leader = lead_of(*f.outcome);
        if (!leader || !speaking.contains(leader)) return false;
        (f.outcome->verdict == Verdict::cannot_judge ? answers : follows)[leader].push_back(f.outcome);
        return true;
    });
    for (Finding& f : found) {
        if (const auto it = follows.find(f.outcome); it != follows.end()) f.follows = it->second;
        if (const auto it = answers.find(f.outcome); it != answers.end()) f.answers = it->second;
    }
    return in_order(s, std::move(found));
}

bool about_the_bench(const Finding& finding) {
    const Outcome& o = *finding.outcome;
    return registry()[o.rule].harm != Harm::plan || o.at.kind != At::Kind::plan ||
           o.verdict != Verdict::caution;
}

FindingCounts count_findings(const std::vector<Finding>& found) {
    FindingCounts counts;
    for (const Finding& f : found) {
        const Verdict verdict = f.outcome->verdict;
        ++(!about_the_bench(f)                ? counts.on_the_plan
           : verdict == Verdict::fail         ? counts.fail
           : verdict == Verdict::cannot_judge ? counts.cannot_judge
                                              : counts.caution);
    }
    return counts;
}

std::vector<Finding> accepted(const Situation& s, const Judgement& judgement) {
    std::vector<Finding> found = over_sets(judgement, true);
    return in_order(s, std::move(found));
}

namespace {

/// The amps of the outcome are more than what flows: the limit counts loads for hours more than once.
bool weighted(const Situation& s, const Outcome& o) {
    if (!s.nec() || o.set == no_set || o.part != Part::whole || o.at.kind != At::Kind::element) return false;
    const auto* device = s.plan[o.at.index].as<plan::Device>();
    if (!device || o.limit == plan::nowhere) return false;
    Limit through;
    through.at = o.at;
    through.reach = {Reach::Kind::through, o.at.index};
    through.base = device->other_load.value_or(Current{});
    return above(std::get<Current>(o.value), plain_amps(s, through, set_of(s.plan, o.set).loads));
}

}  // namespace

std::string in_brief(const Situation& s, const Outcome& o) {
    std::string where = fmt::format("{} at {}", registry()[o.rule].id, words(s, o.at, o.part));
    if (std::holds_alternative<std::monostate>(o.value)) return where;
    if (!std::holds_alternative<Current>(o.value)) return fmt::format("{} ({})", where, to_text(o.value));
    const Measure& bound =
        o.verdict == Verdict::fail || std::holds_alternative<std::monostate>(o.caution) ? o.edge : o.caution;
    const bool has_edge = std::holds_alternative<Current>(o.edge);
    return fmt::format("{} ({} of {}{})", where, to_text(o.value), to_text(has_edge ? o.edge : bound),
                       weighted(s, o) ? ", loads for hours counted more than once" : "");
}

std::vector<std::string> told_under(const Situation& s, const Finding& f, std::size_t most_named) {
    const auto named = [&](const std::vector<const Outcome*>& outcomes) {
        std::vector<std::string> words;
        for (const Outcome* o : outcomes)
            if (words.size() < most_named) words.push_back(in_brief(s, *o));
        if (outcomes.size() > most_named)
            words.push_back(fmt::format("{} more", outcomes.size() - most_named));
        return list(words);
    };
    std::vector<std::string> sentences;
    if (!f.follows.empty()) sentences.push_back("For the same reason: " + named(f.follows) + ".");
    if (!f.answers.empty()) sentences.push_back("The cure also decides: " + named(f.answers) + ".");
    return sentences;
}

std::string headline(const Situation& s, const Judgement& judgement) {
    return headline(s, judgement, findings(s, judgement));
}

std::string headline(const Situation& s, const Judgement& judgement, const std::vector<Finding>& found) {
    const FindingCounts counts = count_findings(found);
    if (!found.empty() && found.front().outcome->verdict == Verdict::fail) {
        const std::string words = explain(s, judgement, *found.front().outcome).short_words;
        const auto more = counts.fail - 1;
        return fmt::format("Do not use yet: {}{}.", words,
                           more > 0 ? fmt::format(" ({} more below)", more) : "");
    }
    for (const Finding& f : found)
        if (is_grave_question(*f.outcome)) {
            std::string words = explain(s, judgement, *f.outcome).short_words;
            words =
                words.substr(0, words.find('?') == std::string::npos ? words.size() : words.find('?') + 1);
            if (!words.empty() && words.back() != '?' && words.back() != '.') words += '.';
            return "Cannot say yet: " + words;
        }
    const auto open = counts.cannot_judge, cautions = counts.caution;
    if (cautions + open == 0) {
        std::string out = "No problem found in what was checked";
        for (const Finding& f : found) out += "; " + explain(s, judgement, *f.outcome).headline;
        if (const auto lived_with = accepted(s, judgement).size(); lived_with > 0)
            out += fmt::format("; {} finding{} accepted", lived_with, lived_with == 1 ? " is" : "s are");
        return out + ".";
    }
    std::string out = "No fail found in what was checked; ";
    if (cautions > 0) out += fmt::format("{} caution{}", cautions, cautions == 1 ? "" : "s");
    if (open > 0)
        out += fmt::format("{}{} open question{}", cautions > 0 ? " and " : "", open, open == 1 ? "" : "s");
    return out + " below.";
}

namespace {
Outcome as_outcome(const Limit& limit, Current drawn) {
    Outcome o;
    o.at = limit.at;
    o.part = limit.part;
    o.value = drawn;
    o.edge = limit.edge;
    return o;
}
}  // namespace

std::vector<SetFigures> set_figures(const Situation& s, const Judgement& judgement) {
    std::vector<SetFigures> figures;
    for (std::size_t i = 0; i < judgement.weakest.size(); ++i) {
        const bool everything = i + 1 == judgement.weakest.size();
        if (everything && s.plan.everything.loads.size() < 2) continue;
        SetFigures f;
        f.set = everything ? everything_set : static_cast<Index>(i);
        f.loads = &set_of(s.plan, f.set);
        f.unknown_load = std::any_of(f.loads->loads.begin(), f.loads->loads.end(), [&](Index load) {
            return !s.network.loads[s.network.load_of[load]].known();
        });
        if (judgement.weakest[i].limit != plan::nowhere) {
            f.weakest = &judgement.limits[judgement.weakest[i].limit];
            f.drawn = std::get<Current>(evaluate(s, *f.weakest, f.loads->loads).value);
            f.rated = std::get<Current>(f.weakest->edge);
        }
        figures.push_back(f);
    }
    return figures;
}

namespace {

/// "3.7 A left", "2 A too much", or why neither can be said.
std::string margin_words(const Situation& s, const WeakestOf& weakest, Index set, const std::string& open) {
    if (above(weakest.drawn, weakest.rated) && !above(weakest.least, weakest.rated))
        return "perhaps too much";
    if (above(weakest.drawn, weakest.rated)) {
        if (set != everything_set) return to_text(Current(weakest.drawn - weakest.rated), 2) + " too much";
        const auto held = [&](Current amps) { return nothing_trips(s, as_outcome(*weakest.limit, amps)); };
        if (held(weakest.drawn)) return "too much, and nothing trips at once";
        // Between what a device holds for ever and what it opens at within the hour nobody knows.
        return held(weakest.least) ? "too much, and perhaps nothing trips" : "too much: may trip";
    }
    if (!open.empty()) return "left: not known (" + open + ")";
    return to_text(Current(weakest.rated - weakest.drawn), 2) + " left";
}

std::string share_words(const WeakestOf& weakest) {
    if (weakest.unknown_load || above(weakest.drawn, weakest.least)) return "";
    const double share = weakest.drawn / weakest.rated;
    return fmt::format(", {} %", digits(share * 100, share < 1 ? 2 : 3));
}

}  // namespace

std::vector<std::string> set_lines(const Situation& s, const Judgement& judgement) {
    std::vector<std::string> lines;
    for (const SetFigures& f : set_figures(s, judgement)) {
        const std::string name = set_words(s, f.set) + (f.loads->assumed ? " (assumed set)" : "");
        if (!f.weakest) {
            lines.push_back(name + ": nothing on its way could be rated");
            continue;
        }
        const std::string open = open_words(s, judgement, f.set);
        std::string line = name + ":";
        for (const WeakestOf& weakest : weakest_by_circuit(s, judgement, f.set)) {
            if (line.back() != ':') line += ';';
            if (weakest.unknown_load && !(weakest.drawn > Current{}))
                line += fmt::format(" nothing can be said of {}: {}",
                                    words(s, weakest.limit->at, weakest.limit->part), open);
            else
                line += fmt::format(" {}{}; {}", carried_words(s, weakest), share_words(weakest),
                                    margin_words(s, weakest, f.set, open));
        }
        lines.push_back(std::move(line));
    }
    return lines;
}

namespace {

/// Places where the NEC asks for more than a plan has words for.
void add_of_the_nec(const Situation& s, std::vector<NotChecked>& list) {
    const plan::Site& site = s.plan.site;
    const bool dwelling = !site.use.known() || site.use.is(plan::Use::dwelling);
    const bool room_without = site.room.is(plan::Room::garage) || site.room.is(plan::Room::outbuilding) ||
                              site.room.is(plan::Room::outdoors);
    if (!s.nec()) return;
    if (dwelling && !room_without)
        list.push_back({"whether the circuit has arc-fault protection",
                        "no plan says it; 210.12 asks for it in most rooms of a dwelling, not in garages and "
                        "unfinished basements (from memory)"});
    if (dwelling || site.use.is(plan::Use::school) || site.children.is(true))
        list.push_back(
            {"whether the receptacles are tamper-resistant",
             "no plan says it; 406.12 asks for it in dwellings, their garages too, and where small "
             "children are (from memory)"});
}

/// What only somebody at the machine sees.
void add_motors(const Situation& s, std::vector<NotChecked>& list) {
    std::vector<Index> turning, contactors, reversing;
    for (const Index i : s.network.order) {
        const plan::Element& e = s.plan[i];
        const bool three = e.conductors.value_or(plan::Conductors{}).lines() == 3;
        if (const auto* load = e.as<plan::Load>(); load && three && turns(*load)) turning.push_back(i);
        const auto* sw = e.as<plan::Switch>();
        if (sw && sw->changeover.is(true) && three) reversing.push_back(i);
        if (sw && sw->kind.is(plan::SwitchKind::contactor) && !sw->backup_max.written())
            contactors.push_back(i);
    }
    if (!turning.empty())
        list.push_back(
            {"which way " + rules::list(s, turning) + (turning.size() == 1 ? " turns" : " turn"),
             "the order of the lines is not in the plan: test rotation at each outlet, then start the "
             "machine "
             "with the blade off, at every outlet where it is used; a plug whose pins can be turned reverses "
             "it" +
                 std::string(reversing.empty() ? ""
                                               : "; " + rules::list(s, reversing) +
                                                     " reverses it too: mark the position in which it turns "
                                                     "as it should")});
    if (!contactors.empty())
        list.push_back(
            {"whether " + rules::list(s, contactors) +
                 (contactors.size() == 1 ? " withstands" : " withstand") + " a short circuit",
             "the largest device that the maker allows before it (backup_max) is not in the plan"});
}

}  // namespace

std::vector<NotChecked> not_checked(const Situation& s) {
    std::vector<NotChecked> list;
    add_of_the_nec(s, list);
    add_motors(s, list);
    if (s.nec())
        list.push_back({"fault loops, disconnection times and fault energy",
                        "the NEC has no numeric limit that can be checked here"});
    else
        list.push_back({"fault energy and short circuits in the cables of the house",
                        "they are as found; an electrician has their test report"});
    for (const Index i : s.network.order) {
        const plan::Element& e = s.plan[i];
        if (!s.network.house[i] || e.kind != plan::Kind::outlet || s.network.branches[i].known) continue;
        list.push_back({"the run from " + source_place(s, i) + " to " + e.words(),
                        "its length is not in the plan: drops count the bench part only"});
    }
    for (const Index i : s.network.order)
        if (s.network.house[i] && s.plan[i].cable && !s.plan[i].cable->method.known() && !s.nec())
            list.push_back({"whether " + words(s, at_element(i), Part::cable) + " suits its device",
                            "how it is laid is not known; have an electrician look at it"});
    if (!s.practice().not_read.empty())
        list.push_back({"whether " + s.practice().not_read + " ask" +
                            (s.practice().not_read.find(" and ") == std::string::npos ? "s" : "") +
                            " for more",
                        "its tables are not in this version; IEC 60364 and BS 7671 are used instead"});
    std::vector<Index> boxes;
    for (const Index i : s.network.order)
        if (const auto* box = s.plan[i].as<plan::Box>();
            box && !box->ways.known() && !box->ways.stated_unknown)
            boxes.push_back(i);
    if (!boxes.empty())
        list.push_back({"whether the terminals in " + rules::list(s, boxes) + " have enough ways",
                        "how many they have is not in the plan; count them when they are bought"});
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == plan::Kind::supply && is_own_source(s, i))
            list.push_back({"whether a breaker opens a short circuit behind " + s.plan[i].words(),
                            "its fault current dies away: no device counts as opened by it"});
    for (NotHeld& reading : not_held(s))
        list.push_back({"a reading of " + reading.what, std::move(reading.why)});
    if (const auto count = undated(s.plan).size(); count > 0)
        list.push_back(
            {fmt::format("whether the time of {} {} is over", count,
                         count == 1 ? "acceptance with a last day" : "acceptances with a last day"),
             "no date was given: --today YYYY-MM-DD"});
    return list;
}

}  // namespace benchfeed::rules
