#include <benchfeed/rules/overload.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/circuits.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/open_words.hpp>

namespace benchfeed::rules {

using network::LoadPoint;

std::vector<Index> loads_of(const Situation& s, const Outcome& outcome, const Limit& limit) {
    return evaluate(s, limit, set_of(s.plan, outcome.set).loads).loads;
}

Explanation ask_for_plate(const Situation& s, const Outcome& outcome, Index load) {
    const plan::Element& element = s.plan[load];
    return ask_for_rating(s, outcome, element.header, element.path() + ".plate",
                          "What does " + element.words() + " draw?",
                          "amps or watts on its plate, often underneath");
}

Explanation ask_whether_it_catches(const Situation& s, const Outcome& outcome, Index index) {
    const plan::Element& load = s.plan[index];
    const auto& fields = *load.as<plan::Load>();
    if (!fields.latched.known()) {
        const Question asked = question_of(s, {plan::Fact::latched, index});
        return ask_for_rating(s, outcome, place_of(fields.latched, load), asked.path, asked.ask, asked.look);
    }
    return ask_for_rating(s, outcome, place_of(fields.cutter, load), load.path() + ".cutter",
                          "Can " + load.words() + " cut or catch somebody when it starts?",
                          "what turns, and who works there");
}

bool rests_on_memory(const Outcome& outcome) {
    return outcome.verdict == Verdict::cannot_judge && outcome.limit != plan::nowhere &&
           !outcome.ground.carries_ok();
}

Explanation ask_for_rating(const Situation&, const Outcome&, Span place, std::string path, std::string ask,
                           std::string look) {
    Explanation e;
    e.headline = ask;
    e.short_words = ask;
    e.place = {place, ""};
    e.questions.push_back({std::move(path), std::move(ask), std::move(look)});
    return e;
}

Explanation rests_on_memory_words(const Situation&, const Outcome& o, Span place,
                                  std::vector<tables::Citation> sources) {
    Explanation e;
    std::string table = "the printed table";
    for (const auto& source : sources)
        if (source.grade == tables::Grade::memory)
            table = std::string(source.source) + " " + std::string(source.place);
    e.headline = o.ground.substituted
                     ? "The table ends before this: its last printed row is used, and that can only warn"
                     : "The figure behind this is from memory: look it up in " + table;
    e.short_words = "a figure has to be looked up in " + table;
    e.consequence =
        "It would be within the limit, but a figure that nobody has verified is not enough to call it in "
        "order.";
    e.place = {place, ""};
    e.sources = std::move(sources);
    e.questions.push_back(
        {"", "What figure does " + table + " print?", "a copy of the standard, or an electrician"});
    return e;
}

namespace {

/// The amps of the loads of a sum, each with its weight, as operands of a line.
struct Terms {
    std::vector<Index> loads;
    std::vector<Value> amps;
    std::vector<double> weights;

