// What is worse is never told as better, and what is better never as worse: longer, thinner, hotter, more
// load, lower ratings, a weaker supply, rule by rule. Where physics has it otherwise, it stands below.
#include <doctest/doctest.h>
#include <fmt/ranges.h>

#include <array>
#include <map>
#include <set>

#include <benchfeed/plan/fields.hpp>
#include "laws/facts.hpp"

using namespace benchfeed;
using namespace benchfeed::laws;
using rules::Verdict;
using test::BenchDice;

namespace {

enum class Worse : std::uint8_t {
    longer,
    thinner,
    hotter,
    more_load,
    lower_rating,
    lower_device,
    weaker_supply
};
constexpr std::array<const char*, 7> names{"longer",       "thinner",      "hotter",       "more load",
                                           "lower rating", "lower device", "weaker supply"};

/// Rules to which a change is no harm.
struct Physics {
    Worse change;
    std::string_view rule;
    bool helps;  ///< it always helps: the law holds the other way round; otherwise it may do either
    std::string_view why;
};
constexpr Physics physics[] = {
    {Worse::longer, "heat.fault-energy", true, "the more cable before a fault, the less current in it"},
    {Worse::longer, "heat.breaking-capacity", true,
     "the more cable before a device, the less current in a fault"},
    {Worse::thinner, "heat.breaking-capacity", true,
     "the thinner the cable before a device, the less current in a fault"},
    {Worse::thinner, "heat.fault-energy", false,
     "a thin cable stands less, and lets less through to the next"},
    {Worse::thinner, "heat.box-overfilled", true, "thin cores need less room"},
    {Worse::thinner, "heat.terminal-mismatch", false,
     "a terminal takes no core that is too thick or too thin"},
    {Worse::thinner, "shock.protective-conductor", true,
     "a protective core of its own section is held against that of the lines"},
    {Worse::lower_device, "heat.cable-unprotected", true, "it guards the cable"},
    {Worse::lower_device, "heat.element-unprotected", true, "it guards the plug, the outlet and the switch"},
    {Worse::lower_device, "heat.fault-energy", true, "it lets less through"},
    {Worse::lower_device, "heat.short-circuit-slow", true, "it trips at less"},
    {Worse::lower_device, "shock.slow-disconnection", true, "it trips at less"},
    {Worse::lower_device, "heat.plug-pattern-mismatch", false, "an outlet belongs on a circuit of its size"},
    {Worse::lower_device, "heat.section-below-minimum", true, "thin cores are for small devices"},
    {Worse::lower_device, "trip.simultaneous-starts", false,
     "a start that trips alone is trip.start-surge's"},
    {Worse::lower_device, "heat.motor-unprotected", true, "close to its amps, it guards the motor"},
    {Worse::lower_device, "restart.contacts-weld", true, "it lets less through"},
    {Worse::more_load, "heat.motor-unprotected", false,
     "a larger motor owes more, and is closer to the amps of its relay and its breaker"},
    {Worse::lower_rating, "heat.plug-pattern-mismatch", false,
     "an outlet too small for any permitted pair is heat.element-unprotected's"},
    {Worse::more_load, "trip.simultaneous-starts", false, "a start that trips alone is trip.start-surge's"},
    {Worse::more_load, "heat.cable-unprotected", true,
     "NEC 430.52: a larger motor may have a larger device before it, so its wires are not too thin for that "
     "one"},
    {Worse::longer, "shock.reading-beyond", false, "a meter is held to what the longer cable has"},
    {Worse::thinner, "shock.reading-beyond", false, "a meter is held to what the thinner cable has"},
    {Worse::weaker_supply, "shock.reading-beyond", false, "a meter is held to what the weaker supply has"},
    {Worse::lower_device, "shock.reading-beyond", true, "it opens with a larger loop"},
    {Worse::weaker_supply, "heat.fault-energy", true, "less current in a fault"},
    {Worse::weaker_supply, "heat.breaking-capacity", true, "less current in a fault"},
};

/// Rules that tell the worst place of several, or several equal ones once: they are held to it wherever it
/// is.
constexpr std::string_view told_once[] = {"heat.fault-energy", "heat.short-circuit-slow",
                                          "shock.slow-disconnection", "heat.terminal-mismatch",
                                          "heat.plug-pattern-mismatch"};

/// A change of one plan as --set takes it, and whether it makes it worse or better.
struct Trial {
    Worse change;
    bool worse = true;
    std::vector<std::string> set;
};

/// "18 m" times a factor, in the unit in which it was written.
template <class Unit>
std::string figure(double value, Unit unit) {
    return fmt::format("{:.6g} {}", value, unit);
}

class Trials {
public:
    Trials(const plan::Plan& plan, bool worse) : plan_(plan), worse_(worse), factor_(worse ? 1.7 : 1 / 1.7) {
        for (const plan::Element& e : plan.elements) of_element(e);
        for (const plan::Stock& stock : plan.stocks)
            if (stock.section.written() && stock.section.known()) another_section(stock);
        hotter("plan.ambient", plan.head.ambient, 30.0);
    }
    [[nodiscard]] const std::vector<Trial>& all() const { return all_; }

private:
    void add(Worse change, std::vector<std::string> set) { all_.push_back({change, worse_, std::move(set)}); }

