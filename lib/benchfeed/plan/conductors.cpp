// Which live conductors arrive at each element, and which it uses (rule 3 of the format).
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/plan/reading.hpp>

namespace benchfeed::plan {

namespace {

Conductors of_system(System system) {
    Conductors c;
    c.add(Conductor::l1);
    c.add(Conductor::n);
    if (system == System::v120_240 || system == System::v120_208 || system == System::v230_400)
        c.add(Conductor::l2);
    if (system == System::v120_208 || system == System::v230_400) c.add(Conductor::l3);
    return c;
}

/// What a thing asks of the conductors: so many lines, with or without neutral. No lines: whatever arrives.
struct Want {
    int lines = 0;
    bool neutral = false;
    std::string why;
};

/// By the poles of a pattern: two of the same voltage class, told by the word list.
Want of_pattern(const Words& words, const std::string& pattern) {
    const auto it = std::find_if(words.patterns.begin(), words.patterns.end(),
                                 [&](const auto& p) { return p.name == pattern; });
    if (it == words.patterns.end()) return {};
    const std::string why = "pattern " + pattern;
    if (it->poles == "L-N") return {1, true, why};
    if (it->poles == "L-L") return {2, false, why};
    if (it->poles == "L-L-N") return {2, true, why};
    if (it->poles == "L1-L2-L3") return {3, false, why};
    if (it->poles == "L1-L2-L3-N") return {3, true, why};
    return {};
}

/// The two voltages of a system of several lines.
struct Volts {
    Voltage to_neutral{}, between_lines{};
    [[nodiscard]] Voltage of(Conductors conductors) const {
        return conductors.lines() > 1 ? between_lines : to_neutral;
    }
};
std::optional<Volts> volts_of(System system) {
    if (of_system(system).lines() < 2) return std::nullopt;
    const Voltage phase = (system == System::v230_400 ? 230.0 : 120.0) * unit::volt;
    return Volts{phase, system == System::v120_240 ? 2.0 * phase : std::sqrt(3.0) * phase};
}

/// Near enough to a plate to be meant for it. How near is good enough, volts.wrong-voltage says.
bool meant_for(const VoltageRange& plate, Voltage volts) {
    return volts >= 0.88 * plate.low && volts <= 1.12 * plate.high;
}

/// By the volts of a plate where several systems of volts arrive.
Want of_plate(const Load& load, System system, Conductors arriving) {
    const auto volts = volts_of(system);
    if (!load.plate || !load.plate->voltage.known() || arriving.lines() < 2 || !volts) return {};
    if (meant_for(*load.plate->voltage, volts->to_neutral) && arriving.has(Conductor::n))
        return {1, true, "the volts of its plate"};
    if (meant_for(*load.plate->voltage, volts->between_lines)) return {2, false, "the volts of its plate"};
    return {};
}

/// Every choice of conductors among the arriving ones that fits.
std::vector<Conductors> choices(Conductors arriving, const Want& want) {
    std::vector<Conductors> found;
    if (want.neutral && !arriving.has(Conductor::n)) return found;
    for (unsigned lines = 1; lines < 8; ++lines) {
        Conductors c{static_cast<std::uint8_t>(lines)};
        if (!c.within(arriving) || c.lines() != want.lines) continue;
        if (want.neutral) c.add(Conductor::n);
        found.push_back(c);
    }
    return found;
}

class Assigner {
public:
    Assigner(Context& context, Plan& plan) : context_(context), plan_(plan) {}

    void run() {
        for (Index i = 0; i < plan_.elements.size(); ++i)
            if (plan_[i].parent == nowhere && plan_[i].kind == Kind::supply) descend(i);
    }

private:
    void descend(Index root) {
        std::vector<Index> stack{root};
        while (!stack.empty()) {
            const Index i = stack.back();
            stack.pop_back();
            assign(i);
            if (const auto* load = plan_[i].as<Load>()) check_volts(plan_[i], *load);
            for (const Index child : plan_[i].children) stack.push_back(child);
        }
    }

    Want want_of(const Element& e, Conductors arriving) {
        if (e.plug.known()) return of_pattern(context_.words, *e.plug);
        if (const auto* outlet = e.as<Outlet>(); outlet && outlet->pattern.known())
            return of_pattern(context_.words, *outlet->pattern);
        if (const auto* load = e.as<Load>()) {
            const Element& parent = plan_[e.parent];
            if (parent.kind == Kind::outlet) return {};  // it takes what the outlet has
            return of_plate(*load, system_of(e), arriving);
        }
        if (const auto* device = e.as<Device>(); device && device->poles.known())
            return {std::min(*device->poles, arriving.lines()), arriving.has(Conductor::n), "its poles"};
        return {};
    }

    System system_of(const Element& e) {
        Index up = static_cast<Index>(&e - plan_.elements.data());
        return plan_.supply_of(up).system.get_or(System::v230);
    }

