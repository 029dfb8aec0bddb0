#include <benchfeed/rules/drop.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/conductor_lines.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

using network::Branch;
using network::LoadPoint;
using plan::Conductor;

namespace {

ComplexImpedance loop_of(const Situation& s, Index at) {
    const Branch& branch = s.network.branches[at];
    return branch.impedance[index_of(Conductor::l1)] + branch.impedance[index_of(Conductor::n)];
}

/// Resistance and reactance of the loop of one cable.
CableOhms explain_cable_loop(Working& working, const Situation& s, Index at) {
    const Branch& branch = s.network.branches[at];
    return explain_cable(
        working, s, at, Ratio(branch.passes[index_of(Conductor::l1)] + branch.passes[index_of(Conductor::n)]),
        loop_of(s, at));
}

/// Marks what is worked again with a cable that is cooler than its rating.
const std::string cooler = ",cooler";

/// Real and lagging part of the current through an element's feed, worked from the loads behind it.
struct CurrentLines {
    Value real, lagging;
    bool lags = false;
};

class DropLines {
public:
    DropLines(Working& working, const Situation& s, const std::vector<Index>& loads, Index target)
        : working_(working), s_(s), loads_(loads), target_(target) {
        for (const Index load : loads_) in_phase_ = in_phase_ && in(unit::one, point(load).power_factor) == 1;
        for (const Index load : loads_) {
            const network::LoadCurrent found =
                network::load_current(s.plan, s.tables, s.practice(), load, s.network.plate_end);
            amps_.push_back(network::explain_current(working_, s.plan, found, load));
        }
    }

    /// All cables on the way, then what is left of the volts.
    void work(Voltage nominal, std::optional<Impedance> source = {}) {
        std::vector<Value> real, across;
        if (source && !loads_.empty()) add_source(*source, real, across);
        for (const Index at : s_.plan.path_to(target_)) add_branch(at, real, across);
        left_at_load = left(nominal, real, across, "");
    }

    /// The same with another resistance of one cable: everything else as it was worked.
    Value again(Voltage nominal, Index cable, Value resistance) {
        std::vector<Value> real, across;
        for (const Term& term : terms_) {
            if (term.at != cable) {
                real.push_back(term.real);
                across.push_back(term.across);
                continue;
            }
            add_drop(term.at, {resistance, term.reactance}, term.current, cooler, real, across);
        }
        return left(nominal, real, across, cooler);
    }

    Value left_at_load{};

private:
    /// What was worked for one cable; `at` is nowhere for the source.
    struct Term {
        Index at = plan::nowhere;
        Value reactance{}, real{}, across{};
        CurrentLines current{};
    };

    Value left(Voltage nominal, std::vector<Value>& real, std::vector<Value>& across,
               const std::string& mark) {
        const Value volts = working_.written(to_text(nominal, 6));
        if (real.empty()) return volts;
        if (across.empty()) across.push_back(working_.written("0 V"));
        const Value lost = sum(real, "dU_re" + mark), turned = sum(across, "dU_im" + mark);
        return working_.add("U_left" + mark, "sqrt((U - dU_re)^2 + dU_im^2)",
                            "sqrt(({} - {}) ^ 2 + ({}) ^ 2)", {volts, lost, turned}, "V");
    }

    const LoadPoint& point(Index load) const { return s_.network.loads[s_.network.load_of[load]]; }

    Value sum(const std::vector<Value>& values, const std::string& symbol) {
        if (values.size() == 1) return values.front();
        std::string pattern = "{}";
        for (std::size_t i = 1; i < values.size(); ++i) pattern += " + {}";
        return working_.add(symbol, "sum over the cables", pattern, values, "V");
    }

