// What nobody gave lies in a range: whatever value of it is put into the plan, what was said for certain
// stays.
#include <doctest/doctest.h>

#include <cmath>

#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/summary.hpp>
#include "laws/corpus.hpp"

namespace benchfeed::laws {
namespace {

using plan::Fact;
using rules::Verdict;

/// Words of `--set`, by the field that they give.
using Sets = std::map<std::string, std::string>;

std::vector<std::string> words_of(const Sets& sets) {
    std::vector<std::string> words;
    for (const auto& [path, value] : sets) words.push_back(path + "=" + value);
    return words;
}

/// An open fact of a plan with one of its plausible values.
struct Given {
    Fact fact;
    std::string path, value;
};

/// Every open fact with each of its values; amps with both ends and what lies between.
std::vector<Given> values_of(const Judged& judged) {
    std::vector<Given> found;
    const rules::Situation s = judged.situation();
    for (plan::Index i = 0; i < s.plan.elements.size(); ++i) {
        const std::string path = s.plan[i].path();
        const auto give = [&](Fact fact, const char* field, std::initializer_list<const char*> values) {
            if (plan::is_open(s.plan[i], fact))
                for (const char* value : values) found.push_back({fact, path + field, value});
        };
        give(Fact::latched, ".latched", {"true", "false"});
        give(Fact::protection_class, ".class", {"\"I\"", "\"II\""});
        give(Fact::reel, ".cable.reel", {"\"wound\"", "\"unwound\""});
        // One that closes again by itself is asked for by restart.self-reset, of tools without a plug.
        give(Fact::overload, ".overload", {"\"none\"", "\"hand\""});
        give(Fact::no_volt, ".no_volt", {"true", "false"});
        if (s.nec()) give(Fact::snap, ".kind", {"\"snap\"", "\"rocker\""});
        const auto load = s.network.load_of[i];
        if (load == plan::nowhere || !s.network.loads[load].ranged) continue;
        const Current most = s.network.loads[load].current, least = s.best->network.loads[load].current;
        for (const Current& value : {least, Current((least + most) / 2.0), most})
            found.push_back(
                {Fact::amps, path + ".plate.current", fmt::format("\"{:.9} A\"", in(unit::ampere, value))});
    }
    return found;
}

/// Watts in place of a load's amps, with which its amps lie inside their range; nothing where its plate
/// prints none or its factors are known.
Sets without_amps(const Bench& bench, plan::Index load) {
    const rules::Situation s = bench.judged->situation();
    const auto& what = *s.plan[load].as<plan::Load>();
    if (!what.plate || !what.plate->current.known() || what.plate->horsepower.known() ||
        what.plate->power_out.known() || what.motor.is(plan::Motor::none))
        return {};
    const bool three = s.plan[load].conductors.value_or(plan::Conductors{}).lines() == 3;
    const double volts = in(unit::volt, network::plate_voltage(s.plan, load)) * (three ? std::sqrt(3.0) : 1);
    const double watts = volts * in(unit::ampere, *what.plate->current) * 0.93;
    const std::string plate = s.plan[load].path() + ".plate.";
    return {{plate + "current", "\"unknown\""},
            {plate + "power_factor", "\"unknown\""},
            {plate + "power_in", fmt::format("\"{:.9} W\"", watts)}};
}

/// What a plan is asked without: nothing; the amps of one load; of all; whether its cords are wound.
std::vector<Sets> gaps_of(const Bench& bench) {
    std::vector<Sets> gaps{{}};
    Sets all, reels;
    for (const network::LoadPoint& load : bench.judged->situation().network.loads) {
        const Sets one = without_amps(bench, load.element);
        all.insert(one.begin(), one.end());
        if (!one.empty()) gaps.push_back(one);
    }
    for (const plan::Element& e : bench.judged->plan().elements)
        if (e.cable && e.kind == plan::Kind::box) reels[e.path() + ".cable.reel"] = "\"unknown\"";
    for (const Sets& more : {all, reels})
        if (!more.empty()) gaps.push_back(more);
    return gaps;
}

struct Said {
    Verdict verdict = Verdict::ok;
    bool moves = false;  ///< another member of its fold, or another contact of its set, may speak instead
};
using Key = std::tuple<plan::Index, std::string, int, std::string>;

std::map<Key, Said> said_of(const Judged& judged) {
    std::map<Key, Said> found;
    for (const auto& o : judged.judgement().outcomes) {
        if (rules::registry()[o.rule].harm == rules::Harm::plan) continue;
        const Key key{o.rule, rules::path_of(judged.plan(), o.at), static_cast<int>(o.part),
                      rules::set_name(judged.plan(), o.set)};
        Said& said = found[key];
        said.verdict = std::max(said.verdict, o.verdict);
        const bool once = o.limit != plan::nowhere && judged.judgement().limits[o.limit].once_per_set;
        said.moves = said.moves || once || o.fold != plan::nowhere;
    }
    return found;
}

/// Whether what was said of a range may be so of a value in it.
bool may_be(Verdict of_range, Verdict of_value) {
    switch (of_range) {
        case Verdict::ok:
            return of_value == Verdict::ok;
        case Verdict::caution:
            return of_value == Verdict::ok || of_value == Verdict::caution;
        case Verdict::fail:
            return of_value == Verdict::fail;
        case Verdict::cannot_judge:
            break;
    }
    return true;
}

}  // namespace

namespace {

std::map<Fact, std::size_t> tried;

/// Every value put back into a plan with gaps.
void hold_values(Breaches& breaches, const Bench& bench, const Sets& gaps) {
    const auto ranged = judged(bench.text, words_of(gaps));
    if (!ranged || !ranged->situation().best) return;
    const auto of_range = said_of(*ranged);
    for (const Given& given : values_of(*ranged)) {
        Sets sets = gaps;
        sets[given.path] = given.value;
        const auto other = judged(bench.text, words_of(sets));
        if (!other) continue;
        ++tried[given.fact];
        const auto of_value = said_of(*other);
        for (const auto& [key, said] : of_value)  // of which the range said nothing: that it is in order
            if (!of_range.contains(key) && !said.moves && said.verdict != Verdict::ok)
                breaches.add(fmt::format("{}: nothing -> {}", rules::registry()[std::get<0>(key)].id,
                                         rules::words(said.verdict)),
                             fmt::format("{} at {}: {}", bench.name, std::get<1>(key),
                                         fmt::join(words_of(sets), " ")));
        for (const auto& [key, said] : of_range) {
            const auto there = of_value.find(key);
            const Verdict now = there == of_value.end() ? Verdict::ok : there->second.verdict;
            if (may_be(said.verdict, now)) continue;
            if (said.moves && std::max(said.verdict, now) == Verdict::caution) continue;
            if (said.moves && there == of_value.end()) continue;
            breaches.add(
                fmt::format("{}: {} -> {}", rules::registry()[std::get<0>(key)].id,
                            rules::words(said.verdict), rules::words(now)),
                fmt::format("{} at {}: {}", bench.name, std::get<1>(key), fmt::join(words_of(sets), " ")));
        }
    }
}

}  // namespace

TEST_CASE("law: words that nobody gave move no limit, so that sets are added up once for them") {
    std::size_t held = 0;
    for (const Bench& bench : corpus()) {
        plan::Facts words = plan::open_words(bench.judged->plan());
        for (const Fact moving : {Fact::reel, Fact::no_volt, Fact::snap})  // these do
            words = words.without(plan::Facts::only(moving));
        if (words.none()) continue;
        const rules::BestEnd best(bench.judged->situation(), words);
        const auto& worst = bench.judged->judgement().limits;
        const auto limits = rules::judge(best.situation()).limits;
        ++held;
        CHECK_MESSAGE(std::equal(limits.begin(), limits.end(), worst.begin(), worst.end(),
                                 [](const rules::Limit& a, const rules::Limit& b) {
                                     return a.rule == b.rule && a.at == b.at && a.part == b.part &&
                                            a.edge == b.edge && a.caution == b.caution &&
                                            a.doubt == b.doubt && a.base == b.base &&
                                            a.reach.kind == b.reach.kind;
                                 }),
                      bench.name);
    }
    at_least(held, 300, "plans");
}

TEST_CASE("law: when every open fact is given nothing is open any more") {
    std::size_t asked = 0;
    for (const Bench& bench : corpus())
        for (const Sets& gaps : gaps_of(bench)) {
            const auto ranged = judged(bench.text, words_of(gaps));
            if (!ranged || !ranged->situation().best) continue;
            Sets sets = gaps;
            for (const Given& given : values_of(*ranged)) sets[given.path] = given.value;
            const auto other = judged(bench.text, words_of(sets));
            if (!other) continue;
            ++asked;
            const auto& outcomes = other->judgement().outcomes;
            CHECK_MESSAGE(std::none_of(outcomes.begin(), outcomes.end(),
                                       [](const rules::Outcome& o) { return o.open.has_value(); }),
                          bench.name);
        }
    at_least(asked, 1000, "plans");
}

TEST_CASE("law: what holds of a range holds of every value in it") {
    Breaches breaches;
    tried.clear();
    for (const Bench& bench : corpus())
        for (const Sets& gaps : gaps_of(bench)) hold_values(breaches, bench, gaps);
    at_least(tried[Fact::amps], 3000, "amps");
    at_least(tried[Fact::latched], 1000, "latched");
    at_least(tried[Fact::protection_class], 1000, "class");
    at_least(tried[Fact::reel], 500, "reel");
    at_least(tried[Fact::overload], 1000, "overload");
    // Watts of a source are compared with amps at the lowest and the highest power factor of its loads: with
    // the amps known as well these lie further apart than with the watts alone.
    // Volts across a resistance: with the same watts a current that lags more loses as much along the volts
    // and more across them, which leaves a little more, up to a tenth of a per cent. The better end takes the
    // least lag.
    breaches.hold(
        {"heat.source-overloaded: fail -> cannot judge", "volts.running-drop: fail -> cannot judge"});
}

namespace {

/// Fields that a plan may leave open, by what they belong to. Not here: what is a convention where it is not
/// given (30 degC, the frequency of the supply), and power factors, whose amps the law above has.
std::vector<std::string> fields_of(const plan::Element& e) {
    std::vector<std::string> fields;
    const auto add = [&](std::initializer_list<const char*> more) {
        fields.insert(fields.end(), more.begin(), more.end());
    };
    switch (e.kind) {
        case plan::Kind::supply:
            add({"earthing", "source", "rating"});
            break;
        case plan::Kind::device:
            add({"curve", "rating", "breaking", "standard", "residual.trip", "residual.wave", "reset"});
            break;
        case plan::Kind::outlet:
            add({"earth", "pattern"});
            break;
        case plan::Kind::box:
            add({"terminals", "material", "volume"});
            break;
        case plan::Kind::switch_:
            add({"rating", "motor_rating", "standard", "poles", "no_volt", "kind", "coil", "hp"});
            break;
        case plan::Kind::load:
            add({"motor", "overload", "latched", "class", "cutter", "hours", "form", "leakage"});
            break;
        default:
            break;
    }
    if (e.cable) add({"cable.method", "cable.ends", "cable.grip", "cable.reel"});
    constexpr double longest_run = 30;  // m, of one that nobody measured
    if (e.cable && e.cable->length.known() && in(unit::metre, *e.cable->length) <= longest_run)
        add({"cable.length"});
    add({"plug", "fuse"});
    return fields;
}

/// Every fact of a plan that may be left open, as `--set` has it; of a source all three figures, since one
/// follows from another.
std::vector<std::vector<std::string>> facts_left_out(const plan::Plan& plan) {
    std::vector<std::vector<std::string>> sets;
    const auto add = [&](const std::string& path) { sets.push_back({path + "=\"unknown\""}); };
    for (const plan::Element& e : plan.elements) {
        for (const std::string& field : fields_of(e)) add(e.path() + "." + field);
        if (e.kind == plan::Kind::supply) {
            sets.emplace_back();
            for (const char* figure : {"loop_impedance", "line_impedance", "fault_current"})
                sets.back().push_back(e.path() + "." + figure + "=\"unknown\"");
        }
    }
    for (const plan::Stock& stock : plan.stocks)
        for (const char* field : {"type", "protective_section", "protective", "coating"})
            add(stock.path() + "." + field);
    for (const char* field : {"use", "room", "wet", "children"}) add(std::string("site.") + field);
    return sets;
}

/// "cable.length" of box.junction.cable.length="unknown".
std::string field_of(const std::string& set) {
    const std::size_t from = set.find('.', set.starts_with("site.") ? 0 : set.find('.') + 1) + 1;
    return set.substr(from, set.find('=') - from);
}

}  // namespace

TEST_CASE("law: what is said without a fact holds of the value that it has") {
    Breaches breaches;
    std::size_t left_out = 0;
    for (const Bench& bench : corpus()) {
        const auto of_value = said_of(*bench.judged);
        for (const std::vector<std::string>& sets : facts_left_out(bench.judged->plan())) {
            const auto ranged = judged(bench.text, sets);
            if (!ranged) continue;
            ++left_out;
            for (const auto& [key, said] : said_of(*ranged)) {
                const auto there = of_value.find(key);
                const Verdict now = there == of_value.end() ? Verdict::ok : there->second.verdict;
                if (may_be(said.verdict, now)) continue;
                const bool moves = said.moves || (there != of_value.end() && there->second.moves);
                if (moves && (there == of_value.end() || std::max(said.verdict, now) == Verdict::caution))
                    continue;
                breaches.add(
                    fmt::format("{} without {}: {} -> {}", rules::registry()[std::get<0>(key)].id,
                                field_of(sets.front()), rules::words(said.verdict), rules::words(now)),
                    fmt::format("{} at {}: {}", bench.name, std::get<1>(key), fmt::join(sets, " ")));
            }
        }
    }
    at_least(left_out, 3000, "facts");
    breaches.hold({
        // Amps of plates add plainly where a power factor is not known, on the cautious side.
        "heat.neutral-overloaded without motor: fail -> ok",
        "heat.outlet-overloaded without motor: fail -> ok",
        "heat.plug-overloaded without motor: fail -> caution",
        "volts.running-drop without motor: fail -> caution",
        // What nobody says to have no motor counts as a tool that has one, of a usual start.
        "heat.speed-control-mismatch without motor: caution -> fail",
        "heat.switch-motor-rating without motor: fail -> ok",
        "restart.no-volt-missing without motor: fail -> ok",
        "volts.start-dip without motor: caution -> cannot judge",
        "volts.start-dip without motor: caution -> fail",
        "volts.start-dip without motor: ok -> cannot judge",
        "volts.wrong-voltage without motor: ok -> fail",
        // One check asks, and another at the same place has nothing to say without the answer.
        "heat.cable-unprotected without poles: ok -> caution",
        "heat.fault-energy without protective_section: ok -> cannot judge",
        "heat.plug-pattern-mismatch without plug: ok -> fail",
        "heat.terminal-mismatch without plug: caution -> fail",
        "heat.terminal-mismatch without plug: ok -> caution",
        "heat.terminal-mismatch without plug: ok -> fail",
        "shock.one-pole-off without plug: caution -> fail",
        // A plan that speaks of a reel says that there is one: a strip is none.
        "heat.chained-leads without cable.reel: caution -> fail",
        "heat.chained-leads without cable.reel: ok -> fail",
        // Between the ends of a length an energy may pass where its curve is not printed.
        "heat.fault-energy without cable.length: ok -> cannot judge",
        // A caution in its own words says that it is not known.
        "shock.no-grip without cable.grip: caution -> fail",
        "shock.slow-disconnection without earthing: caution -> cannot judge",
        "shock.slow-disconnection without earthing: caution -> fail",
        // Not cured yet: a kind of switch counts as a plain one, a room as dry and indoors, a conduit as
        // none,
        // a coil as one that holds as long as most; a device at the far end, or one that a reading is held
        // against, as if it were not there.
        "heat.cable-unprotected without rating: fail -> ok",
        "restart.no-volt-missing without latched: ok -> caution",
        "restart.stop-misses-cutter without kind: fail -> caution",
        "shock.cable-unsuited without room: ok -> caution",
        "shock.cable-unsuited without use: ok -> caution",
        "shock.cores-missing without kind: fail -> ok",
        "shock.no-residual-protection without earthing: ok -> cannot judge",
        "shock.no-residual-protection without residual.trip: fail -> cannot judge",
        "shock.no-residual-protection without residual.wave: fail -> cannot judge",
        "shock.reading-beyond without curve: fail -> cannot judge",
        "shock.reading-beyond without curve: fail -> caution",
        "shock.reading-beyond without rating: fail -> cannot judge",
        "shock.reading-beyond without rating: fail -> caution",
        "shock.reading-beyond without standard: fail -> cannot judge",
        "shock.reading-beyond without standard: fail -> caution",
        "volts.running-drop without loop_impedance: fail -> caution",
        "volts.start-dip without coil: ok -> caution",
        "volts.start-dip without kind: ok -> caution",
        "volts.start-dip without loop_impedance: ok -> caution",
    });
}

}  // namespace benchfeed::laws