    void assign(Index i) {
        Element& e = plan_.elements[i];
        if (const auto* supply = e.as<Supply>()) {
            e.conductors.value = of_system(supply->system.get_or(System::v230));
            return;
        }
        if (!plan_[e.parent].conductors.known()) return;
        const Conductors arriving = *plan_[e.parent].conductors;
        const Span parent_place =
            plan_[e.parent].conductors.written() ? plan_[e.parent].conductors.span : plan_[e.parent].header;
        if (e.conductors.known() && !e.conductors->within(arriving)) {
            context_.fault(e.path() + ".conductors",
                           fmt::format("{} uses {}, but only {} arrive from {}", e.path(),
                                       conductors_text(*e.conductors), conductors_text(arriving),
                                       plan_[e.parent].path()),
                           {{e.conductors.span, ""}, {parent_place, "what arrives"}},
                           "conductors that arrive");
            e.conductors.value = arriving;
            return;
        }
        const Want want = want_of(e, arriving);
        if (e.conductors.known()) return check_written(e, want);
        if (want.lines == 0) {
            e.conductors.value = arriving;
            return;
        }
        const auto fitting = choices(arriving, want);
        if (fitting.size() == 1) {
            e.conductors.value = fitting.front();
        } else if (fitting.empty()) {
            context_.fault(e.path() + ".conductors",
                           fmt::format("{} needs {}, but {} arrive from {}", e.path(), words(want),
                                       conductors_text(arriving), plan_[e.parent].path()),
                           {{e.header, want.why}, {parent_place, "what arrives"}},
                           "a pattern, a plate or a supply that fits");
            e.conductors.value = arriving;
        } else {
            std::string list;
            if (e.kind == Kind::load && want.lines == 2 && arriving.lines() == 3) list = "\"L1-L2-L3\"";
            for (const Conductors c : fitting)
                list += (list.empty() ? "\"" : ", \"") + conductors_text(c) + "\"";
            context_.fault(
                e.path() + ".conductors",
                fmt::format("{} could be fed in more than one way: say by which conductors", e.path()),
                {{e.header, want.why}, {parent_place, "what arrives"}}, "conductors = one of " + list);
            e.conductors.value = fitting.front();
        }
    }

    /// A plate that is made for the other voltage of its supply: the branch does not bring it.
    void check_volts(const Element& e, const Load& load) {
        const auto volts = volts_of(system_of(e));
        if (!volts || !e.conductors.known() || !load.plate || !load.plate->voltage.written() ||
            !load.plate->voltage.known())
            return;
        const VoltageRange& plate = *load.plate->voltage;
        const Voltage here = volts->of(*e.conductors);
        const Voltage other = e.conductors->lines() > 1 ? volts->to_neutral : volts->between_lines;
        if (meant_for(plate, here) || !meant_for(plate, other)) return;
        const Element& turn = where_it_turns(e);
        const Span turn_place = turn.conductors.written() ? turn.conductors.span : turn.header;
        context_.fault(
            e.path() + ".plate.voltage",
            fmt::format("{} is made for {}, but {} of {} bring {}", e.path(), range_text(plate),
                        conductors_text(*e.conductors), plan_[e.parent].path(), to_text(here, 3)),
            {{load.plate->voltage.span, "on its plate"},
             {turn_place,
              fmt::format("from here on {}, {}", conductors_text(*e.conductors), to_text(here, 3))}},
            fmt::format("an outlet that brings {}, or the voltage for which it is wired", to_text(other, 3)));
    }

    static std::string range_text(const VoltageRange& plate) {
        return plate.low == plate.high ? to_text(plate.low, 6)
                                       : to_text(plate.low, 6) + " to " + to_text(plate.high, 6);
    }

    /// The first element on the way from the supply that has the conductors of the load, and no more.
    const Element& where_it_turns(const Element& load) {
        Index at = static_cast<Index>(&load - plan_.elements.data());
        while (plan_[at].parent != nowhere && plan_[plan_[at].parent].kind != Kind::supply &&
               plan_[plan_[at].parent].conductors.known() &&
               plan_[plan_[at].parent].conductors->mask == load.conductors->mask)
            at = plan_[at].parent;
        return plan_[at];
    }

    static std::string words(const Want& want) {
        return fmt::format("{} line{}{}", want.lines, want.lines == 1 ? "" : "s",
                           want.neutral ? " and a neutral" : "");
    }

    void check_written(Element& e, const Want& want) {
        if (want.lines == 0) return;
        // A three-phase load has volts between its lines on the plate, as a load between two lines has.
        if (e.kind == Kind::load && e.conductors->lines() == 3 && want.lines == 2) return;
        if (e.conductors->lines() == want.lines && (e.conductors->has(Conductor::n) || !want.neutral)) return;
        if (e.kind == Kind::device) return;
        context_.fault(e.path() + ".conductors",
                       fmt::format("{} uses {}, but {} asks for {}", e.path(), conductors_text(*e.conductors),
                                   want.why, words(want)),
                       {{e.conductors.span, ""}}, "conductors that fit, or another pattern");
    }

    Context& context_;
    Plan& plan_;
};

}  // namespace

void assign_conductors(Context& context, Plan& plan) {
    Assigner(context, plan).run();
}

}  // namespace benchfeed::plan
