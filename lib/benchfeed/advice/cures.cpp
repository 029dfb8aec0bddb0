#include <benchfeed/advice/cures.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

#include <benchfeed/advice/sizes.hpp>
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/summary.hpp>

namespace benchfeed::advice {

namespace {

using rules::Change;
using rules::Judgement;
using rules::Outcome;
using rules::Remedy;
using rules::Situation;
using rules::Verdict;

/// The set of a changed plan that the plan as it is does not have.
constexpr Index new_set = rules::everything_set - 1;

OutcomeKey key_of(const Outcome& o) {
    return {o.rule, static_cast<int>(o.at.kind), o.at.index, static_cast<int>(o.part), o.set};
}

std::string as_option(const std::vector<Change>& changes) {
    std::string out;
    for (const Change& change : changes)
        out += fmt::format("{}--set {}=\"{}\"", out.empty() ? "" : " ", change.path, change.value);
    return out;
}

/// The text of the plan with lines added at its end.
std::string with_lines(const Source& source, const std::string& fragment) {
    return source.document.content() + "\n" + fragment;
}

class Patient {
public:
    Patient(const Source& source, const Situation& s, const Outcome& outcome, CureTrials& trials)
        : source_(source), s_(s), outcome_(outcome), trials_(trials) {
        if (std::exchange(trials_.begun, true)) return;
        for (const Outcome& o : rules::judge_places(s)) {
            if (o.verdict == Verdict::ok) continue;
            Verdict& known = trials_.before[key_of(o)];
            known = std::max(known, o.verdict);
        }
    }

    /// The outcome as it becomes; nothing where it gets no better, or something else gets worse.
    std::optional<Outcome> with(const std::vector<Change>& changes, const std::string& fragment = "") {
        const std::string key = as_option(changes) + fragment;
        auto known = trials_.judged.find(key);
        if (known == trials_.judged.end()) {
            if (trials_.left <= 0) return std::nullopt;
            --trials_.left;
            known = trials_.judged.emplace(key, judged_with(changes, fragment)).first;
        }
        last_ = known->second.result;
        if (known->second.result != CureTrial::Result::no_worse) return std::nullopt;
        return improved(known->second.outcomes);
    }

    /// The last change was not judged, made no plan of it, or needs another circuit for what it left out:
    /// its words stand, and no change of the plan does what they say.
    [[nodiscard]] bool words_stand() const {
        return trials_.left <= 0 || last_ == CureTrial::Result::no_plan ||
               last_ == CureTrial::Result::worse_by_itself;
    }

private:
    CureTrial judged_with(const std::vector<Change>& changes, const std::string& fragment) {
        std::vector<plan::Override> overrides(source_.overrides.begin(), source_.overrides.end());
        for (const Change& change : changes) overrides.push_back({change.path + "=" + change.value});
        // What is added stands behind the rest: the elements that there are keep their numbers.
        const std::optional<text::Document> longer =
            fragment.empty() ? std::nullopt
                             : std::optional<text::Document>(source_.document.with(
                                   source_.document.path(), with_lines(source_, fragment)));
        plan::Reading reading = plan::complete(
            longer ? plan::read_written(*longer, source_.words) : written(), source_.words, overrides);
        const std::size_t now = s_.plan.elements.size(), then = reading.plan.elements.size();
        if (!reading.problems.empty() || (fragment.empty() ? then != now : then <= now)) return {};
        reading.plan.readings.clear();  // of the bench as it is: nobody has read the changed one
        const network::Network network = network::build(reading.plan, source_.tables);
        std::vector<Outcome> after = rules::judge_places({reading.plan, network, source_.tables});
        for (Outcome& o : after) o.set = set_of_now(reading.plan, o.set);
        const auto worse_than_known = [&](const Outcome& o) { return o.verdict > known_verdict(o); };
        const bool known_set = std::any_of(after.begin(), after.end(), [&](const Outcome& o) {
            return o.set != new_set && worse_than_known(o);
        });
        if (known_set) return {CureTrial::Result::worse};
        if (std::any_of(after.begin(), after.end(), worse_than_known))
            return {CureTrial::Result::worse_by_itself};
        // Nobody asks for a cure of what is in order.
        std::erase_if(after, [&](const Outcome& o) {
            const auto old = trials_.before.find(key_of(o));
            return old == trials_.before.end() || old->second == Verdict::ok;
        });
        after.shrink_to_fit();  // kept for as long as the plan is told
        return {CureTrial::Result::no_worse, std::move(after)};
    }

    /// The text as it was read. Of a large plan few trials are made, and for each it is read again: one plan
    /// more would be held for all of them.
    plan::Written written() {
        constexpr std::size_t most_held = 20'000;  // elements
        if (trials_.written) return *trials_.written;
        plan::Written fresh = plan::read_written(source_.document, source_.words);
        if (s_.plan.elements.size() <= most_held) trials_.written = fresh;
        return fresh;
    }

