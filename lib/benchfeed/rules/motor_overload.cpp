#include <benchfeed/rules/motor_overload.hpp>

#include <cmath>
#include <string>
#include <vector>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/bs_552_1_2.hpp>
#include <benchfeed/figures/iec_60204_1_motor.hpp>
#include <benchfeed/figures/nec_430_32.hpp>
#include <benchfeed/figures/regions.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/wired_motor.hpp>

namespace benchfeed::rules {

tables::Found<tables::Figure<Power>> motor_overload_above(const Situation& s) {
    using Of = figures::regions;
    return Of::at(s.tables, s.practice().region).then([&](const Of::Row& region) {
        switch (region.motor_overload()) {
            case Of::MotorOverload::iec_60204_1_motor:
                return figures::iec_60204_1_motor::motor_overload_above(s.tables);
            case Of::MotorOverload::bs_552_1_2:
                return figures::bs_552_1_2::motor_overload_above(s.tables);
            case Of::MotorOverload::nec_430_32:
                break;
        }
        return figures::nec_430_32::motor_overload_above(s.tables);
    });
}

namespace {

const plan::Load& load_of(const Situation& s, Index i) {
    return *s.plan[i].as<plan::Load>();
}

enum class Share : std::uint8_t { power_factor, efficiency };

/// By table motor-kinds; of an unknown kind the lowest figure.
tables::Figure<Ratio> lowest(const Situation& s, const plan::Load& load, Share share) {
    const std::optional<plan::Motor> motor = network::nameplate_of(load).motor;
    const electrical::Figures figures{s.tables, s.practice().family};
    return share == Share::power_factor ? electrical::least_power_factor(motor, figures)
                                        : electrical::least_efficiency(motor, figures);
}

/// Power at the shaft, as far as the plate tells: between what is surely there and the most that can be. What
/// is not printed lies between the low end of its table and 1.
struct Shaft {
    Power least{};
    std::optional<Power> most;  ///< nothing: the plate tells none
};
Shaft shaft_of(const Situation& s, Index i) {
    const plan::Load& load = load_of(s, i);
    if (!load.plate) return {};
    const plan::Plate& plate = *load.plate;
    if (plate.power_out.known()) return {*plate.power_out, *plate.power_out};
    if (const auto rated = rated_horsepower(load); rated && plate.horsepower_kind.known())
        return {*rated, *rated};
    const auto share = [&](const plan::Field<Ratio>& printed, Share column) {
        const auto low = lowest(s, load, column);
        return printed.known() ? *printed : low.value;
    };
    const Ratio efficiency = share(plate.efficiency, Share::efficiency);
    const Ratio best = plate.efficiency.known() ? *plate.efficiency : Ratio(1.0 * unit::one);
    if (plate.power_in.known()) return {*plate.power_in * efficiency, *plate.power_in * best};
    if (!plate.current.known()) return {};
    const bool three = s.plan[i].conductors.value_or(plan::Conductors{}).lines() == 3;
    const Power apparent =
        *plate.current * network::plate_voltage(s.plan, i) * ((three ? std::sqrt(3.0) : 1.0) * unit::one);
    const Ratio factor = share(plate.power_factor, Share::power_factor);
    const Ratio best_factor = plate.power_factor.known() ? *plate.power_factor : Ratio(1.0 * unit::one);
    return {apparent * factor * efficiency, apparent * best_factor * best};
}

bool above_power(Power power, Power edge) {
    return above(in(unit::watt, power), in(unit::watt, edge));
}

/// By its power.
Known is_large(const Situation& s, Index i, Power edge) {
    const Shaft shaft = shaft_of(s, i);
    if (above_power(shaft.least, edge)) return Known::yes;
    return shaft.most && !above_power(*shaft.most, edge) ? Known::no : Known::open;
}

/// It starts when nobody stands at it: by itself, or started by another load (NEC 430.32(B)).
Known starts_unseen(const plan::Load& load) {
    if (load.starts_with_index != plan::nowhere) return Known::yes;
    if (!load.self_starting.known()) return Known::open;
    if (!*load.self_starting) return Known::no;
    return load.self_starting.written() ? Known::yes : Known::open;
}

/// Somebody wired the motor, or fitted a plug to a bare one. A machine that is sold whole with its plug is
/// its maker's matter, and so is one that is wired, outside the NEC (BS 7671 552.1.2).
Known is_bare(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    const plan::Load& load = load_of(s, i);
    const bool plug = e.plug.known() || e.plug.stated_unknown;
    if (inside_a_machine(s, i)) return Known::no;
    if (load.sold_whole.is(true)) return plug || !s.nec() ? Known::no : Known::yes;
    if (!plug || load.sold_whole.is(false)) return Known::yes;
    return e.cable && e.cable->own.is(true) ? Known::open : Known::no;
}

/// Something that turns; nobody knows of an unknown kind whether it has a motor.
Known is_motor(const plan::Load& load) {
    if (!turns(load) || load.kind.is(plan::LoadKind::heater) || load.motor.is(plan::Motor::none))
        return Known::no;
    return load.motor.known() ? Known::yes : Known::open;
}

}  // namespace

MotorOwes motor_owes(const Situation& s, Index i, std::optional<Power> edge) {
    const plan::Load& load = load_of(s, i);
    const Known large = edge ? is_large(s, i, *edge) : Known::open;
    const Known any_size = is_installed(s, i) ? Known::yes : s.nec() ? starts_unseen(load) : Known::no;
    return {is_motor(load), large, any_size, is_bare(s, i)};
}

bool is_installed(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    return s.nec() && s.plan.head.mounting.is(plan::Mounting::fixed) && !e.plug.known() &&
           !e.plug.stated_unknown;
}

bool is_surely_large(const Situation& s, Index i, Power edge) {
    return above_power(shaft_of(s, i).least, edge);
}

void explain_power(const Situation& s, Working& working, Index i, const tables::Figure<Power>& edge) {
    const plan::Load& load = load_of(s, i);
    if (!load.plate || !above_power(shaft_of(s, i).least, edge.value)) return;
    const plan::Plate& plate = *load.plate;
    const Value from = working.written(edge.written);
    const std::vector<std::string> by{network::cited(edge.source)};
    if (plate.power_out.known())
        return working.compare(working.written(to_text(*plate.power_out, 6)), ">", from, by);
    if (plate.horsepower_kind.is(plan::HorsepowerKind::rated) && plate.horsepower.known())
        return working.compare(
            working.written(plain_digits(in(unit::horsepower, plate.horsepower->power)) + " hp"), ">", from,
            by);
    std::vector<Value> factors;
    std::vector<std::string> sources;
    std::string formula, pattern;
    const auto times = [&](std::string_view symbol, Value value) {
        formula += (formula.empty() ? "" : " * ") + std::string(symbol);
        pattern += pattern.empty() ? "{}" : " * {}";
        factors.push_back(value);
    };
    const auto share = [&](std::string_view symbol, const plan::Field<Ratio>& printed, Share column) {
        const auto low = lowest(s, load, column);
        if (printed.known()) return times(symbol, working.written(plain_digits(in(unit::one, *printed))));
        times(symbol, working.written(tables::written_number(low)));
        sources.push_back(network::cited(low.source));
    };
    if (plate.power_in.known()) {
        times("P_in", working.written(to_text(*plate.power_in, 6)));
    } else {
        if (s.plan[i].conductors.value_or(plan::Conductors{}).lines() == 3)
            times("sqrt(3)", working.computed(std::sqrt(3.0), ""));
        times("U", working.written(to_text(network::plate_voltage(s.plan, i), 6)));
        times("I", working.written(to_text(*plate.current, 6)));
        share("pf", plate.power_factor, Share::power_factor);
    }
    share("eff", plate.efficiency, Share::efficiency);
    working.compare(working.add("P_least", formula, pattern, factors, "W", sources), ">", from, by);
}

}  // namespace benchfeed::rules
