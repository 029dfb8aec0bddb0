// heat.source-overloaded: a set draws more than the generator or inverter that feeds it gives for hours. It
// is a limit for load alone: no conductor is protected by it, and no fault is switched off.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/supplies.hpp>

namespace benchfeed::rules::source_overloaded {
namespace {

constexpr std::uint8_t by_amps = 0, by_power = 1;

/// The lowest power factor that a load of this supply may have: with it a power in W gives the most amps.
Ratio least_power_factor(const Situation& s, Index supply) {
    Ratio least = 1.0 * unit::one;
    for (const network::LoadPoint& load : s.network.loads)
        if (s.network.hangs_below(load.element, supply)) least = std::min(least, load.least_power_factor);
    return least;
}

/// The highest: with it they give the fewest.
Ratio most_power_factor(const Situation& s, Index supply) {
    Ratio most = 0.0 * unit::one;
    for (const network::LoadPoint& load : s.network.loads)
        if (s.network.hangs_below(load.element, supply)) most = std::max(most, load.power_factor);
    return most;
}

Ratio factor_of(const Situation& s, Index supply, const SourceAmps& source) {
    return source.active() ? least_power_factor(s, supply) : 1.0 * unit::one;
}

/// `doubt`: beyond it, short of the edge, watts and winding may bear it or not.
void add_limit(Yield& yield, Index supply, const SourceAmps& source, std::uint8_t variant, Ratio factor,
               Measure doubt) {
    Limit limit;
    limit.at = at_element(supply);
    limit.reach = {Reach::Kind::through, supply};
    limit.edge = Current(source.amps / factor);
    limit.basis = Basis::marking;
    limit.variant = variant;
    limit.doubt = std::move(doubt);
    yield.limits.push_back(limit);
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* supply = s.plan[i].as<plan::Supply>();
        if (!supply || !is_own_source(s, i)) continue;
        const auto hours = amps_for_hours(s, i), power = power_for_hours(s, i);
        if (!hours) {
            yield.outcomes.push_back(undecided(at_element(i), Part::whole));
            continue;
        }
        if (supply->current.known()) add_limit(yield, i, *hours, by_amps, 1.0 * unit::one, {});
        if (!power) continue;
        Measure doubt;
        // What the winding bears is not known, or the amps are; then watts alone decide.
        if (power->active())
            doubt = supply->current.known() ? Current(power->amps / most_power_factor(s, i)) : power->amps;
        add_limit(yield, i, *power, by_power, factor_of(s, i, *power), doubt);
    }
    return yield;
}

Explanation ask_for_power(const Situation& s, const Outcome& o) {
    const plan::Element& supply = s.plan[o.at.index];
    return ask_for_rating(
        s, o, supply.header, supply.path() + ".power",
        fmt::format("What does {} give for hours, in VA, W or A?", source_place(s, o.at.index)),
        "its plate or manual: rated, continuous or COP; the larger figure beside it is its peak");
}

/// More amps than its watts are at a power factor of 1, and no more watts than it has.
Explanation ask_for_amps(const Situation& s, const Outcome& o, const SourceAmps& source) {
    const plan::Element& supply = s.plan[o.at.index];
    const auto& power = supply.as<plan::Supply>()->power;
    Explanation e = ask_for_rating(
        s, o, place_of(power, supply), supply.path() + ".current",
        fmt::format("{}: {} are drawn. How many amps or VA does {} give for hours? Its {} are {} at a power "
                    "factor of 1, and what its winding withstands is not known",
                    set_words(s, o.set), to_text(o.value), source_place(s, o.at.index), plate_words(source),
                    to_text(source.amps)),
        "its plate or manual: VA, kVA or A beside the W");
    return e;
}

/// Fewer amps than its watts give at the lowest power factor of the loads, and more than at the highest.
Explanation ask_for_watts(const Situation& s, const Outcome& o, const SourceAmps& source) {
    const plan::Element& supply = s.plan[o.at.index];
    const auto& loads = set_of(s.plan, o.set).loads;
    const auto open = std::find_if(loads.begin(), loads.end(), [&](Index load) {
        return !s.network.loads[s.network.load_of[load]].power_factor_known;
    });
    const std::string drawn = fmt::format("{}: {} are drawn from {}, which gives {}", set_words(s, o.set),
                                          to_text(o.value), source_place(s, o.at.index), plate_words(source));
    const Span& place = place_of(supply.as<plan::Supply>()->power, supply);
    if (open == loads.end())
        return ask_for_rating(s, o, place, "", drawn + ". Do the watts of these tools add up to more?",
                              "the watts on their plates");
    return ask_for_rating(
        s, o, place, s.plan[*open].path() + ".plate.power_factor",
        fmt::format("{}. What power factor (cos phi), or how many watts, are on the plate of {}?", drawn,
                    s.plan[*open].words()),
        "its plate");
}

Explanation explain(const Situation& s, const Outcome& o, const Limit* limit) {
    const Index at = o.at.index;
    if (!limit) return ask_for_power(s, o);
    const plan::Element& supply = s.plan[at];
    const auto& what = *supply.as<plan::Supply>();
    const SourceAmps source = o.variant == by_amps ? *amps_for_hours(s, at) : *power_for_hours(s, at);
    const auto& drawn = std::get<Current>(o.value);
    if (o.verdict == Verdict::cannot_judge && source.active() && !above(drawn, std::get<Current>(o.edge)) &&
        evaluate(s, *limit, set_of(s.plan, o.set).loads).unknown == plan::nowhere)
        return what.current.known() ? ask_for_watts(s, o, source) : ask_for_amps(s, o, source);
    OverloadWords words;
    words.rating = to_text(std::get<Current>(o.edge), 6);
    words.place = o.variant == by_amps ? place_of(what.current, supply) : place_of(what.power, supply);
    words.source_plate = source;
    words.at_factor = factor_of(s, at, source);
    Explanation e = explain_overload(s, o, *limit, words);
    if (o.verdict == Verdict::cannot_judge) return e;
    e.headline = fmt::format("{}: {} are drawn from {}, which gives {} for hours ({})", set_words(s, o.set),
                             to_text(o.value), source_place(s, at), to_text(o.edge), plate_words(source));
    e.short_words = fmt::format("{} gives {} for hours, and {} are drawn", source_place(s, at),
                                to_text(o.edge), value_words(o));
    if (o.verdict != Verdict::fail) return e;
    e.consequence =
        "It sags, heats and stalls, and its volts harm tools; it does not trip in time, for it is no "
        "breaker.";
    e.remedies.push_back({Cost::moderate, fmt::format("or a {} that gives at least {} for hours",
                                                      what.source.word(), to_text(o.value))});
    return e;
}

}  // namespace

const Rule rule{.id = "heat.source-overloaded",
                .title = "a set draws more than its generator or inverter gives",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::source_overloaded