    /// The set of the plan as it is that has the name of one of the changed plan.
    [[nodiscard]] Index set_of_now(const plan::Plan& changed, Index set) const {
        if (set >= changed.sets.size()) return set;  // no set, or everything
        const std::string& name = changed.sets[set].name;
        for (Index now = 0; now < s_.plan.sets.size(); ++now)
            if (s_.plan.sets[now].name == name) return now;
        return new_set;
    }

    /// A load that was left out of its set has one of its own: it may be as bad there as it was.
    /// What is added carries what the rest carries: of it a rule may say what it says somewhere already.
    [[nodiscard]] Verdict known_verdict(const Outcome& o) const {
        if (o.at.kind == rules::At::Kind::element && o.at.index >= s_.plan.elements.size()) {
            Verdict worst = Verdict::ok;
            for (const auto& [key, verdict] : trials_.before)
                if (std::get<0>(key) == o.rule) worst = std::max(worst, verdict);
            return worst;
        }
        if (o.set != new_set) {
            const auto old = trials_.before.find(key_of(o));
            return old == trials_.before.end() ? Verdict::ok : old->second;
        }
        Verdict worst = Verdict::ok;
        for (const auto& [key, verdict] : trials_.before)
            if (std::tie(std::get<0>(key), std::get<1>(key), std::get<2>(key), std::get<3>(key)) ==
                std::tuple(o.rule, static_cast<int>(o.at.kind), o.at.index, static_cast<int>(o.part)))
                worst = std::max(worst, verdict);
        return worst;
    }

    /// A finding about many places is cured when all of them are: its worst place counts, of equals its own.
    std::optional<Outcome> improved(const std::vector<Outcome>& after) const {
        std::optional<Outcome> here;
        for (const Outcome& o : after) {
            const bool own = key_of(o) == key_of(outcome_);
            if (!own && !same_fold(o, outcome_)) continue;
            if (!here || o.verdict > here->verdict || (own && o.verdict == here->verdict)) here = o;
        }
        if (!here) here = gone();
        return here->verdict < outcome_.verdict ? here : std::nullopt;
    }
    static bool same_fold(const Outcome& a, const Outcome& b) {
        return a.fold != plan::nowhere && a.rule == b.rule && a.fold == b.fold && a.set == b.set;
    }
    /// A rule that has nothing left to say.
    static Outcome gone() { return {}; }

