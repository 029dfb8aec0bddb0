// heat.switch-motor-rating: motors behind a switch that is not made for them.
// IEC marks read 16(4) A: 16 A resistive, 4 A motor. NEC 404.14: an AC general-use snap switch carries
// motors up to 80 % of its amperes and 2 hp. A single figure is resistive only.
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/curing.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/wired_motor.hpp>

namespace benchfeed::rules::switch_motor_rating {
namespace {

constexpr std::uint8_t bracket = 0, horsepower = 1, snap = 2, one_figure = 3, isolator = 4;

const plan::Switch& switch_of(const Situation& s, Index i) {
    return *s.plan[i].as<plan::Switch>();
}

/// Amps of a printed horsepower, by the motor table at the volts where the switch works.
std::optional<tables::Figure<Current>> amps_of_horsepower(const Situation& s, Index i, Power power) {
    const auto conductors = s.plan[i].conductors.value_or(plan::Conductors{});
    return network::motor_table_current(s.tables, conductors.lines() == 3, power,
                                        network::nominal_between(s.plan.supply_of(i), conductors));
}

std::optional<tables::Figure<Ratio>> snap_share(const Situation& s) {
    const tables::Table* table = s.tables.table("nec-404-14");
    return table ? table->ratio("motor_share_ac_snap") : std::nullopt;
}

bool is_snap(const Situation& s, const plan::Switch& sw) {
    return s.nec() && sw.kind.is(plan::SwitchKind::snap);
}

/// NEC 430.110(A): amps of the isolator of a motor as a share of the motor's.
std::optional<tables::Figure<Ratio>> isolator_share(const Situation& s) {
    const tables::Table* table = s.nec() ? s.tables.table("nec-430-controllers") : nullptr;
    return table ? table->ratio("disconnect_share") : std::nullopt;
}

/// The motor behind its isolator, wired all the way, and its amps: of the table, else of the plate.
struct Isolated {
    Index motor = plan::nowhere;
    Current amps{};
    std::optional<tables::Citation> source;
};
std::optional<Isolated> isolated_by(const Situation& s, Index i) {
    const plan::Switch& sw = switch_of(s, i);
    if (!sw.kind.is(plan::SwitchKind::isolator) || s.plan[i].children.empty()) return std::nullopt;
    const Index motor = one_load_behind(s, i);
    if (motor == plan::nowhere) return std::nullopt;
    const network::LoadPoint& point = s.network.loads[s.network.load_of[motor]];
    if (!point.motor) return std::nullopt;
    if (const auto printed = motor_table_amps(s, motor))
        return Isolated{motor, printed->value, printed->source};
    const auto& plate = s.plan[motor].as<plan::Load>()->plate;
    if (!plate || !plate->current.known()) return std::nullopt;
    return Isolated{motor, *plate->current, std::nullopt};
}

/// One that is marked with enough horsepower may be smaller: its horsepower is judged instead.
void look_at_isolator(const Situation& s, Yield& yield, Index i) {
    const plan::Switch& sw = switch_of(s, i);
    const bool by_horsepower =
        sw.motor_rating.known() && std::holds_alternative<Horsepower>(*sw.motor_rating);
    const auto share = isolator_share(s);
    if (!share || by_horsepower || !sw.rating.known()) return;
    const auto isolated = isolated_by(s, i);
    if (!isolated) return;
    const Current needed = isolated->amps * share->value;
    if (!above(needed, *sw.rating)) return;
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::standard;
    o.bound = Bound::at_least;
    o.verdict = Verdict::caution;
    o.value = *sw.rating;
    o.edge = needed;
    o.ground.grade = share->source.grade;
    o.variant = isolator;
    yield.outcomes.push_back(o);
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (s.plan[i].kind != plan::Kind::switch_) continue;
        const plan::Switch& sw = switch_of(s, i);
        look_at_isolator(s, yield, i);
        Limit limit;
        limit.at = at_element(i);
        limit.reach = {Reach::Kind::through, i};
        limit.weight.motors_only = true;
        if (sw.motor_rating.known()) {
            if (const auto* amps = std::get_if<Current>(&*sw.motor_rating)) {
                limit.edge = *amps;
                limit.variant = bracket;
            } else if (const auto amps_by_table =
                           amps_of_horsepower(s, i, std::get<Horsepower>(*sw.motor_rating).power)) {
                limit.edge = amps_by_table->value;
                limit.ground.grade = amps_by_table->source.grade;
                limit.variant = horsepower;
            } else {  // no motor of that horsepower in the table
                yield.outcomes.push_back(undecided(at_element(i), Part::whole));
                continue;
            }
        } else if (sw.motor_rating.stated_unknown || !sw.rating.known()) {
            yield.outcomes.push_back(undecided(at_element(i), Part::whole));
            continue;
        } else if (const auto share = snap_share(s); share && is_snap(s, sw)) {
            limit.edge = Current(*sw.rating * share->value);
            limit.ground.grade = share->source.grade;
            limit.basis = Basis::standard;
            limit.variant = snap;
        } else if (const auto quarter = threshold(s, "one_figure_switch")) {
            limit.edge = Current(*sw.rating * quarter->value);
            limit.caution = Current(0.0 * unit::ampere);
            limit.basis = limit.caution_basis = Basis::practice;
            limit.variant = one_figure;
        } else {
            yield.cannot_judge(limit.at, limit.part, tables::Missing{"thresholds", "one_figure_switch"});
            continue;
        }
        if (limit.variant != one_figure)
            if (const auto share = threshold(s, "attention"))
                limit.caution = Current(std::get<Current>(limit.edge) * share->value);
        limit.once_per_set = limit.variant != one_figure;
        yield.limits.push_back(limit);
    }
    return yield;
}

Explanation explain_isolator(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const plan::Switch& sw = switch_of(s, o.at.index);
    const Isolated isolated = *isolated_by(s, o.at.index);
    const auto share = *isolator_share(s);
    Explanation e;
    e.place = {place_of(sw.rating, element), ""};
    e.related.push_back({s.plan[isolated.motor].header, "the motor that it isolates"});
    e.sources.push_back(share.source);
    std::vector<std::string> sources{network::cited(share.source)};
    if (isolated.source) {
        e.sources.push_back(*isolated.source);
        sources.push_back(network::cited(*isolated.source));
    }
    Working working;
    const Value needed = working.add(
        "I_isolator", "share * I_motor", "{} * {}",
        {working.written(to_text(share.value)), working.written(to_text(isolated.amps, 6))}, "A", sources);
    working.compare(working.written(to_text(*sw.rating, 6)), "<", needed);
    e.steps = working.finish();
    e.headline = capital(element.words()) + " is made for " + to_text(*sw.rating) + "; the isolator of " +
                 s.plan[isolated.motor].words() + " should be made for " + to_text(o.edge) +
                 ", or be marked with its horsepower";
    e.consequence =
        "It opens a motor that may stand still and draw several times its amps: its contacts burn.";
    e.remedies = {{cost_at(s, o.at.index, Cost::moderate),
                   "an isolator that is marked with the horsepower of the motor, or for " + to_text(o.edge) +
                       " or more"}};
    return e;
}

Explanation explain(const Situation& s, const Outcome& outcome, const Limit* limit) {
    if (outcome.variant == isolator) return explain_isolator(s, outcome);
    const plan::Element& element = s.plan[outcome.at.index];
    const plan::Switch& sw = switch_of(s, outcome.at.index);
    if (outcome.verdict == Verdict::cannot_judge && outcome.limit == plan::nowhere)
        return ask_for_rating(s, outcome, place_of(sw.motor_rating, element),
                              element.path() + ".motor_rating",
                              "What motor current is " + element.words() + " made for?",
                              "the figure in brackets, 16(8) A, or a horsepower; if there is only one "
                              "figure, leave motor_rating out");
    OverloadWords words{
        .rating = to_text(std::get<Current>(outcome.edge)),
        .source = {},
        .place = place_of(sw.motor_rating.written() ? sw.motor_rating.span : sw.rating.span, element),
        .names_the_part = true};
    if (outcome.variant == bracket) words.limit_words = "for motors";
    if (outcome.variant == horsepower) {
        const auto figure =
            amps_of_horsepower(s, outcome.at.index, std::get<Horsepower>(*sw.motor_rating).power);
        words.source = figure->source;
        words.limit_words = "of motor, the table current of its horsepower";
    }
    if (outcome.variant == snap) {
        words.source = snap_share(s)->source;
        words.limit_words = "of motor on this snap switch";
        words.rating.clear();
    }
    if (outcome.variant == one_figure) {
        words.source = threshold(s, "one_figure_switch")->source;
        words.limit_words = "of motor on a switch with one figure";
        words.rating.clear();
    }
    Explanation e = explain_overload(s, outcome, *limit, words);
    if (outcome.verdict == Verdict::cannot_judge) return e;
    e.short_words = element.words() + " is not made for the motor behind it";
    e.consequence = outcome.verdict == Verdict::fail
                        ? "Starting a motor draws several times its amps: the contacts burn or weld, and "
                          "then it cannot be switched off."
                        : "It works for a while; starting a motor wears contacts that are not made for it.";
    e.remedies.insert(e.remedies.begin(), fit_switch(s, outcome.at.index));
    return e;
}

}  // namespace

const Rule rule{.id = "heat.switch-motor-rating",
                .title = "a switch is not made for the motor behind it",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::switch_motor_rating
