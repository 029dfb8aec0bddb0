#include <benchfeed/rules/compare.hpp>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include <benchfeed/rules/carried.hpp>
#include <benchfeed/rules/differences.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

namespace {

// ---- verdicts ---------------------------------------------------------------------------------------

struct Key {
    Index rule;
    std::string at;
    Part part;
    friend bool operator<(const Key& a, const Key& b) {
        return std::tie(a.rule, a.at, a.part) < std::tie(b.rule, b.at, b.part);
    }
};

std::map<Key, const Outcome*> worst_outcomes(const JudgedSide& side) {
    std::map<Key, const Outcome*> worst;
    for (const Outcome& o : side.judgement.outcomes) {  // worst first; what is accepted counts least
        const Outcome*& there = worst[{o.rule, path_of(side.situation.plan, o.at), o.part}];
        const bool better_known = there && there->accepted != plan::nowhere && o.accepted == plan::nowhere &&
                                  o.verdict != Verdict::ok;
        if (!there || better_known) there = &o;
    }
    return worst;
}

int rank_of(const Outcome* o) {
    return !o || o->accepted != plan::nowhere ? 0 : static_cast<int>(o->verdict);
}

/// Differences on the way of an outcome: at it, above it, below it, or in its set.
std::vector<std::string> because(const JudgedSide& side, const Outcome& o,
                                 const std::vector<Difference>& differences) {
    const Situation& s = side.situation;
    std::vector<std::string> list;
    for (const Difference& d : differences) {
        if (only_words(d)) continue;
        bool on_its_way = concerns_everything(d) || o.at.kind != At::Kind::element;
        for (const Index index : touched(s.plan, d)) {
            if (o.at.kind != At::Kind::element) break;
            on_its_way = on_its_way || s.network.hangs_below(o.at.index, index) ||
                         s.network.hangs_below(index, o.at.index);
            if (o.set != no_set) {
                const auto& loads = set_of(s.plan, o.set).loads;
                on_its_way = on_its_way || std::any_of(loads.begin(), loads.end(), [&](Index load) {
                                 return s.network.hangs_below(load, index);
                             });
            }
        }
        if (on_its_way) list.push_back(d.path);
    }
    return list;
}

std::vector<Moved> find_moved(const JudgedSide& before, const JudgedSide& after,
                              const std::vector<Difference>& differences) {
    const auto old_outcomes = worst_outcomes(before), new_outcomes = worst_outcomes(after);
    std::set<Key> keys;
    for (const auto& [key, outcome] : old_outcomes) keys.insert(key);
    for (const auto& [key, outcome] : new_outcomes) keys.insert(key);
    std::vector<Moved> list;
    for (const Key& key : keys) {
        const auto old = old_outcomes.find(key), now = new_outcomes.find(key);
        const Outcome* was = old == old_outcomes.end() ? nullptr : old->second;
        const Outcome* is = now == new_outcomes.end() ? nullptr : now->second;
        if (rank_of(was) == rank_of(is)) continue;
        const bool tell_new = is && (rank_of(is) > rank_of(was) || rank_of(is) > 0 || !was);
        const JudgedSide& teller = tell_new ? after : before;
        const Outcome& told = tell_new ? *is : *was;
        Moved m;
        m.rule = key.rule;
        m.at = key.at;
        m.part = key.part;
        m.before = side_of(before, was);
        m.after = side_of(after, is);
        m.headline = explain(teller.situation, teller.judgement, told).headline;
        m.because = because(is ? after : before, is ? *is : *was, differences);
        m.worse = rank_of(is) > rank_of(was);
        list.push_back(std::move(m));
    }
    std::stable_sort(list.begin(), list.end(),
                     [](const Moved& a, const Moved& b) { return a.worse > b.worse; });
    return list;
}

// ---- emergency stops that are gone --------------------------------------------------------------------

bool has_stop(const std::vector<Stop>& stops, const plan::Plan& plan, const std::string& path) {
    return std::any_of(stops.begin(), stops.end(),
                       [&](const Stop& stop) { return plan[stop.element].path() == path; });
}

/// What a stop of the plan before acted on and what is still there, as elements of the plan after.
std::vector<Index> still_there(const JudgedSide& before, const JudgedSide& after, const Stop& stop) {
    std::vector<Index> loads;
    for (const Index load : stopped_by(before.situation, stop)) {
        const plan::Element& was = before.situation.plan[load];
        const Index now = after.situation.plan.find(was.kind, was.name);
        if (now != plan::nowhere) loads.push_back(now);
    }
    return loads;
}

/// A stop that is new acts on all of it: the old one has another name or another place.
bool replaced(const JudgedSide& before, const JudgedSide& after, const std::vector<Stop>& old_stops,
              const std::vector<Index>& loads) {
    const std::vector<Stop> stops = emergency_stops(after.situation);
    return std::any_of(stops.begin(), stops.end(), [&](const Stop& stop) {
        const std::string path = after.situation.plan[stop.element].path();
        return !has_stop(old_stops, before.situation.plan, path) &&
               std::all_of(loads.begin(), loads.end(),
                           [&](Index load) { return acts_on(after.situation, stop, load); });
    });
}

/// The place of a rule in the registry.
Index position_of(std::string_view id) {
    return static_cast<Index>(find_rule(id) - registry().data());
}

/// An emergency stop that is gone takes its outcomes along, so no verdict tells that it is missed.
void add_lost_stops(const JudgedSide& before, const JudgedSide& after, std::vector<Moved>& list) {
    const std::vector<Stop> old_stops = emergency_stops(before.situation),
                            new_stops = emergency_stops(after.situation);
    const Index misses = position_of("restart.stop-misses-cutter"),
                nothing = position_of("restart.stop-without-effect");
    for (const Stop& stop : old_stops) {
        const plan::Element& element = before.situation.plan[stop.element];
        const std::string path = element.path();
        if (has_stop(new_stops, after.situation.plan, path)) continue;
        const std::vector<Index> loads = still_there(before, after, stop);
        if ((stop.known && loads.empty()) || replaced(before, after, old_stops, loads)) continue;
        std::erase_if(
            list, [&](const Moved& m) { return m.at == path && (m.rule == misses || m.rule == nothing); });
        Moved m;
        m.rule = misses;
        m.at = path;
        m.before = Moved::Side{Verdict::ok, "", {}, {}, false};
        for (const Outcome& o : before.judgement.outcomes)
            if ((o.rule == misses || o.rule == nothing) && o.at == at_element(stop.element) &&
                o.verdict >= m.before->verdict)
                m.before = side_of(before, &o);
        m.headline =
            capital(element.words()) + " is gone: it stopped " +
            (loads.empty() ? std::string("what the plan did not say") : rules::list(after.situation, loads));
        m.because = {path};
        m.worse = true;
        list.push_back(std::move(m));
    }
    std::stable_sort(list.begin(), list.end(),
                     [](const Moved& a, const Moved& b) { return a.worse > b.worse; });
}

// ---- tests ------------------------------------------------------------------------------------------

/// Outlets at or below what a difference touches, in file order; the wiring they hang on has changed.
std::vector<Index> outlets_behind(const Situation& s, const Difference& d) {
    std::vector<Index> list;
    const auto from = touched(s.plan, d);
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (s.plan[i].kind != plan::Kind::outlet) continue;
        if (std::any_of(from.begin(), from.end(), [&](Index top) { return s.network.hangs_below(i, top); }))
            list.push_back(i);
    }
    return list;
}

