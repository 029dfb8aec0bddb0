// heat.cable-unprotected: the device lets more through than the cable carries.
// How In must stand to Iz depends on the device: table device-functions names the rule.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/device_demand.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/upstream.hpp>
#include <benchfeed/rules/wired_motor.hpp>

namespace benchfeed::rules::cable_unprotected {
namespace {

using network::Ampacity;
using network::Guard;
using network::Place;

enum Variant : std::uint8_t {
    covered,
    too_large,
    gg_band,
    at_far_end,
    single_load,
    guidance_only,
    device_unknown,
    plug_fuse_row,
    control_too_large,
    control_of_motor,
    ask_motor,
    control_inside
};

/// The one load behind a cable that limits its own current: a heater cannot overload, a motor has its own
/// protection. Nowhere: there is none.
Index one_limited_load(const Situation& s, Index i) {
    const Index at = one_load_behind(s, i);
    if (at == plan::nowhere) return at;
    const auto* load = s.plan[at].as<plan::Load>();
    const bool limited = load->kind.is(plan::LoadKind::heater) || load->overload.is(plan::OwnReset::hand) ||
                         load->overload.is(plan::OwnReset::self);
    return limited ? at : plan::nowhere;
}

/// A motor's own branch circuit, wired from its device: elsewhere the device is that of the circuit.
bool is_own_motor_branch(const Situation& s, Index load, const Guard& guard) {
    return s.nec() && !guard.plug_fuse && !s.plan[load].as<plan::Load>()->kind.is(plan::LoadKind::heater) &&
           !behind_a_plug(s, load) && loads_below(s, guard.element).size() == 1;
}

/// A device above the ampacity before one load that limits its own current. NEC 240.4(G): a motor's device
/// follows the article on motors, and that has an end too.
void judge_single_load(const Situation& s, Outcome& o, Index load, const Guard& guard) {
    o.variant = single_load;
    o.verdict = Verdict::caution;
    if (!is_own_motor_branch(s, load, guard)) return;
    const auto most = largest_motor_device(s, load, guard);
    if (most && !above(*guard.rating, most->most)) return;
    const bool open = !most || most->by_plate;  // the table may give more than the plate does
    o.variant = open ? ask_motor : too_large;
    o.verdict = open ? Verdict::cannot_judge : Verdict::fail;
}

Outcome judge_guarded(const Situation& s, Index i, const Guard& guard, const Ampacity& iz) {
    const Demand demand = demand_of(s, i, guard, iz);
    Outcome o;
    o.at = at_element(i);
    o.part = Part::cable;
    o.basis = iz.cord && !s.nec() ? Basis::physics : Basis::standard;
    o.value = *guard.rating;
    o.edge = largest_device(demand, iz);
    o.ground = {iz.grade, iz.beyond};
    if (demand.source && demand.source->grade < o.ground.grade) o.ground.grade = demand.source->grade;
    if (above(*guard.rating, std::get<Current>(o.edge))) {
        const auto end = network::guard_at_far_end(s.plan, s.tables, i, Place::cable);
        if (end && !above(*end->rating, std::get<Current>(o.edge))) {
            o.variant = at_far_end;  // IEC 60364-4-43 433.2.2: nothing branches off between
            o.verdict = s.nec() ? Verdict::caution : Verdict::ok;
        } else if (const Index load = one_limited_load(s, i); load != plan::nowhere) {
            judge_single_load(s, o, load, guard);
        } else {
            o.variant = too_large;
            o.verdict = Verdict::fail;
        }
    } else if (iz.guidance && above(*guard.rating, iz.with_guidance())) {
        o.variant = guidance_only;
        o.verdict = Verdict::caution;
        o.basis = Basis::recommendation;
    } else if (demand.band &&
               above(in(unit::ampere, *guard.rating), in(unit::ampere, Current(*iz.value * *demand.band)))) {
        o.variant = gg_band;
        o.verdict = s.practice().gg_band_is_ok ? Verdict::ok : Verdict::caution;
    } else if (guard.cable_rule == "bs-1363-cord") {
        o.variant = plug_fuse_row;
    }
    const bool bound_alone = demand.unread && o.verdict != Verdict::fail;
    if (bound_alone || (o.verdict == Verdict::ok && !o.ground.carries_ok()))
        o.verdict = Verdict::cannot_judge;
    return o;
}

/// NEC 430.72(B), column C: the largest device on the control conductors behind a motor's own branch device.
std::optional<tables::Figure<Current>> motor_control_limit(const Situation& s, Index i) {
    const tables::Table* table = s.tables.table("nec-430-72-b");
    const plan::Stock* stock = stock_of(s, i);
    if (!table || !stock || !stock->section.known()) return std::nullopt;
    for (std::size_t row = 0; row < table->rows.size(); ++row) {
        const auto size = table->section(row, "size");
        if (size && size->value == *stock->section) return table->current(row, "max_device");
    }
    return std::nullopt;
}

/// The device feeds motors that are wired without an outlet, and nothing else.
bool is_motor_branch(const Situation& s, Index device) {
    const std::vector<Index> loads = loads_below(s, device);
    return !loads.empty() && !feeds_outlets(s, device) &&
           std::all_of(loads.begin(), loads.end(),
                       [&](Index load) { return s.network.loads[s.network.load_of[load]].motor; });
}

/// Conductors of coils alone. A coil cannot overload them, so outside the NEC only a short circuit is asked
/// about, elsewhere; the NEC asks for a device, and of the motor's own branch circuit a larger one will do.
std::optional<Outcome> judge_control(const Situation& s, Index i) {
    if (!s.nec()) return std::nullopt;
    const network::Search search = network::overload_guard(s.plan, s.tables, i, Place::cable);
    const Ampacity iz = network::ampacity(s.plan, s.tables, s.network, i);
    if (!search.found || search.undecided) return undecided(at_element(i), Part::cable, device_unknown);
    std::optional<Outcome> ordinary;
    if (iz.value) ordinary = judge_guarded(s, i, *search.found, iz);
    const auto column = motor_control_limit(s, i);
    if (ordinary && (ordinary->verdict != Verdict::fail || !column || search.found->plug_fuse ||
                     !is_motor_branch(s, search.found->element)))
        return ordinary;
    if (!column) return undecided(at_element(i), Part::cable, device_unknown);
    Outcome o;
    o.at = at_element(i);
    o.part = Part::cable;
    o.basis = Basis::standard;
    o.value = *search.found->rating;
    o.edge = column->value;
    o.ground.grade = column->source.grade;
    const bool more = above(*search.found->rating, column->value);
    o.verdict = more ? Verdict::fail : Verdict::caution;  // from memory: no ok
    o.variant = more ? control_too_large : control_of_motor;
    return o;
}

/// A contact without a cable of its own, in the box of a motor's branch circuit: 430.72(B) has another column
/// for conductors that stay within the enclosure, which no table here has.
bool is_control_inside(const Situation& s, Index i) {
    const auto* sw = s.plan[i].as<plan::Switch>();
    if (!s.nec() || !sw || !in_control_circuit(*sw) || s.plan[i].cable) return false;
    const network::Search search = network::overload_guard(s.plan, s.tables, i, Place::cable);
    return search.found && !search.undecided && !search.found->plug_fuse &&
           is_motor_branch(s, search.found->element);
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (is_control_inside(s, i)) {
            Outcome o = undecided(at_element(i), Part::whole, control_inside);
            o.fold = fold_of(control_inside, s.plan[i].parent);
            yield.outcomes.push_back(o);
            continue;
        }
        if (s.plan[i].cable && !as_sold(s, i) && carries_coils_alone(s, i)) {
            if (const auto o = judge_control(s, i)) yield.outcomes.push_back(*o);
            continue;
        }
        if (!cable_is_judged(s, i)) continue;
        const Ampacity iz = network::ampacity(s.plan, s.tables, s.network, i);
        if (!iz.value) continue;  // heat.cable-overloaded asks for what is missing: one finding for one cause
        const network::Search search = network::overload_guard(s.plan, s.tables, i, Place::cable);
        if (iz.beyond) {  // no more than this is known: too little is too little, and the rest is asked there
            if (!search.found || search.undecided) continue;
            const Outcome o = judge_guarded(s, i, *search.found, iz);
            if (o.variant == too_large || o.variant == single_load) yield.outcomes.push_back(o);
            continue;
        }
        if (search.found) {
            const Outcome o = judge_guarded(s, i, *search.found, iz);
            // A device that nobody knows stands nearer: it may be the one that saves the cable.
            if (!(search.undecided && o.verdict == Verdict::fail)) {
                yield.outcomes.push_back(o);
                continue;
            }
        }
        const auto end = network::guard_at_far_end(s.plan, s.tables, i, Place::cable);
        if (end && !s.nec() && !above(*end->rating, *iz.value)) {
            Outcome o = judge_guarded(s, i, *end, iz);
            o.variant = at_far_end;
            yield.outcomes.push_back(o);
            continue;
        }
        yield.outcomes.push_back(undecided(at_element(i), Part::cable, device_unknown));
    }
    return yield;
}

Explanation explain_undecided(const Situation& s, const Outcome& o, const Ampacity& iz) {
    const plan::Element& element = s.plan[o.at.index];
    const std::string what = words(s, o.at, Part::cable);
    if (o.variant == ask_motor) {
        const plan::Element& motor = s.plan[one_limited_load(s, o.at.index)];
        return ask_for_rating(s, o, motor.header, motor.path() + ".plate.horsepower",
                              "What is the rated horsepower of " + motor.words() +
                                  "? Its current in the table of motors bounds the device before " + what,
                              "the motor's plate: HP; the peak of an advert does not count");
    }
    if (o.variant == device_unknown) {
        const auto search = network::overload_guard(s.plan, s.tables, o.at.index, Place::cable);
        if (search.asked == plan::nowhere)
            return ask_for_rating(
                s, o, cable_place(element), "device", "Which breaker or fuse is before " + what + "?",
                on_source(s, o.at.index) + ": its rating and letter are printed on the front");
        const plan::Element& device = s.plan[search.asked];
        return ask_for_rating(s, o, device.header, device.path() + (search.asked_fuse ? ".fuse" : ".rating"),
                              search.asked_fuse
                                  ? "Which fuse is in " + words(s, at_element(search.asked), Part::plug) + "?"
                                  : "What is the rating of " + device.words() + "?",
                              "printed on its front, or on the fuse");
    }
    return rests_on_memory_words(s, o, cable_place(element), {iz.base.source});
}

Explanation explain_control(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const auto column = *motor_control_limit(s, o.at.index);
    const Guard guard = *network::overload_guard(s.plan, s.tables, o.at.index, Place::cable).found;
    const plan::Element& device = s.plan[guard.element];
    const bool fails = o.variant == control_too_large;
    Explanation e;
    e.place = {cable_place(element), ""};
    e.related.push_back({place_of(device.as<plan::Device>()->rating, device),
                         capital(device.words()) + " holds " + to_text(*guard.rating)});
    e.sources.push_back(column.source);
    Working working;
    working.compare(working.written(to_text(*guard.rating, 6)),
                    fails ? ">" : "<=", working.written(column.written), {network::cited(column.source)});
    e.steps = working.finish();
    e.headline =
        fmt::format("{} is a control circuit behind the motor's device of {}; {} is the largest for it",
                    capital(words(s, o.at, Part::cable)), to_text(*guard.rating), to_text(column.value));
    e.consequence = fails ? "A short circuit at the button burns the cord before the motor's device opens."
                          : "It rests on a table that was not read in print: ask the inspector.";
    if (fails) e.short_words = words(s, o.at, Part::cable) + " is too thin for the motor's device";
    if (auto fuse = control_fuse(s, o.at.index)) e.remedies.push_back(*std::move(fuse));
    return e;
}

/// What the article on motors allows, beside the motor's own overload protection.
void explain_motor_device(const Situation& s, const Outcome& o, const Guard& guard, Explanation& e) {
    const Index load = one_limited_load(s, o.at.index);
    if (load == plan::nowhere || !is_own_motor_branch(s, load, guard)) return;
    const auto most = largest_motor_device(s, load, guard);
    if (!most) return;
    e.headline += "; before this motor up to " + to_text(most->most) + " is allowed";
    if (most->source) e.sources.push_back(*most->source);
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    if (o.variant == control_inside)
        return ask_for_rating(
            s, o, element.header, "",
            "Of what gauge are the control conductors to " + element.words() +
                " within the enclosure? 430.72(B) has a column of its own for them, which no table here has",
            "printed on them; an electrician knows the column");
    const Ampacity iz = network::ampacity(s.plan, s.tables, s.network, o.at.index);
    if (o.verdict == Verdict::cannot_judge) return explain_undecided(s, o, iz);
    if (o.variant == control_too_large || o.variant == control_of_motor) return explain_control(s, o);
    const auto search = network::overload_guard(s.plan, s.tables, o.at.index, Place::cable);
    const auto end = network::guard_at_far_end(s.plan, s.tables, o.at.index, Place::cable);
    const Guard guard = search.found ? *search.found : *end;
    const Demand demand = demand_of(s, o.at.index, guard, iz);
    const std::string what = words(s, o.at, Part::cable);
    const plan::Element& above_it = s.plan[guard.element];
    const std::string device =
        guard.plug_fuse ? words(s, at_element(guard.element), Part::fuse) : above_it.words();

    const std::string carried = (iz.beyond ? "at most " : "") + to_text(*iz.value);
    Explanation e;
    e.place = {cable_place(element), what + " may carry " + carried + " as it lies"};
    e.related.push_back({guard.plug_fuse ? place_of(above_it.fuse, above_it)
                                         : place_of(above_it.as<plan::Device>()->rating, above_it),
                         capital(device) + " holds " + to_text(*guard.rating)});
    e.sources.push_back(iz.base.source);
    for (const auto& factor : iz.factors) e.sources.push_back(factor.figure.source);
    if (demand.source) e.sources.push_back(*demand.source);

    Working working;
    const Value capacity = network::explain_ampacity(working, iz);
    const Value rating = working.written(to_text(*guard.rating, 6));
    if (o.variant == guidance_only) {
        const auto& factor = iz.guidance->figure;
        const Value guided = working.add("I_guidance", "Iz * k_cores", "{} * {}",
                                         {capacity, working.written(tables::written_number(factor))}, "A",
                                         {network::cited(factor.source)});
        working.compare(rating, ">", guided);
    } else {
        explain_demand(working, o, {demand.share, demand.printed_limit, demand.by_row_alone, demand.source},
                       capacity, rating);
    }
    e.steps = working.finish();

    e.headline = capital(what) + " may carry " + carried + "; " + device + " lets " + to_text(*guard.rating) +
                 " through";
    switch (o.variant) {
        case too_large:
            e.short_words = fmt::format("{} lets {} through {}, which may carry {}", device,
                                        to_text(*guard.rating), what, carried);
            explain_motor_device(s, o, guard, e);
            e.consequence = "If more tools run than planned, the cable heats and nothing trips.";
            e.remedies = {larger_section(s, o.at.index,
                                         "use a cable that carries at least " + to_text(*guard.rating) +
                                             " as it lies: a larger section")};
            break;
        case at_far_end:
            e.headline += "; " + (end ? s.plan[end->element].words() : std::string("the device")) +
                          " at its far end holds " + (end ? to_text(*end->rating) : std::string());
            e.consequence = s.nec() ? "The device at the far end limits the current; the inspector decides "
                                      "whether that counts."
                                    : "";
            break;
        case single_load:
            explain_motor_device(s, o, guard, e);
            e.consequence = "The machine limits its own current. No outlet may ever be added to this cable.";
            break;
        case gg_band:
            if (o.verdict == Verdict::caution)
                e.consequence =
                    "A gG fuse may carry up to 1.6 times its rating for an hour: the cable has little "
                    "margin.";
            break;
        case guidance_only:
            e.headline += "; guidance for four loaded cores allows " + to_text(iz.with_guidance());
            e.consequence =
                "Four loaded cores in one sheath warm each other: guidance asks for more section than the "
                "table does.";
            break;
        default:
            e.headline = capital(what) + " (" + to_text(*iz.value) + ") is covered by " + device + " (" +
                         to_text(*guard.rating) + ")";
    }
    return e;
}

}  // namespace

const Rule rule{.id = "heat.cable-unprotected",
                .title = "a cable can carry more than it may while nothing trips",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::own},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::cable_unprotected
