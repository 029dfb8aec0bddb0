#include <benchfeed/rules/wired_motor.hpp>

#include <benchfeed/figures/nec_240_6_a.hpp>
#include <benchfeed/figures/nec_430_52.hpp>
#include <benchfeed/network/load_current.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

std::optional<Power> rated_horsepower(const plan::Load& load) {
    if (!load.plate || !load.plate->horsepower.known()) return std::nullopt;
    if (load.plate->horsepower_kind.is(plan::HorsepowerKind::peak)) return std::nullopt;
    return load.plate->horsepower->power;
}

std::optional<tables::Figure<Current>> motor_table_amps(const Situation& s, Index load) {
    const auto power = rated_horsepower(*s.plan[load].as<plan::Load>());
    if (!power) return std::nullopt;
    const auto conductors = s.plan[load].conductors.value_or(plan::Conductors{});
    return electrical::motor_table_current({s.tables, s.practice().family}, conductors.lines() == 3, *power,
                                           network::plate_voltage(s.plan, load));
}

Index one_load_behind(const Situation& s, Index element) {
    for (Index down = element;;) {
        const plan::Element& e = s.plan[down];
        if (e.plug.written() || e.kind == plan::Kind::outlet) return plan::nowhere;
        if (e.kind == plan::Kind::load) return e.children.empty() ? down : plan::nowhere;
        if (e.children.size() != 1) return plan::nowhere;
        down = e.children.front();
    }
}

namespace {

/// The next standard rating at or above a current; the current itself beyond the last.
Current next_standard_rating(const Situation& s, Current current) {
    using Of = figures::nec_240_6_a;
    std::optional<Current> next;
    for (const Of::Row row : Of::rows(s.tables)) {
        const Current rating = row.rating().value;
        if (row.device() != Of::Device::fuse_or_breaker || above(current, rating)) continue;
        if (!next || rating < *next) next = rating;
    }
    return next.value_or(current);
}

}  // namespace

std::optional<MotorDevice> largest_motor_device(const Situation& s, Index load, const network::Guard& guard) {
    using Of = figures::nec_430_52;
    const bool three = s.plan[load].conductors.value_or(plan::Conductors{}).lines() == 3;
    const Of::Row row = Of::at(
        s.tables, three ? Of::MotorType::ac_polyphase_other_than_wound_rotor : Of::MotorType::single_phase);
    const bool fuse = guard.standard == plan::DeviceStandard::ul_248;
    const auto share = fuse ? row.nontime_delay_fuse() : row.inverse_time_breaker();
    const auto printed = motor_table_amps(s, load);
    const auto& plate = s.plan[load].as<plan::Load>()->plate;
    const std::optional<Current> amps = printed ? std::optional(printed->value)
                                        : plate ? plate->current.value
                                                : std::nullopt;
    if (!amps) return std::nullopt;
    MotorDevice found;
    found.share = share.value;
    found.most = next_standard_rating(s, Current(*amps * share.value));
    found.by_plate = !printed;
    found.source = share.source;
    return found;
}

}  // namespace benchfeed::rules