    /// "7 A + 1.25 * 5 A", each term followed by `each`, which may take one operand more.
    Value add(Working& working, const std::string& symbol, const std::string& formula,
              const std::string& each, const std::vector<Value>& more) const {
        std::string pattern;
        std::vector<Value> operands;
        for (std::size_t i = 0; i < amps.size(); ++i) {
            if (i > 0) pattern += " + ";
            if (weights[i] != 1.0) pattern += digits(weights[i], 3) + " * ";
            pattern += "{}" + each;
            operands.push_back(amps[i]);
            if (!each.empty()) operands.push_back(more[i]);
        }
        return working.add(symbol, formula, pattern, operands, "A");
    }
};

std::string names_of(const Situation& s, const Terms& terms) {
    std::string out;
    for (std::size_t i = 0; i < terms.loads.size(); ++i) {
        if (i > 0) out += " + ";
        if (terms.weights[i] != 1.0) out += digits(terms.weights[i], 3) + " * ";
        out += s.plan[terms.loads[i]].name;
    }
    return out;
}

/// Every power factor is known, and one is below 1: currents add as phasors.
bool adds_as_phasors(const Situation& s, const std::vector<Index>& loads) {
    bool below_one = false;
    for (const Index load : loads) {
        const LoadPoint& point = s.network.loads[s.network.load_of[load]];
        if (!point.power_factor_known) return false;
        below_one = below_one || in(unit::one, point.power_factor) < 1;
    }
    return below_one && loads.size() > 1;
}

Value phasor_sum(Working& working, const Situation& s, const Terms& terms, const std::string& symbol) {
    std::vector<Value> factors;
    for (const Index load : terms.loads)
        factors.push_back(
            working.computed(in(unit::one, s.network.loads[s.network.load_of[load]].power_factor), ""));
    const Value active = terms.add(working, symbol + "_re", "sum of I * pf", " * {}", factors);
    const Value lagging =
        terms.add(working, symbol + "_lag", "sum of I * sin(phi)", " * sqrt(1 - {} ^ 2)", factors);
    const Value sum = working.add(symbol, names_of(s, terms) + " as phasors", "sqrt({} ^ 2 + {} ^ 2)",
                                  {active, lagging}, "A");
    double plain = 0;
    for (std::size_t i = 0; i < terms.amps.size(); ++i)
        plain += terms.weights[i] * working.exact(terms.amps[i]);
    if (plain > 1.02 * working.exact(sum)) {  // a reader who adds plate amps should find his sum here
        const Value added =
            terms.add(working, symbol + "_added", names_of(s, terms) + " as they are", "", {});
        working.compare(added, ">", sum, {"not all at the same angle: the phasor sum is what flows"});
    }
    return sum;
}

}  // namespace

Value sum_of(Working& working, const Situation& s, const std::vector<Index>& loads, const std::string& symbol,
             const Limit* limit) {
    Terms terms;
    for (const Index load : loads) {
        const network::LoadCurrent found =
            network::load_current(s.plan, s.tables, s.practice(), load, s.network.plate_end);
        terms.loads.push_back(load);
        terms.amps.push_back(network::explain_current(working, s.plan, found, load));
        terms.weights.push_back(
            limit ? in(unit::one, limit->weight.of(s.network.loads[s.network.load_of[load]])) : 1.0);
    }
    if (loads.empty()) return working.written("0 A");
    Value sum = terms.amps.front();
    if (limit && adds_as_phasors(s, loads))
        sum = phasor_sum(working, s, terms, symbol);
    else if (loads.size() > 1 || terms.weights.front() != 1.0)
        sum = terms.add(working, symbol, names_of(s, terms), "", {});
    if (limit && in(unit::ampere, limit->base) > 0)
        sum = working.add(symbol + "_all", symbol + " + other load", "{} + {}",
                          {sum, working.written(to_text(limit->base, 6))}, "A");
    return sum;
}

namespace {

/// "the saw, the extractor and the lamp draw"
std::string who_draws(const Situation& s, const std::vector<Index>& loads) {
    return list(s, loads) + (loads.size() == 1 ? " draws " : " draw ");
}

/// The limit as marked; a mark in watts is divided by the volts first.
Value bound_of(Working& working, const Situation& s, const Outcome& outcome, const OverloadWords& w,
               Current most) {
    if (w.source_plate) return explain_source_amps(working, *w.source_plate, w.at_factor);
    if (!w.watts) return working.written(w.rating.empty() ? to_text(most, 6) : w.rating);
    const Voltage volts = network::nominal_between(
        s.plan.supply_of(outcome.at.index), s.plan[outcome.at.index].conductors.value_or(plan::Conductors{}));
    return working.add("limit", "P / U", "{} / {}",
                       {working.written(to_text(*w.watts, 6)), working.written(to_text(volts, 6))}, "A");
}

}  // namespace

void allow_by_code(const Situation& s, const Outcome& outcome, OverloadWords& words) {
    if (outcome.basis != Basis::standard) return;
    const Index at = outcome.part == Part::plug ? s.plan[outcome.at.index].parent : outcome.at.index;
    words.allowed = receptacle_load(s, outcome.at.index, outcome.part);
    if (words.allowed) words.receptacle = to_text(*outlet_rating(s, at).current);
}

bool by_code(const Outcome& outcome, const OverloadWords& words) {
    return outcome.verdict == Verdict::caution && outcome.basis == Basis::standard && words.allowed;
}

Explanation explain_overload(const Situation& s, const Outcome& outcome, const Limit& limit,
                             const OverloadWords& w) {
    const std::string what = words(s, outcome.at, outcome.part);
    const Evaluated evaluated = evaluate(s, limit, set_of(s.plan, outcome.set).loads);
    if (outcome.verdict == Verdict::cannot_judge && evaluated.unknown != plan::nowhere)
        return ask_for_plate(s, outcome, evaluated.unknown);
    const std::vector<Index>& loads = evaluated.loads;
    const auto* edge = std::get_if<Current>(&outcome.edge);
    const auto* caution = std::get_if<Current>(&outcome.caution);
    const bool by_caution = outcome.verdict == Verdict::caution && caution && in(unit::ampere, *caution) > 0;
    const Current most = edge ? *edge : caution ? *caution : 0.0 * unit::ampere;
    const Current drawn = std::get<Current>(outcome.value);
    const std::string of = w.limit_words.empty() ? "" : " " + w.limit_words;
    const std::string rating = edge ? w.rating : "";  // without an edge the caution's own figure is the limit

    Explanation e;
    e.headline = fmt::format("{}: {}{} through {}, which is made for {}{}", set_words(s, outcome.set),
                             who_draws(s, loads), to_text(drawn), what, to_text(most), of);
    e.place = {w.place, "made for " + (rating.empty() || w.watts ? to_text(most) : rating) + of};
    e.short_words =
        fmt::format("{} carries {} and is made for {}{}", what, value_words(outcome), to_text(most), of);
    const bool code = by_caution && by_code(outcome, w);
    if (code) {
        e.headline = fmt::format("{}: {}{} through {}; the code allows {} on a receptacle of {}",
                                 set_words(s, outcome.set), who_draws(s, loads), to_text(drawn), what,
                                 to_text(w.allowed->value), w.receptacle);
        e.short_words = fmt::format("{} carries {}; the code allows {} on a receptacle of {}", what,
                                    value_words(outcome), to_text(w.allowed->value), w.receptacle);
    }

    if (const Current flows = plain_amps(s, limit, loads); above(drawn, flows)) {
        const std::string counted =
            fmt::format("counted as {} (loads that run for hours x {})", to_text(drawn),
                        digits(in(unit::one, limit.weight.hours_factor), 3));
        e.headline = fmt::format("{}: {}{} through {}, {}; it is made for {}{}", set_words(s, outcome.set),
                                 who_draws(s, loads), to_text(flows), what, counted, to_text(most), of);
        e.short_words = fmt::format("{} carries {}, {}, and is made for {}{}", what, to_text(flows), counted,
                                    to_text(most), of);
    }

    Working working;
    Value sum = sum_of(working, s, loads, "I", &limit);
    const double printed = working.exact(sum), carried = in(unit::ampere, drawn);
    if (std::abs(printed - carried) > 1e-3 * std::max(printed, carried)) {
        working.note(
            "Loads between different lines: their currents add as phasors, worked conductor by conductor in "
            "the network, of every subset the worst.");
        sum = working.computed(carried, "A");
    }
    OverloadWords shown = w;
    shown.rating = rating;
    if (code) {
        working.compare(sum, ">", working.written(w.allowed->written), {network::cited(w.allowed->source)});
        e.sources.push_back(w.allowed->source);
        if (edge && w.source) {  // it is no fail because of this one
            working.compare(sum, "<=", working.written(to_text(most, 6)), {network::cited(*w.source)});
            e.sources.push_back(*w.source);
        }
        e.steps = working.finish();
        return e;
    }
    const Value bound = bound_of(working, s, outcome, shown, most);
    const std::vector<std::string> source =
        w.source && edge ? std::vector<std::string>{network::cited(*w.source)} : std::vector<std::string>{};
    const bool exceeds = above(drawn, most);
    working.compare(sum, exceeds ? ">" : "<=", bound, source);
    if (edge && in(unit::ampere, *edge) > 0) {
        const Value share = working.add("share", "I / limit", "{} / {}", {sum, bound}, "%");
        if (by_caution) {
            const std::string attention = to_text(Ratio(*caution / *edge), 3);
            working.compare(share, ">", working.written(attention),
                            {"common practice: above that it works without margin"});
        }
    }
    e.steps = working.finish();
    if (w.source && edge) e.sources.push_back(*w.source);
    if (rests_on_memory(outcome)) {
        const Explanation memory = rests_on_memory_words(s, outcome, w.place, e.sources);
        e.consequence = memory.consequence;
        e.questions = memory.questions;
        e.short_words = memory.short_words;
        return e;
    }
    if (outcome.verdict == Verdict::fail) {
        if (auto remedy = leave_one_out(s, limit, outcome.set)) e.remedies.push_back(std::move(*remedy));
        const bool device =
            s.plan[outcome.at.index].kind == plan::Kind::device && outcome.part == Part::whole;
        if (!device && !w.source_plate && outcome.part != Part::cable && !w.names_the_part &&
            !inside_a_machine(s, outcome.at.index))
            e.remedies.push_back({cost_at(s, outcome.at.index, Cost::cheap),
                                  "or a part that is made for at least " + to_text(drawn) +
                                      ", if the device before it holds no more"});
        if (!w.source_plate && (loads.size() > 1 || device))
            e.remedies.push_back({Cost::electrician,
                                  "or a second circuit, with its own plug and cord, for part of the bench"});
    }
    return e;
}

bool nothing_trips(const Situation& s, const Outcome& outcome) {
    const auto place = outcome.part == Part::plug    ? network::Place::plug
                       : outcome.part == Part::inlet ? network::Place::inlet
                                                     : network::Place::whole;
    const auto search = network::overload_guard(s.plan, s.tables, outcome.at.index, place);
    const auto end = network::guard_at_far_end(s.plan, s.tables, outcome.at.index, place);
    const Current drawn = std::get<Current>(outcome.value);
    const auto holds = [&](const network::Guard& guard) {
        // What a device holds for an hour or for ever: 1.13 In of an IEC breaker, 1.6 In of a plug fuse; of
        // the others no more than the rating is counted on.
        const tables::Table* table = guard.plug_fuse ? s.tables.table("bs-1362")
                                     : s.nec()       ? nullptr
                                                     : s.tables.table("iec-60898-times");
        const auto share =
            table ? table->ratio(std::string_view(guard.plug_fuse ? "non_fusing" : "non_tripping"))
                  : std::nullopt;
        return !above(drawn, share ? Current(*guard.rating * share->value) : *guard.rating);
    };
    if (end) return holds(*end);
    return !search.found || holds(*search.found);
}

void explain_demand(Working& working, const Outcome& o, const Demanded& demand, Value capacity,
                    Value rating) {
    std::vector<std::string> sources;
    if (demand.source) sources.push_back(network::cited(*demand.source));
    const bool too_large = above(std::get<Current>(o.value), std::get<Current>(o.edge));
    if (demand.printed_limit && (demand.by_row_alone || *demand.printed_limit <= std::get<Current>(o.edge))) {
        working.compare(rating, too_large ? ">" : "<=", working.written(to_text(*demand.printed_limit, 6)),
                        sources);
        return;
    }
    if (in(unit::one, demand.share) != 1.0) {
        const Value share = working.written(digits(in(unit::one, demand.share), 3));
        const Value most = working.add("In max", "share * Iz", "{} * {}", {share, capacity}, "A", sources);
        working.compare(rating, too_large ? ">" : "<=", most);
        return;
    }
    working.compare(rating, too_large ? ">" : "<=", capacity, sources);
}

}  // namespace benchfeed::rules