    /// Currents that pass an element. Of a load whose power factor is not known it is 1, as where it is
    /// judged.
    CurrentLines currents_at(Index at) {
        std::vector<Value> real, lagging;
        std::string pattern_real, pattern_lagging;
        for (std::size_t i = 0; i < loads_.size(); ++i) {
            if (!s_.network.hangs_below(loads_[i], at)) continue;
            pattern_real += pattern_real.empty() ? "" : " + ";
            pattern_lagging += pattern_lagging.empty() ? "" : " + ";
            real.push_back(amps_[i]);
            if (in_phase_) {
                pattern_real += "{}";
                continue;
            }
            const Value pf = working_.computed(in(unit::one, point(loads_[i]).power_factor), "");
            pattern_real += "{} * {}";
            real.push_back(pf);
            pattern_lagging += "{} * sqrt(1 - {} ^ 2)";
            lagging.push_back(amps_[i]);
            lagging.push_back(pf);
        }
        CurrentLines lines;
        const std::string name = s_.plan[at].name;
        lines.real =
            real.size() == 1
                ? real.front()
                : working_.add("I_" + name, in_phase_ ? "sum of the amps behind it" : "sum of I * pf",
                               pattern_real, real, "A");
        lines.lags = !in_phase_;
        if (lines.lags)
            lines.lagging =
                working_.add("I_" + name + ",lag", "sum of I * sin(phi)", pattern_lagging, lagging, "A");
        return lines;
    }

    void add_branch(Index at, std::vector<Value>& real, std::vector<Value>& across) {
        const bool carries = std::any_of(loads_.begin(), loads_.end(),
                                         [&](Index load) { return s_.network.hangs_below(load, at); });
        if (!carries || !(magnitude(loop_of(s_, at)) > 0.0 * unit::ohm)) return;
        const CableOhms ohms = explain_cable_loop(working_, s_, at);
        const CurrentLines current = currents_at(at);
        add_drop(at, ohms, current, "", real, across);
        terms_.push_back({at, ohms.reactance, real.back(), across.back(), current});
    }

    void add_drop(Index at, const CableOhms& z, const CurrentLines& i, const std::string& mark,
                  std::vector<Value>& real, std::vector<Value>& across) {
        const std::string name = s_.plan[at].name + mark;
        if (i.lags) {
            real.push_back(working_.add("dU_re," + name, "R * I + X * I_lag", "{} * {} + {} * {}",
                                        {z.resistance, i.real, z.reactance, i.lagging}, "V"));
            across.push_back(working_.add("dU_im," + name, "X * I - R * I_lag", "{} * {} - {} * {}",
                                          {z.reactance, i.real, z.resistance, i.lagging}, "V"));
        } else {
            real.push_back(working_.add("dU_re," + name, "R * I", "{} * {}", {z.resistance, i.real}, "V"));
            across.push_back(working_.add("dU_im," + name, "X * I", "{} * {}", {z.reactance, i.real}, "V"));
        }
    }

    void add_source(Impedance source, std::vector<Value>& real, std::vector<Value>& across) {
        const CurrentLines i = currents_at(s_.plan.supply_index_of(target_));
        const Value ohms = working_.written(to_text(source, 6));
        real.push_back(working_.add("dU_re,source", "Z * I", "{} * {}", {ohms, i.real}, "V"));
        if (i.lags)
            across.push_back(
                working_.add("dU_im,source", "-Z * I_lag", "0 V - {} * {}", {ohms, i.lagging}, "V"));
    }