class Tests {
public:
    explicit Tests(const Situation& s) : s_(s) {}

    void add(const std::string& test, const Difference& d, const std::vector<Index>& where) {
        auto it = std::find_if(list_.begin(), list_.end(), [&](const Retest& r) { return r.test == test; });
        if (it == list_.end()) it = list_.insert(list_.end(), {test, {}, {}});
        for (const Index index : where) add_once(it->where, s_.plan[index].words());
        add_once(it->because, d.path);
    }
    [[nodiscard]] std::vector<Retest> list() && { return std::move(list_); }

private:
    static void add_once(std::vector<std::string>& list, const std::string& text) {
        if (std::find(list.begin(), list.end(), text) == list.end()) list.push_back(text);
    }
    const Situation& s_;
    std::vector<Retest> list_;
};

/// What is measured with the plug out.
void add_dead_tests(Tests& tests, const Situation& s, const Difference& d) {
    if (!rewired(d)) return;
    const auto outlets = outlets_behind(s, d);
    tests.add("dead: protective conductor from the plug to each protective contact and metal part", d,
              outlets);
    tests.add("dead: insulation between live conductors and protective conductor, electronics disconnected",
              d, outlets);
    tests.add("dead: line and neutral at the right contact, each switch opens what it should", d, outlets);
}

