// heat.motor-unprotected: a motor that was wired or built in, with nothing that opens when it draws too much
// for long.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/cited.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/motor_overload.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::motor_unprotected {
namespace {

enum Variant : std::uint8_t {
    own_protection,
    by_device,
    set_high,  ///< protected by a setting or a device that is on the high side
    set_too_high,
    missing,
    ask_protection,
    ask_setting,
    ask_device,
    ask_duty,
    ask_power,
    ask_motor,
    ask_whole,
    ask_start,
    ask_use
};

const plan::Load& load_of(const Situation& s, Index i) {
    return *s.plan[i].as<plan::Load>();
}

// ---- what protects it -------------------------------------------------------------------------------

/// Shares of the plate amps: up to `sure` a setting is right, up to `most` it protects.
struct Shares {
    Ratio sure{}, most{};
    tables::Citation sure_source, most_source;
    bool printed = false;  ///< in a table: the NEC has both
};
std::optional<Shares> shares(const Situation& s) {
    if (!s.nec()) {
        const auto most = threshold(s, "motor_device");
        if (!most) return std::nullopt;
        return Shares{1.0 * unit::one, most->value, most->source, most->source, false};
    }
    const tables::Table* table = s.tables.table("nec-430-32");
    const auto at = [&](std::string_view motor) {
        const auto row = table ? table->row_of("motor", motor) : std::nullopt;
        return row ? table->ratio(*row, "max_setting") : std::nullopt;
    };
    const auto sure = at("all other motors"), most = at("marked service factor 1.15 or more");
    if (!sure || !most) return std::nullopt;
    return Shares{sure->value, most->value, sure->source, most->source, true};
}

/// Amps of the motor: as printed, or the most that follow from the rest of its plate.
struct Amps {
    std::optional<Current> current;
    bool printed = false;
};
Amps amps_of(const Situation& s, Index i) {
    const plan::Load& load = load_of(s, i);
    if (load.plate && load.plate->current.known()) return {*load.plate->current, true};
    const network::LoadPoint& point = s.network.loads[s.network.load_of[i]];
    return {point.known() ? std::optional(point.current) : std::nullopt, false};
}

/// What there is, from the best: an outcome without regard to whether the motor owes it.
Outcome protection_of(const Situation& s, Index i) {
    const plan::Load& load = load_of(s, i);
    const bool own = load.overload.is(plan::OwnReset::hand) || load.overload.is(plan::OwnReset::self);
    Outcome o;
    o.at = at_element(i);
    o.variant = own_protection;
    if (own && !load.overload_setting.known()) {
        if (load.overload_setting.stated_unknown) return undecided(o.at, Part::whole, ask_setting);
        return o;  // a protector in the motor has no dial
    }
    const network::Search search = network::overload_guard(s.plan, s.tables, i, network::Place::whole);
    const std::optional<Current> device =
        search.found && search.found->rating ? search.found->rating : std::nullopt;
    const std::optional<Current> setting = own ? load.overload_setting.value : device;
    const auto limits = shares(s);
    const Amps amps = amps_of(s, i);
    Outcome open = undecided(o.at, Part::whole, own ? ask_setting : ask_device);
    if (own && (!amps.current || !amps.printed || !limits)) return open;
    if (setting && amps.current && limits) {
        o.value = *setting;
        o.edge = Current(*amps.current * limits->most);
        o.caution = Current(*amps.current * limits->sure);
        o.variant = above(*setting, std::get<Current>(o.edge)) ? own ? set_too_high : missing
                    : own                                      ? own_protection
                                                               : by_device;
        // A breaker that is counted by custom alone, or a setting above the plate.
        const bool right = !above(*setting, std::get<Current>(o.caution)) && (own || limits->printed);
        if (o.variant == own_protection || o.variant == by_device) {
            if (!amps.printed) return open;  // the least that it may draw decides whether the device counts
            if (!right) o.variant = set_high;
            o.verdict = right ? Verdict::ok : Verdict::caution;
            if (limits->printed) o.ground.grade = limits->sure_source.grade;
            return o;
        }
    }
    const bool maybe_device = !own && (search.undecided || (device && !amps.current) || !limits);
    const bool maybe_own = !load.overload.known();
    if (maybe_own || maybe_device)
        return undecided(o.at, Part::whole, maybe_own ? ask_protection : ask_device);
    if (!own) o.variant = missing;
    o.verdict = Verdict::fail;
    return o;
}

/// What its absence is: a fail under the NEC, on a fixed bench and at work; at home on a bench that moves a
/// caution. Nothing: nobody knows who works there.
std::optional<Verdict> weight_of_absence(const Situation& s) {
    if (s.nec() || s.plan.head.mounting.is(plan::Mounting::fixed)) return Verdict::fail;
    if (!s.plan.site.use.known()) return std::nullopt;
    return s.plan.site.use.is(plan::Use::dwelling) ? Verdict::caution : Verdict::fail;
}

/// What has to be known before the motor surely owes it.
Variant first_question(const MotorOwes& owed) {
    if (owed.motor == Known::open) return ask_motor;
    if (owed.bare == Known::open) return ask_whole;
    return owed.large == Known::open ? ask_power : ask_start;
}

std::optional<Outcome> judge_motor(const Situation& s, Index i,
                                   const std::optional<tables::Figure<Power>>& edge) {
    const MotorOwes owed = motor_owes(s, i, edge ? std::optional(edge->value) : std::nullopt);
    if (owed.never()) return std::nullopt;
    if (!edge) return undecided(at_element(i), Part::whole, ask_duty);
    Outcome o = protection_of(s, i);
    const auto weight = weight_of_absence(s);
    o.basis = weight == Verdict::caution ? Basis::practice : Basis::standard;
    if (o.verdict == Verdict::ok || o.verdict == Verdict::caution) {
        if (o.variant == own_protection) o.basis = Basis::marking;
        if (o.variant == set_high && !s.nec()) o.basis = Basis::practice;
        return o;
    }
    if (o.verdict == Verdict::fail && !owed.surely()) {
        o.verdict = Verdict::cannot_judge;
        o.variant = first_question(owed);
    } else if (o.verdict == Verdict::fail && !weight) {
        o.verdict = Verdict::cannot_judge;
        o.variant = ask_use;
    }
    // Whatever the answer is, it is no more than a caution there.
    if (weight == Verdict::caution) o.verdict = Verdict::caution;
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    const auto edge = motor_overload_above(s);
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == plan::Kind::load)
            if (const auto o = judge_motor(s, i, edge)) yield.outcomes.push_back(*o);
    return yield;
}