    Working& working_;
    const Situation& s_;
    std::vector<Index> loads_;
    Index target_;
    std::vector<Value> amps_;
    std::vector<Term> terms_;
    bool in_phase_ = true;
};

std::string where_it_is_lost(const Situation& s, Index load) {
    const auto unknown = network::unknown_branches(s.plan, s.network, load);
    if (unknown.empty()) return "";
    const bool house =
        std::all_of(unknown.begin(), unknown.end(), [&](Index i) { return s.network.house[i]; });
    return house ? " (bench part only: the house run is not known)"
                 : " (without " + words(s, at_element(unknown.front()), Part::cable) +
                       ", whose length is not known)";
}

/// The conductors that a load's loop runs through: its pair, or of three lines one.
std::vector<Conductor> loop_conductors(const Situation& s, Index load) {
    const auto conductors = s.plan[load].conductors.value_or(plan::Conductors{});
    if (const auto pair = network::pair_of(conductors)) return {pair->from, pair->to};
    return {Conductor::l1};
}

struct BranchLoop {
    Ratio passes{};
    ComplexImpedance impedance{};
};
BranchLoop loop_through(const Branch& branch, const std::vector<Conductor>& conductors) {
    BranchLoop loop;
    for (const Conductor c : conductors) {
        loop.passes += branch.passes[index_of(c)];
        loop.impedance += branch.impedance[index_of(c)];
    }
    return loop;
}

void add_remedies(const Situation& s, Explanation& e, Index load) {
    const Index worst = worst_cable(s, load);
    if (worst == plan::nowhere) return;
    const std::string cable = words(s, at_element(worst), Part::cable);
    if (s.network.house[worst]) {
        e.remedies.push_back({Cost::free, "run fewer tools at a time on this circuit"});
        e.remedies.push_back(
            {Cost::electrician, "most is lost in " + cable + ": a larger section or a nearer " +
                                    source_place(s, load).substr(4) + " is an electrician's work"});
    } else {
        const std::string most = "most is lost in " + cable + ": ";
        e.remedies.push_back(shorter_cable(s, worst, most + "make it shorter"));
        if (s.plan[worst].cable && s.plan[worst].cable->stock_index != plan::nowhere)
            e.remedies.push_back(
                larger_section(s, worst, most + "take the next larger section that its plug takes"));
    }
}

/// The share of the nominal volts that is lost.
Value explain_share(Working& working, Voltage nominal, Value left, const std::string& mark = "") {
    const Value volts = working.written(to_text(nominal, 6));
    const Value drop = working.add("dU" + mark, "U - U_left", "{} - {}", {volts, left}, "V");
    return working.add("dU%" + mark, "dU / U", "{} / {}", {drop, volts}, "%");
}

void compare_share(Working& working, Value share, const Outcome& outcome, const Measure& bound) {
    if (std::holds_alternative<std::monostate>(bound)) return;
    working.compare(share, number(outcome.value) > number(bound) * (1 + rounding) ? ">" : "<=",
                    working.written(to_text(bound)));
}

/// The resistance of the cable in which most is lost, at the temperature that its amps give it.
std::optional<Value> cooler_cable(Working& working, const Situation& s, const Outcome& outcome, Index worst,
                                  Index load) {
    if (worst == plan::nowhere) return std::nullopt;
    Limit through;
    through.reach = {Reach::Kind::through, worst};
    const Measure amps = evaluate(s, through, set_of(s.plan, outcome.set).loads).value;
    const BranchLoop loop = loop_through(s.network.branches[worst], loop_conductors(s, load));
    return explain_warmth(working, s, worst, loop.passes, std::get<Current>(amps));
}

/// The verdict of a limit with another value.
Verdict verdict_with(const Outcome& outcome, double value) {
    const auto beyond = [&](const Measure& bound) {
        if (std::holds_alternative<std::monostate>(bound)) return false;
        return outcome.bound == Bound::at_most ? above(value, number(bound)) : above(number(bound), value);
    };
    return beyond(outcome.edge) ? Verdict::fail : beyond(outcome.caution) ? Verdict::caution : Verdict::ok;
}

std::string then_words(Verdict verdict) {
    return verdict == Verdict::fail ? "a fail" : verdict == Verdict::caution ? "a caution" : "in order";
}

/// The whole drop again with that one cable as warm as its amps make it: like for like, and what the verdict
/// would be.
void add_cooler_total(Working& working, const Situation& s, const Outcome& outcome, Voltage nominal,
                      DropLines& lines, Index load) {
    const Index worst = worst_cable(s, load);
    const auto resistance = cooler_cable(working, s, outcome, worst, load);
    if (!resistance) return;
    const Value left = lines.again(nominal, worst, *resistance);
    const bool volts = std::holds_alternative<Voltage>(outcome.value);
    const double value = working.exact(volts ? left : explain_share(working, nominal, left, cooler));
    const Verdict then = verdict_with(outcome, value);
    working.note(
        fmt::format("With that one cable no warmer than its amps make it, and all else as above, it "
                    "would {}be {}. Judged is the rated temperature: a cable may lie warmer than "
                    "the air of the plan.",
                    then == outcome.verdict ? "still " : "", then_words(then)));
}

}  // namespace