bool any_no_volt(const Situation& s, const std::vector<Index>& elements) {
    return std::any_of(elements.begin(), elements.end(), [&](Index i) {
        const auto* sw = s.plan[i].as<plan::Switch>();
        const auto* load = s.plan[i].as<plan::Load>();
        return (sw && sw->no_volt.is(true)) || (load && load->no_volt.is(true));
    });
}

/// One of these is an emergency stop, or what one drops out.
bool of_an_emergency_stop(const Situation& s, const std::vector<Index>& elements) {
    const std::vector<Stop> stops = emergency_stops(s);
    return std::any_of(stops.begin(), stops.end(), [&](const Stop& stop) {
        return std::any_of(elements.begin(), elements.end(), [&](Index i) {
            return i == stop.element ||
                   std::find(stop.opens.begin(), stop.opens.end(), i) != stop.opens.end();
        });
    });
}

void add_live_tests(Tests& tests, const Situation& s, const Difference& d) {
    const auto here = touched(s.plan, d);
    const bool upstream = d.path.starts_with("supply.") || d.path.starts_with("device.");
    if ((rewired(d) || upstream) && !only_words(d)) {
        if (!s.nec()) tests.add("live, electrician: fault loop at the outlets", d, outlets_behind(s, d));
        tests.add("live, electrician: residual current device, its button and its time", d,
                  outlets_behind(s, d));
    }
    if (!only_words(d) && any_no_volt(s, here))
        tests.add("live: pull the plug while it runs, plug in again: it stays off", d, here);
    if (!only_words(d) && of_an_emergency_stop(s, here))
        tests.add(
            "live: press each emergency stop while everything runs: it goes dead; pull it out: it stays dead",
            d, here);
    const bool draws = d.path.starts_with("load.") || d.path.starts_with("together.");
    if (draws && !only_words(d))
        tests.add(
            "live: start the heaviest tool with the rest of its set running; after half an hour feel plug "
            "and "
            "cord",
            d, here);
}

std::vector<Retest> find_tests(const JudgedSide& after, const std::vector<Difference>& differences) {
    Tests tests(after.situation);
    for (const Difference& d : differences) {
        if (d.kind == Difference::Kind::removed && !rewired(d)) continue;
        add_dead_tests(tests, after.situation, d);
    }
    for (const Difference& d : differences)
        if (d.kind != Difference::Kind::removed) add_live_tests(tests, after.situation, d);
    return std::move(tests).list();
}

}  // namespace

bool got_worse(const Moved& m, const plan::Plan& plan, const Outcome& o) {
    return m.worse && m.rule == o.rule && m.part == o.part && m.at == path_of(plan, o.at);
}

std::size_t Comparison::better() const {
    return static_cast<std::size_t>(std::count_if(moved.begin(), moved.end(), [](const Moved& m) {
        return m.direction() == Moved::Direction::better;
    }));
}

std::size_t Comparison::worse() const {
    return static_cast<std::size_t>(
        std::count_if(moved.begin(), moved.end(), [](const Moved& m) { return m.worse; }));
}

Comparison compare(const JudgedSide& before, const JudgedSide& after) {
    Comparison c;
    c.differences = find_differences(before.situation, after.situation);
    c.moved = find_moved(before, after, c.differences);
    follow_folds(before, after, c.moved);
    add_lost_stops(before, after, c.moved);
    c.tests = find_tests(after, c.differences);
    c.stale = find_stale(before.situation, after.situation, c.differences);
    return c;
}

}  // namespace benchfeed::rules