    void of_element(const plan::Element& e) {
        const std::string path = e.path() + ".";
        // What was taken over follows the element that has it.
        const auto own = [](const auto& field) {
            return field.origin == plan::Origin::plan && field.known();
        };
        if (e.cable && own(e.cable->length))
            add(Worse::longer,
                {path + "cable.length=" + figure(in(unit::metre, *e.cable->length) * factor_, "m")});
        if (e.cable && own(e.cable->ambient)) hotter(path + "cable.ambient", e.cable->ambient, 30.0);
        const auto lower = [&](const auto& field, const std::string& key) {
            if (own(field)) add(Worse::lower_rating, {path + key + "=" + rated(*field)});
        };
        if (e.cable) {
            lower(e.cable->wound_limit, "cable.wound_limit");
            lower(e.cable->unwound_limit, "cable.unwound_limit");
        }
        if (const auto* outlet = e.as<plan::Outlet>()) {
            lower(outlet->rating, "rating");
            lower(outlet->limit, "limit");
        }
        if (const auto* sw = e.as<plan::Switch>()) {
            lower(sw->rating, "rating");
            lower(sw->motor_rating, "motor_rating");
        }
        if (const auto* device = e.as<plan::Device>()) of_device(*device, path);
        if (const auto* load = e.as<plan::Load>(); load && load->plate)
            of_plate(*load->plate, path + "plate.");
        if (const auto* supply = e.as<plan::Supply>()) of_supply(*supply, path);
    }
    void of_device(const plan::Device& device, const std::string& path) {
        if (device.breaking.origin == plan::Origin::plan && device.breaking.known())
            add(Worse::lower_rating, {path + "breaking=" + rated(*device.breaking)});
        if (device.rating.origin != plan::Origin::plan || !device.rating.known()) return;
        static const std::vector<double> made{3, 6, 10, 13, 15, 16, 20, 25, 30, 32, 40, 50, 63};
        if (device.kind.is(plan::DeviceKind::residual_current_device)) {  // it guards nothing
            add(Worse::lower_rating, {path + "rating=" + rated(*device.rating)});
            return;
        }
        const double now = in(unit::ampere, *device.rating);
        const auto above = std::upper_bound(made.begin(), made.end(), now);
        const auto at = std::lower_bound(made.begin(), made.end(), now);
        if (worse_ && at != made.begin())
            add(Worse::lower_device, {path + "rating=" + figure(*(at - 1), "A")});
        if (!worse_ && above != made.end())
            add(Worse::lower_device, {path + "rating=" + figure(*above, "A")});
    }
    /// Everything printed that says how much it draws, by one factor: the power factor stays.
    void of_plate(const plan::Plate& plate, const std::string& path) {
        std::vector<std::string> set;
        const auto scale = [&](const auto& field, const char* key, auto one, const char* unit) {
            if (field.origin == plan::Origin::plan && field.known())
                set.push_back(path + key + "=" + figure(in(one, *field) * factor_, unit));
        };
        scale(plate.current, "current", unit::ampere, "A");
        scale(plate.power_in, "power_in", unit::watt, "W");
        scale(plate.power_out, "power_out", unit::watt, "W");
        scale(plate.start_current, "start_current", unit::ampere, "A");
        if (plate.horsepower.origin == plan::Origin::plan && plate.horsepower.known())
            set.push_back(
                path + "horsepower=" + figure(in(unit::horsepower, plate.horsepower->power) * factor_, "hp"));
        if (!set.empty()) add(Worse::more_load, std::move(set));
    }
    void of_supply(const plan::Supply& supply, const std::string& path) {
        // A reading at an outlet holds whatever stands before it.
        for (const plan::Element& e : plan_.elements)
            if (const auto* outlet = e.as<plan::Outlet>(); outlet && outlet->measured) return;
        std::vector<std::string> set;
        const auto scale = [&](const auto& field, const char* key, auto one, const char* unit,
                               double factor) {
            if (field.origin == plan::Origin::plan && field.known())
                set.push_back(path + key + "=" + figure(in(one, *field) * factor, unit));
        };
        scale(supply.loop_impedance, "loop_impedance", unit::ohm, "ohm", factor_);
        scale(supply.line_impedance, "line_impedance", unit::ohm, "ohm", factor_);
        scale(supply.fault_current, "fault_current", unit::ampere, "A", 1 / factor_);
        if (!set.empty()) add(Worse::weaker_supply, std::move(set));
    }
    void hotter(const std::string& path, const plan::Field<Temperature>& field, double usual) {
        if (field.stated_unknown) return;
        const double now = field.known() ? in_celsius(*field) : usual;
        add(Worse::hotter, {path + "=" + figure(now + (worse_ ? 8 : -8), "degC")});
    }
    void another_section(const plan::Stock& stock) {
        static const std::vector<double> metric{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50};
        static const std::vector<int> gauges{18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1};
        if (stock.section->gauge) {
            const int now = stock.section->gauge->number;
            for (std::size_t i = 0; i + 1 < gauges.size(); ++i)
                if (now == gauges[worse_ ? i + 1 : i])
                    add(Worse::thinner,
                        {stock.path() + ".section=" + fmt::format("{} AWG", gauges[worse_ ? i : i + 1])});
            return;
        }
        const double now = in(unit::mm2, stock.section->area);
        const auto at = std::lower_bound(metric.begin(), metric.end(), now * 0.999);
        const auto above = std::upper_bound(metric.begin(), metric.end(), now * 1.001);
        if (worse_ && at != metric.begin())
            add(Worse::thinner, {stock.path() + ".section=" + figure(*(at - 1), "mm2")});
        if (!worse_ && above != metric.end())
            add(Worse::thinner, {stock.path() + ".section=" + figure(*above, "mm2")});
    }
    std::string rated(Current current) const { return figure(in(unit::ampere, current) / factor_, "A"); }
    std::string rated(const CurrentOrPower& either) const {
        if (const auto* current = std::get_if<Current>(&either)) return rated(*current);
        return figure(in(unit::watt, std::get<Power>(either)) / factor_, "W");
    }
    std::string rated(const MotorRating& either) const {
        if (const auto* current = std::get_if<Current>(&either)) return rated(*current);
        return figure(in(unit::horsepower, std::get<Horsepower>(either).power) / factor_, "hp");
    }