// ---- words ------------------------------------------------------------------------------------------

/// One thing that is not known, and where it is found.
struct Asked {
    Span place;
    Question question;
};
Asked asked(const Situation& s, const Outcome& o) {
    const plan::Element& e = s.plan[o.at.index];
    const plan::Load& load = load_of(s, o.at.index);
    const std::string name = e.words();
    switch (o.variant) {
        case ask_setting:
            if (load.overload_setting.known())
                return {e.header,
                        {e.path() + ".plate.current", "How many amps are on the plate of " + name + "?",
                         "the motor's plate: A at the volts where it works"}};
            return {place_of(load.overload_setting, e),
                    {e.path() + ".overload_setting",
                     "To how many amps is the overload protection of " + name + " set?",
                     "the dial of the overload relay or the motor protection switch"}};
        case ask_power:
            return {load.plate ? load.plate->span : e.header,
                    {e.path() + (s.nec() ? ".plate.horsepower" : ".plate.power_out"),
                     "What power does " + name + " give at its shaft?",
                     s.nec() ? "the motor's plate: HP, rated" : "the motor's plate: kW or P2"}};
        case ask_duty:
            return {e.header,
                    {e.path() + ".plate.power_out",
                     "Does " + name + " need overload protection? The figure of the region is not here",
                     "an electrician"}};
        case ask_motor:
            return {place_of(load.motor, e),
                    {e.path() + ".motor", "Does " + name + " have a motor, and of what kind?",
                     "brushes and whine: universal; hum, heavy, a hump for the capacitor: induction"}};
        case ask_whole:
            return {place_of(load.sold_whole, e),
                    {e.path() + ".sold_whole",
                     "Is " + name + " a machine that was sold whole, or a motor that somebody fitted?",
                     "one plate for the whole machine, or a motor with a plate of its own alone"}};
        case ask_start:
            return {place_of(load.self_starting, e),
                    {e.path() + ".self_starting", "Does " + name + " start by itself?", "habit"}};
        case ask_use:
            return {
                place_of(s.plan.site.use, e),
                {"site.use", "Is the bench at home, or at a school or a place of work?", "who works there"}};
        case ask_device:
            return {e.header,
                    {e.path() + ".plate.current",
                     "How many amps are on the plate of " + name + ", and on the device before it?",
                     "the motor's plate; the handle of the device"}};
        default:
            return {place_of(load.overload, e),
                    {e.path() + ".overload",
                     "What stops " + name + " when it draws too much for long, and how does that reset?",
                     "a red button on it, an overload relay or a motor protection switch before it"}};
    }
}