    const Source& source_;
    const Situation& s_;
    const Outcome& outcome_;
    CureTrials& trials_;
    CureTrial::Result last_ = CureTrial::Result::no_worse;
};

bool is_number(const Measure& value) {
    return !std::holds_alternative<std::monostate>(value);
}

/// The figures of one place, one estimate and one limit. A start is judged at the least and at the most of
/// its kind: where the first is cured and the second speaks, its volts say nothing about the cure.
bool comparable(const Outcome& before, const Outcome& after) {
    return before.at == after.at && before.part == after.part && is_number(before.value) &&
           before.value.index() == after.value.index() && before.variant == after.variant &&
           before.bound == after.bound;
}

/// "brings 5.58 % to 3.52 %", or that it cures.
std::string effect(const Outcome& before, const Outcome& after) {
    const bool caution = after.verdict == Verdict::caution;
    if (!comparable(before, after) || to_text(before.value) == to_text(after.value))
        return caution ? "reduces it to a caution" : "cures it";
    return fmt::format("brings {} to {}{}", to_text(before.value), to_text(after.value),
                       caution ? ", which is a caution" : "");
}

/// The element or stock that a path names: "stock.lead.section".
std::string owner_of(const std::string& path) {
    return path.substr(0, path.find('.', path.find('.') + 1));
}

/// `most`: the worst verdict that still counts as a cure.
std::optional<Remedy> next_section(Patient& patient, const Situation& s, const Remedy& remedy,
                                   const Outcome& outcome, Verdict most) {
    const std::string& path = remedy.changes.front().path;
    for (const StockGroup& group : groups_of(s, nullptr)) {
        const auto named = std::find_if(group.stocks.begin(), group.stocks.end(), [&](Index stock) {
            return s.plan.stocks[stock].path() == owner_of(path);
        });
        if (named == group.stocks.end()) continue;
        const plan::Stock& stock = s.plan.stocks[*named];
        for (const Section& section : group.choices) {
            if (!stock.section.known() || section.area <= stock.section->area * 1.001) continue;
            const std::vector<Change> changes{{path, section_text(section)}};
            const auto after = patient.with(changes);
            if (!after || after->verdict > most) continue;
            return Remedy{remedy.cost,
                          fmt::format("{}: {} -> {} {}", stock.path(), section_text(*stock.section),
                                      section_text(section), effect(outcome, *after)),
                          changes};
        }
    }
    return std::nullopt;
}

std::string metres(int tenths) {
    return fmt::format("{}.{} m", tenths / 10, tenths % 10);
}

/// The longest length, to a tenth of a metre, with a verdict no worse than `most`, and what it brings.
/// Shorter never hurts what longer cures.
struct Longest {
    int tenths = 0;
    Outcome after;
};
std::optional<Longest> longest(Patient& patient, const std::string& path, int least, int now, Verdict most) {
    const auto cured = [&](int tenths) {
        auto after = patient.with({{path, metres(tenths)}});
        return after && after->verdict <= most ? after : std::nullopt;
    };
    auto after = cured(least);
    if (!after) return std::nullopt;
    Longest found{least, *after};
    for (int bad = now; bad - found.tenths > 1;) {
        const int middle = (found.tenths + bad) / 2;
        if (const auto there = cured(middle))
            found = {middle, *there};
        else
            bad = middle;
    }
    return found;
}

/// A shorter cable that somebody may have: one below half of what it is would not reach where this one goes.
std::optional<Remedy> shorter(Patient& patient, const Situation& s, const Remedy& remedy,
                              const Outcome& outcome) {
    const std::string& path = remedy.changes.front().path;
    const auto at = std::find_if(s.plan.elements.begin(), s.plan.elements.end(),
                                 [&](const plan::Element& e) { return e.path() == owner_of(path); });
    if (at == s.plan.elements.end() || !at->cable || !at->cable->length.known()) return std::nullopt;
    const double tenths = in(unit::metre, *at->cable->length) * 10;
    const int now = static_cast<int>(std::ceil(tenths - 1e-9)),
              least = std::max(5, static_cast<int>(std::ceil(tenths / 2 - 1e-9)));
    if (now <= least) return std::nullopt;
    const auto whole = longest(patient, path, least, now, Verdict::ok);
    const auto half = outcome.verdict == Verdict::fail
                          ? longest(patient, path, whole ? whole->tenths : least, now, Verdict::caution)
                          : std::nullopt;
    if (!whole && !half) return std::nullopt;
    const Longest& best = whole ? *whole : *half;
    std::string text = fmt::format("{} -> {} for the cable of {} {}", to_text(*at->cable->length),
                                   metres(best.tenths), at->words(), effect(outcome, best.after));
    if (whole && half && half->tenths > whole->tenths)
        text += fmt::format("; up to {} it is a caution", metres(half->tenths));
    return Remedy{remedy.cost, std::move(text), {{path, metres(best.tenths)}}};
}

std::optional<Remedy> tried(Patient& patient, const Situation& s, const Remedy& remedy,
                            const Outcome& outcome) {
    const Change& first = remedy.changes.front();
    if (!first.value.empty() || remedy.changes.size() > 1) {
        const auto after = patient.with(remedy.changes, remedy.fragment);
        if (!after) return std::nullopt;
        return Remedy{remedy.cost, remedy.text + ": that " + effect(outcome, *after), remedy.changes,
                      remedy.fragment};
    }
    if (!first.path.ends_with(".section")) return shorter(patient, s, remedy, outcome);
    if (auto whole = next_section(patient, s, remedy, outcome, Verdict::ok)) return whole;
    return next_section(patient, s, remedy, outcome, Verdict::caution);
}

}  // namespace

int most_trials(const plan::Plan& plan) {
    constexpr std::size_t most = 300, least = 3, elements_at_most = 60'000;  // of all trials together
    const std::size_t elements = std::max<std::size_t>(plan.elements.size(), 1);
    if (elements > elements_at_most) return 0;
    return static_cast<int>(std::clamp(elements_at_most / elements, least, most));
}

std::vector<Remedy> cures(const Source& source, const Situation& s, const Judgement& judgement,
                          const Outcome& outcome, CureTrials& trials) {
    std::vector<Remedy> kept;
    Patient patient(source, s, outcome, trials);
    for (Remedy& remedy : rules::explain(s, judgement, outcome).remedies) {
        auto cure = remedy.changes.empty() ? std::nullopt : tried(patient, s, remedy, outcome);
        if (cure) {
            cure->text += " [" + as_option(cure->changes) + "]";
            kept.push_back(std::move(*cure));
        } else if (remedy.changes.empty() || patient.words_stand() || !remedy.fragment.empty()) {
            remedy.changes.clear();
            remedy.fragment.clear();
            kept.push_back(std::move(remedy));
        }
    }
    rules::first_without_or(kept);
    return kept;
}

}  // namespace benchfeed::advice