    const plan::Plan& plan_;
    bool worse_;
    double factor_;
    std::vector<Trial> all_;
};

/// Rule, place, part, set.
using Key = std::tuple<plan::Index, std::string, int, std::string>;

std::string key_words(const Key& key) {
    return fmt::format("{} at {} {} [{}]", rules::registry()[std::get<0>(key)].id, std::get<1>(key),
                       rules::words(static_cast<rules::Part>(std::get<2>(key))), std::get<3>(key));
}

/// Rules that say nothing of a cable of which another one asks what it may carry.
constexpr std::string_view asked_by_cable_overloaded[] = {"heat.cable-unprotected", "heat.motor-circuit"};

plan::Index index_of(std::string_view rule) {
    return static_cast<plan::Index>(rules::find_rule(rule) - rules::registry().data());
}

/// Verdicts by place. A caution that is told once, at the weakest contact of a set, says nothing of the
/// others; what counts the facts of the plan is no verdict about it.
std::map<Key, Verdict> verdicts_of(const Judged& judged) {
    std::map<Key, Verdict> found;
    for (const auto& o : judged.judgement().outcomes) {
        if (id_of(o).starts_with("plan.")) continue;
        const bool at_the_weakest =
            o.limit != plan::nowhere && judged.judgement().limits[o.limit].once_per_set;
        const Verdict verdict = at_the_weakest && o.verdict == Verdict::caution ? Verdict::ok : o.verdict;
        const bool once =
            std::find(std::begin(told_once), std::end(told_once), id_of(o)) != std::end(told_once);
        Verdict& known = found[{o.rule, once ? "" : rules::path_of(judged.plan(), o.at),
                                once ? 0 : static_cast<int>(o.part), rules::set_name(judged.plan(), o.set)}];
        known = std::max(known, verdict);
        const bool no_ampacity = o.limit == plan::nowhere || o.ground.substituted;
        if (verdict != Verdict::cannot_judge || id_of(o) != "heat.cable-overloaded" || !no_ampacity) continue;
        for (const std::string_view rule : asked_by_cable_overloaded) {
            Verdict& silent =
                found[{index_of(rule), rules::path_of(judged.plan(), o.at), static_cast<int>(o.part), ""}];
            silent = std::max(silent, verdict);
        }
    }
    return found;
}
Verdict at(const std::map<Key, Verdict>& verdicts, const Key& key) {
    const auto it = verdicts.find(key);
    return it == verdicts.end() ? Verdict::ok : it->second;
}

const Physics* physics_of(Worse change, std::string_view rule) {
    for (const Physics& one : physics)
        if (one.change == change && one.rule == rule) return &one;
    return nullptr;
}

/// `before` became `after` by a change for the worse.
void compare(Breaches& breaches, std::set<const Physics*>& needed, const Trial& trial, const Bench& bench,
             const std::map<Key, Verdict>& before, const std::map<Key, Verdict>& after) {
    std::set<Key> keys;
    for (const auto* one : {&before, &after})
        for (const auto& [key, verdict] : *one) keys.insert(key);
    for (const Key& key : keys) {
        const std::string_view rule = rules::registry()[std::get<0>(key)].id;
        const Physics* known = physics_of(trial.change, rule);
        const Verdict was = at(before, key), is = at(after, key);
        if (known && is < was) needed.insert(known);
        if (known && !known->helps) continue;
        if (known ? is > was : is < was)
            breaches.add(fmt::format("{}: {} {} -> {}", names[static_cast<std::size_t>(trial.change)], rule,
                                     rules::words(was), rules::words(is)),
                         fmt::format("{} with {}{}: {} becomes {}\n{}", bench.name,
                                     trial.worse ? "" : "(read backwards) ", fmt::join(trial.set, ", "),
                                     key_words(key), rules::words(is), bench.text));
    }
}

}  // namespace