/// "a motor of 1100 W", "a motor of 0.333 hp that starts by itself", "a motor of more than 500 W".
std::string motor_words(const Situation& s, Index i, const tables::Figure<Power>& edge) {
    const plan::Load& load = load_of(s, i);
    std::string words = "a motor";
    const bool large = is_surely_large(s, i, edge.value);
    if (load.plate && load.plate->power_out.known())
        words += " of " + to_text(*load.plate->power_out, 6);
    else if (load.plate && load.plate->horsepower_kind.is(plan::HorsepowerKind::rated))
        words += " of " + digits(in(unit::horsepower, load.plate->horsepower->power), 3) + " hp";
    else if (large)
        words += " of more than " + std::string(edge.written);
    if (large) return words;
    if (load.starts_with_index != plan::nowhere) return words + " that starts with another one";
    return words + (is_installed(s, i) ? " on a fixed bench" : " that starts by itself");
}

/// Why it owes it: its power, or under the NEC another clause.
void cite_duty(const Situation& s, Explanation& e, Index i, const tables::Figure<Power>& edge) {
    if (!s.nec() || is_surely_large(s, i, edge.value))
        e.sources.push_back(edge.source);
    else if (is_installed(s, i))
        cite_fact(s, e, "nec-430-32", "permanently_installed");
    else
        cite_fact(s, e, "nec-430-32", "starts_by_itself");
}

void explain_amps(const Situation& s, const Outcome& o, Working& working, Explanation& e) {
    const auto limits = shares(s);
    const Amps amps = amps_of(s, o.at.index);
    if (!limits || !amps.current || !std::holds_alternative<Current>(o.value)) return;
    const auto found = network::load_current(s.plan, s.tables, s.practice(), o.at.index, s.network.plate_end);
    const Value motor = network::explain_current(working, s.plan, found, o.at.index);
    // A device outside the NEC and a setting above the sure share are held to the most that counts.
    const bool own = load_of(s, o.at.index).overload_setting.known();
    const bool by_sure =
        (own || limits->printed) && !above(std::get<Current>(o.value), std::get<Current>(o.caution));
    const Ratio share = by_sure ? limits->sure : limits->most;
    const tables::Citation& source = by_sure ? limits->sure_source : limits->most_source;
    const bool plain = by_sure && !limits->printed;  // the plate itself
    const Value times = working.written(digits(in(unit::one, share), 3));
    const Value most = plain ? motor
                             : working.add("I_most", "share * I", "{} * {}", {times, motor}, "A",
                                           std::vector{network::cited(source)});
    const Value setting = working.written(to_text(std::get<Current>(o.value), 6));
    working.compare(setting,
                    above(std::get<Current>(o.value), Current(*amps.current * share)) ? ">" : "<=", most);
    e.steps = working.finish();
    if (!plain) e.sources.push_back(source);
}

