// heat.section-below-minimum: cables thinner than their use allows, whatever they carry.
#include <fmt/format.h>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/iec_52_2.hpp>
#include <benchfeed/figures/iec_60204_1.hpp>
#include <benchfeed/figures/nec_310_3.hpp>
#include <benchfeed/figures/nec_430_72_b.hpp>
#include <benchfeed/figures/outlet_run_sections.hpp>
#include <benchfeed/figures/outlet_run_sections_us.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::section_below_minimum {
namespace {

using network::Place;

enum Variant : std::uint8_t {
    thick_enough,
    fixed_too_thin,
    run_too_thin,
    small_run,
    ask_device,
    control_too_thin
};

/// The least sections of a family: of fixed wiring by its metal, of cords that end in an outlet.
struct Least {
    tables::Figure<Section> fixed, run, any_device;
    tables::Figure<Current> small_device;
};

Least least_of(const Situation& s, const plan::Stock& stock) {
    const tables::Catalogue& t = s.tables;
    if (!s.nec()) {
        using Runs = figures::outlet_run_sections;
        return {figures::iec_52_2::fixed(t), Runs::least(t), Runs::any_device(t), Runs::small_device(t)};
    }
    using Runs = figures::outlet_run_sections_us;
    const bool copper = stock.conductor.is(plan::Metal::copper);
    return {copper ? figures::nec_310_3::fixed(t) : figures::nec_310_3::fixed_aluminium(t), Runs::least(t),
            Runs::any_device(t), Runs::small_device(t)};
}

/// The device that ends an overload of the cable, upstream or at its far end; of both the smaller.
std::optional<Current> device_of(const Situation& s, Index i, bool* undecided_device) {
    const auto search = network::overload_guard(s.plan, s.tables, i, Place::cable);
    const auto end = network::guard_at_far_end(s.plan, s.tables, i, Place::cable);
    *undecided_device = search.undecided || !search.found;
    std::optional<Current> rating = search.found ? search.found->rating : std::nullopt;
    if (end && end->rating && (!rating || *end->rating < *rating)) rating = end->rating;
    return rating;
}

Outcome judge_run(const Situation& s, Index i, const Section& section, const Least& least) {
    Outcome o;
    o.at = at_element(i);
    o.part = Part::cable;
    o.basis = Basis::practice;
    o.ground.grade = least.any_device.source.grade;
    if (!thinner(section, least.any_device.value)) return o;
    if (thinner(section, least.run.value)) {
        o.verdict = Verdict::fail;
        o.variant = run_too_thin;
        return o;
    }
    bool open = false;
    const auto device = device_of(s, i, &open);
    o.variant = small_run;
    o.edge = least.small_device.value;
    if (device && !above(*device, least.small_device.value)) {
        o.value = *device;
        o.verdict = Verdict::caution;
        return o;
    }
    if (!device || open) return undecided(at_element(i), Part::cable, ask_device);
    o.value = *device;
    o.verdict = Verdict::fail;
    return o;
}

/// The least section of a control circuit outside an enclosure. From memory: it fails and says no ok.
tables::Figure<Section> least_of_control(const Situation& s) {
    return s.nec() ? figures::nec_430_72_b::control_least(s.tables)
                   : figures::iec_60204_1::control_least(s.tables);
}

void judge_control(const Situation& s, Index i, Yield& yield) {
    const Index stock = s.plan[i].cable->stock_index;
    const auto least = least_of_control(s);
    if (stock == plan::nowhere || !s.plan.stocks[stock].section.known()) return;
    if (!thinner(*s.plan.stocks[stock].section, least.value)) return;
    Outcome o;
    o.at = at_element(i);
    o.part = Part::cable;
    o.basis = Basis::standard;
    o.verdict = Verdict::fail;
    o.variant = control_too_thin;
    yield.outcomes.push_back(o);
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& e = s.plan[i];
        if (!e.cable || as_sold(s, i)) continue;
        if (carries_coils_alone(s, i)) {
            judge_control(s, i, yield);
            continue;
        }
        const plan::Stock& stock = s.plan.stocks[e.cable->stock_index];
        const auto least = least_of(s, stock);
        if (!stock.section.known()) continue;
        if (is_cord(s, stock)) {
            if (feeds_outlets(s, i)) yield.outcomes.push_back(judge_run(s, i, *stock.section, least));
            continue;
        }
        Outcome o;
        o.at = at_element(i);
        o.part = Part::cable;
        o.basis = Basis::standard;
        o.ground.grade = least.fixed.source.grade;
        if (thinner(*stock.section, least.fixed.value)) {
            o.verdict = Verdict::fail;
            o.variant = fixed_too_thin;
        }
        yield.outcomes.push_back(o);
    }
    return yield;
}