Index worst_cable(const Situation& s, Index load) {
    Index worst = plan::nowhere;
    Impedance most{};
    for (const Index at : s.plan.path_to(load)) {
        const Impedance here =
            magnitude(loop_through(s.network.branches[at], loop_conductors(s, load)).impedance);
        if (here > most) {
            most = here;
            worst = at;
        }
    }
    return worst;
}

bool one_loop(const Situation& s, Index load) {
    return s.plan[s.plan.supply_index_of(load)].conductors->lines() == 1;
}

LoopValues explain_loop(Working& working, const Situation& s, Index load, std::optional<Impedance> source) {
    std::vector<Value> resistances, reactances;
    const std::vector<Conductor> conductors = loop_conductors(s, load);
    if (source) {  // line to neutral and back: once between two conductors, half of it in one of three lines
        const Value whole = working.written(to_text(*source, 6));
        resistances.push_back(
            conductors.size() > 1 ? whole : working.add("Z_half", "Z / 2", "{} / 2", {whole}, "ohm"));
    }
    for (const Index at : s.plan.path_to(load)) {
        const BranchLoop loop = loop_through(s.network.branches[at], conductors);
        if (!(magnitude(loop.impedance) > 0.0 * unit::ohm)) continue;
        const auto [r, x] = explain_cable(working, s, at, loop.passes, loop.impedance);
        resistances.push_back(r);
        reactances.push_back(x);
    }
    const auto sum = [&](std::string symbol, std::vector<Value>& parts) {
        if (parts.empty()) return working.written("0 ohm");
        if (parts.size() == 1) return parts.front();
        std::string pattern = "{}";
        for (std::size_t i = 1; i < parts.size(); ++i) pattern += " + {}";
        return working.add(std::move(symbol), "sum over the way", pattern, parts, "ohm");
    };
    const Value resistance = sum("R_loop", resistances);
    return {resistance, sum("X_loop", reactances)};
}

Value explain_volts_left(Working& working, const Situation& s, const std::vector<Index>& running, Index load,
                         network::Pair between, std::optional<Impedance> source) {
    if (!one_loop(s, load))
        return explain_pair(working, s, load, between, running_flows(working, s, running), source);
    DropLines lines(working, s, running, load);
    lines.work(network::nominal_between(s.plan.supply_of(load),
                                        s.plan[load].conductors.value_or(plan::Conductors{})),
               source);
    return lines.left_at_load;
}