/// What is set or counted, in words: "its protection is set to 9 A", "device b16 of 16 A".
std::string guard_words(const Situation& s, const Outcome& o) {
    if (o.variant == set_too_high || load_of(s, o.at.index).overload_setting.known())
        return "its overload protection is set to " + to_text(std::get<Current>(o.value));
    const auto search = network::overload_guard(s.plan, s.tables, o.at.index, network::Place::whole);
    const std::string what = search.found->plug_fuse ? "the fuse in the plug of " : "";
    return what + s.plan[search.found->element].words() + " (" + to_text(*search.found->rating) + ")";
}

std::vector<Remedy> remedies(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    const Amps amps = amps_of(s, i);
    Remedy protect{s.plan.head.mounting.is(plan::Mounting::fixed) ? Cost::electrician : Cost::moderate,
                   "a motor protection switch or an overload relay before it"};
    if (amps.printed) {
        protect.text += ", set to the " + to_text(*amps.current) + " of its plate";
        protect.changes = {{e.path() + ".overload", "hand"},
                           {e.path() + ".overload_setting", to_text(*amps.current)}};
    } else {
        protect.text += ", set to the amps of its plate";
    }
    return {{Cost::free, "for now: off at once when it slows down, hums or smells"}, protect};
}

/// A setting or a device that is above what is surely right.
Explanation explain_high(const Situation& s, const Outcome& o, Explanation e) {
    const std::string name = s.plan[o.at.index].words();
    const bool own = load_of(s, o.at.index).overload_setting.known();
    e.headline = fmt::format(
        "{} protects {} against overload, but opens late",
        own ? "A setting of " + to_text(std::get<Current>(o.value)) : capital(guard_words(s, o)), name);
    e.consequence = s.nec()
                        ? "That is close enough for a motor marked with a service factor of 1.15 or more, "
                          "and too much for any other."
                        : "A motor that is somewhat overloaded gets hot for an hour before anything "
                          "happens.";
    if (load_of(s, o.at.index).overload.known()) return e;
    e.questions.push_back({s.plan[o.at.index].path() + ".overload",
                           "Does " + name + " have overload protection of its own?",
                           "the manual; a red button"});
    return e;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    const std::string name = element.words();
    const bool question = o.variant >= ask_protection;
    if (o.verdict == Verdict::cannot_judge) {
        const Asked open = asked(s, o);
        return ask_for_rating(s, o, open.place, open.question.path, open.question.ask, open.question.look);
    }
    const auto edge = *motor_overload_above(s);
    Explanation e;
    e.place = {place_of(load_of(s, o.at.index).overload, element), ""};
    Working working;
    if (o.verdict != Verdict::ok && o.variant != set_high) explain_power(s, working, o.at.index, edge);
    explain_amps(s, o, working, e);
    e.steps = working.finish();
    if (o.verdict == Verdict::ok) {
        e.headline = o.variant == by_device ? fmt::format("{} is close enough to the amps of {} to guard it",
                                                          capital(guard_words(s, o)), name)
                                            : capital(name) + " has overload protection of its own";
        return e;
    }
    e.consequence =
        "A blunt or stuck blade, or a lost line, lets it draw several times its amps: the winding "
        "burns, and the dust near it, while the breaker waits for more.";
    e.remedies = remedies(s, o.at.index);
    if (o.variant == set_high) return explain_high(s, o, std::move(e));
    cite_duty(s, e, o.at.index, edge);
    if (question) {
        const Asked open = asked(s, o);
        e.place = {open.place, ""};
        e.questions.push_back(open.question);
        e.headline = fmt::format("{} may be a motor that nothing protects against overload", capital(name));
        return e;
    }
    const std::string what = fmt::format("{} is {}", capital(name), motor_words(s, o.at.index, edge));
    e.headline =
        o.variant == set_too_high ? fmt::format("{}, and {}: too high to protect it", what, guard_words(s, o))
        : std::holds_alternative<Current>(o.value)
            ? fmt::format("{}, and nothing stops it when it draws too much: {} is far above its amps", what,
                          guard_words(s, o))
            : fmt::format("{}, and nothing stops it when it draws too much", what);
    e.short_words = "nothing protects " + name + " against overload";
    return e;
}

}  // namespace

const Rule rule{.id = "heat.motor-unprotected",
                .title = "a motor without protection against overload",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::motor_unprotected