TEST_CASE("law: worse is never told as better, nor better as worse") {
    Breaches breaches;
    std::array<unsigned, names.size()> tried{};
    std::set<const Physics*> needed;  // rows without which something would break the law
    for (const Bench& bench : corpus()) {
        const auto here = verdicts_of(*bench.judged);
        BenchDice random(seed() + bench.number());
        for (const bool worse : {true, false}) {
            std::vector<Trial> trials = Trials(bench.judged->plan(), worse).all();
            std::shuffle(trials.begin(), trials.end(), random.engine);
            std::array<unsigned, names.size()> of_kind{};
            for (const Trial& trial : trials) {
                const auto kind = static_cast<std::size_t>(trial.change);
                if (of_kind[kind] >= 2 * times()) continue;
                const auto other = judged(bench.text, trial.set);
                if (!other) continue;
                ++of_kind[kind];
                ++tried[kind];
                const auto there = verdicts_of(*other);
                if (worse)
                    compare(breaches, needed, trial, bench, here, there);
                else
                    compare(breaches, needed, trial, bench, there, here);
            }
        }
    }
    for (std::size_t kind = 0; kind < tried.size(); ++kind) at_least(tried[kind], 300, names[kind]);
    if (usual_plans())
        for (const Physics& row : physics)
            CHECK_MESSAGE(needed.contains(&row),
                          "no plan needs this row, strike it off: "
                              << std::string(names[static_cast<std::size_t>(row.change)]) << ", "
                              << std::string(row.rule));
    // heat.fault-energy leaves to heat.short-circuit-slow what that one condemns.
    breaches.hold(
        {"longer: heat.fault-energy ok -> cannot judge",
         "weaker supply: heat.fault-energy ok -> cannot judge",
         // Of UK flat cable the protective core of 1 mm2 is remembered, those of thicker ones are printed.
         "thinner: shock.protective-conductor ok -> cannot judge"});
}