Explanation explain_drop(const Situation& s, const Outcome& outcome, const Limit& limit) {
    const Index load = outcome.at.index;
    const plan::Element& element = s.plan[load];
    const Voltage nominal =
        network::nominal_between(s.plan.supply_of(load), element.conductors.value_or(plan::Conductors{}));
    const Evaluated evaluated = evaluate(s, limit, set_of(s.plan, outcome.set).loads);
    if (outcome.verdict == Verdict::cannot_judge && evaluated.unknown != plan::nowhere)
        return ask_for_plate(s, outcome, evaluated.unknown);
    if (outcome.verdict == Verdict::cannot_judge && evaluated.no_resistance != plan::nowhere) {
        const Index at = evaluated.no_resistance;
        const plan::Element& cable = s.plan[at];
        const std::string path = cable.cable ? cable.path() + ".cable.stock" : cable.path() + ".cable";
        return ask_for_rating(s, outcome, cable.cable ? cable_place(cable) : cable.header, path,
                              "What is " + words(s, at_element(at), Part::cable) +
                                  " made of? No table here gives its resistance",
                              "printed along the sheath; or a meter's line impedance at the outlet");
    }
    const bool volts = std::holds_alternative<Voltage>(outcome.value);
    const Measure bound =
        outcome.verdict == Verdict::fail || std::holds_alternative<std::monostate>(outcome.caution)
            ? outcome.edge
            : outcome.caution;

    Explanation e;
    const std::string name = element.words();
    const std::string lost = where_it_is_lost(s, load);
    if (volts)
        e.headline = fmt::format("{}: {} gets {}{}; it needs {}", set_words(s, outcome.set), name,
                                 to_text(outcome.value), lost, to_text(bound));
    else
        e.headline =
            fmt::format("{}: {} of the voltage is lost on the way to {}{}; the recommended limit is {}",
                        set_words(s, outcome.set), to_text(outcome.value), name, lost, to_text(bound));
    e.place = {element.header, "drop is counted from " + source_place(s, load) + " to here"};

    Working working;
    const bool nothing_left = volts ? !(number(outcome.value) > 0) : number(outcome.value) >= 100;
    if (nothing_left || !evaluated.between) {
        working.note("At these amps more would be lost than there is: see volts.collapse.");
    } else {
        std::optional<DropLines> lines;
        if (one_loop(s, load)) lines.emplace(working, s, evaluated.loads, load);
        if (lines) lines->work(nominal);
        const Value left =
            lines ? lines->left_at_load
                  : explain_volts_left(working, s, evaluated.loads, load, *evaluated.between, {});
        if (evaluated.arithmetic)
            working.note(
                "A power factor that is not known counts as 1: through a cable, most of which is resistance, "
                "such amps lose the most.");
        if (volts)
            working.compare(left, number(outcome.value) < number(bound) * (1 - rounding) ? "<" : ">=",
                            working.computed(number(bound), "V"));
        else
            compare_share(working, explain_share(working, nominal, left), outcome, bound);
        // On several lines the neutral is shared: there is no one cable to work again.
        if (lines && (outcome.verdict == Verdict::fail || outcome.verdict == Verdict::caution))
            add_cooler_total(working, s, outcome, nominal, *lines, load);
    }
    e.steps = working.finish();
    if (outcome.verdict == Verdict::cannot_judge || depends_on_a_run(outcome, evaluated)) {
        const auto unknown = network::unknown_branches(s.plan, s.network, load);
        const std::string path = unknown.empty() ? "" : s.plan[unknown.front()].path() + ".cable.length";
        e.headline = fmt::format(
            "{}: {}{}; with a house run of up to {} it would be {}; {} {}", set_words(s, outcome.set),
            volts ? fmt::format("{} gets {}", name, to_text(outcome.value))
                  : fmt::format("{} of the voltage is lost on the way to {}", to_text(outcome.value), name),
            lost, to_text(s.tables.table("thresholds")->length("unknown_run_most")->value),
            to_text(evaluated.at_worst), volts ? "it needs" : "the recommended limit is", to_text(bound));
        e.short_words = "the voltage at " + name + " depends on the house run";
        e.consequence = "Whether that is too much depends on that run.";
        e.questions.push_back({path,
                               "How long is the run from " + source_place(s, load) +
                                   " to the wall outlet, and of what section?",
                               "a tape measure along its way, the plan of the house, or a meter's line "
                               "impedance at the outlet"});
        return e;
    }
    if (outcome.verdict != Verdict::ok) add_remedies(s, e, load);
    return e;
}

}  // namespace benchfeed::rules