Explanation explain_undecided(const Situation& s, const Outcome& o) {
    const auto search = network::overload_guard(s.plan, s.tables, o.at.index, Place::cable);
    const bool somebody = search.asked != plan::nowhere;  // else no device is in the plan at all
    const plan::Element& asked = s.plan[somebody ? search.asked : o.at.index];
    const std::string_view field = !somebody ? ".from" : search.asked_fuse ? ".fuse" : ".rating";
    return ask_for_rating(s, o, asked.header, asked.path() + std::string(field),
                          "Which device is before " + words(s, o.at, Part::cable) +
                              "? So thin a cord may feed outlets only behind a small one",
                          search.asked_fuse ? "printed on the fuse: open the plug"
                          : somebody        ? "printed on the front of the device"
                                     : on_source(s, o.at.index) + ": its rating is printed on the front");
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    if (o.variant == ask_device) return explain_undecided(s, o);
    const plan::Element& element = s.plan[o.at.index];
    const plan::Stock& stock = s.plan.stocks[element.cable->stock_index];
    const bool cord = is_cord(s, stock);
    const std::string what = words(s, o.at, Part::cable), section = section_text(*stock.section);
    const bool control = o.variant == control_too_thin;
    // A control circuit is judged by its own table, whether or not there are those of other runs.
    const Least least = least_of(s, stock);
    const tables::Figure<Section> figure = control                     ? least_of_control(s)
                                           : !cord                     ? least.fixed
                                           : o.variant == run_too_thin ? least.run
                                                                       : least.any_device;
    Explanation e;
    e.place = {cable_place(element), "of " + section};
    e.related.push_back({stock.section.span, ""});
    e.sources.push_back(figure.source);
    Working working;
    const auto area = [&](const Section& of) { return working.computed(in(unit::mm2, of.area), "mm2"); };
    working.compare(stock.section->gauge ? area(*stock.section) : working.written(section),
                    o.verdict == Verdict::ok ? ">=" : "<",
                    figure.value.gauge ? area(figure.value) : working.written(section_text(figure.value)),
                    {network::cited(figure.source)});
    if (o.variant == small_run) {
        const Value device = working.written(to_text(std::get<Current>(o.value)));
        working.compare(device,
                        o.verdict == Verdict::fail ? ">" : "<=", working.written(least.small_device.written),
                        {network::cited(least.small_device.source)});
        e.sources.push_back(least.small_device.source);
    }
    e.steps = working.finish();
    if (rests_on_memory(o) || (o.verdict == Verdict::cannot_judge))
        return rests_on_memory_words(s, o, e.place.span, e.sources);
    if (o.verdict == Verdict::ok) {
        e.headline =
            fmt::format("{} ({}) is not below the least section for its use", capital(what), section);
        return e;
    }

    e.consequence = "A core so thin breaks, loosens in its terminal and heats long before a device acts.";
    if (o.variant == small_run) {
        const std::string device = to_text(std::get<Current>(o.value));
        e.short_words = fmt::format("{} ({}) is too thin to feed an outlet behind {}", what, section, device);
        e.headline =
            fmt::format("{} of {} ends in an outlet, behind a device of {}", capital(what), section, device);
        e.headline += o.verdict == Verdict::fail ? fmt::format("; so thin a cord belongs behind {} at most",
                                                               to_text(least.small_device.value))
                                                 : "; right only as long as no larger one is fitted";
    } else {
        e.short_words =
            fmt::format("{} ({}) is too thin: at least {}", what, section, section_text(figure.value));
        e.headline = fmt::format("{} of {} is thinner than the least for {}, {}", capital(what), section,
                                 control ? "a control circuit outside an enclosure"
                                 : cord  ? "a cord that ends in an outlet"
                                         : "fixed wiring",
                                 section_text(figure.value));
    }
    e.remedies = {{cost_at(s, o.at.index, Cost::cheap),
                   fmt::format("a cable of at least {}, or what the overload rules ask for",
                               section_text(cord && !control ? least.any_device.value : figure.value))}};
    return e;
}

}  // namespace

const Rule rule{.id = "heat.section-below-minimum",
                .title = "a cable is thinner than its use allows",
                .harm = Harm::heat,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::own},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::section_below_minimum
