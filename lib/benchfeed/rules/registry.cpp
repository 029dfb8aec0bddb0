// The list of rules. Order: worst harm first; reports list equals in this order.
#include <algorithm>
#include <array>

#include <benchfeed/rules/rules.hpp>
#include <benchfeed/tables/embedded.hpp>

namespace benchfeed::rules {

std::span<const Rule> registry() {
    static const std::array list{
        plug_overloaded,
        outlet_overloaded,
        tool_socket_overloaded,
        cable_overloaded,
        cable_unprotected,
        neutral_overloaded,
        element_unprotected,
        switch_overloaded,
        switch_motor_rating,
        device_overloaded,
        source_overloaded,
        reel_wound,
        short_circuit_slow,
        fault_energy,
        breaking_capacity,
        box_overfilled,
        terminal_mismatch,
        chained_leads,
        plug_pattern_mismatch,
        motor_circuit,
        motor_unprotected,
        speed_control_mismatch,
        section_below_minimum,
        dust,
        protective_conductor,
        no_earth_contact,
        reading_beyond,
        no_residual_protection,
        slow_disconnection,
        one_pole_off,
        lines_not_ganged,
        joined_neutrals,
        cores_missing,
        residual_type,
        cable_unsuited,
        no_grip,
        no_isolator,
        wet_site,
        second_supply,
        no_volt_missing,
        stop_without_effect,
        stop_misses_cutter,
        contacts_weld,
        self_reset,
        remote_start,
        several_at_once,
        lights_cut,
        wrong_voltage,
        collapse,
        running_drop,
        start_dip,
        start_surge,
        simultaneous_starts,
        leakage,
        implausible,
        contradiction,
        unknown,
        assumed,
        unreadable,
        accept_unmatched,
        accept_outdated,
    };
    return list;
}

const Rule* find_rule(std::string_view id) {
    const auto all = registry();
    const auto it = std::find_if(all.begin(), all.end(), [&](const Rule& rule) { return rule.id == id; });
    return it == all.end() ? nullptr : &*it;
}

/// Pages are named after their rule's file: heat.plug-overloaded stands in plug_overloaded.md.
std::string_view page(std::string_view rule_id) {
    const auto dot = rule_id.find('.');
    if (dot == std::string_view::npos || !find_rule(rule_id)) return {};
    std::string name(rule_id.substr(dot + 1));
    std::replace(name.begin(), name.end(), '-', '_');
    for (const auto& text : embedded::pages())
        if (text.id == name) return text.text;
    return {};
}

std::string_view words(Verdict verdict) {
    constexpr std::string_view names[] = {"ok", "caution", "cannot judge", "fail"};
    return names[static_cast<std::size_t>(verdict)];
}
std::string_view words(Part part) {
    constexpr std::string_view names[] = {"", "plug", "fuse", "inlet", "cable"};
    return names[static_cast<std::size_t>(part)];
}
std::string_view words(Basis basis) {
    constexpr std::string_view names[] = {"standard", "recommendation", "marking",
                                          "physics",  "practice",       "local"};
    return names[static_cast<std::size_t>(basis)];
}
std::string_view words(Harm harm) {
    constexpr std::string_view names[] = {"heat", "volts", "trip", "shock", "restart", "plan"};
    return names[static_cast<std::size_t>(harm)];
}
std::string_view words(Cost cost) {
    constexpr std::string_view names[] = {"free", "cheap", "moderate", "electrician"};
    return names[static_cast<std::size_t>(cost)];
}

}  // namespace benchfeed::rules
