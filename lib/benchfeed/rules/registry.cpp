// The list of rules. Order: worst harm first; reports list equals in this order.
#include <algorithm>
#include <array>

#include <benchfeed/rules/rules.hpp>
#include <benchfeed/tables/embedded.hpp>

namespace benchfeed::rules {

std::span<const Rule> registry() {
    static const std::array list{
        plug_overloaded::rule,
        outlet_overloaded::rule,
        tool_socket_overloaded::rule,
        cable_overloaded::rule,
        cable_unprotected::rule,
        neutral_overloaded::rule,
        element_unprotected::rule,
        switch_overloaded::rule,
        switch_motor_rating::rule,
        device_overloaded::rule,
        source_overloaded::rule,
        reel_wound::rule,
        short_circuit_slow::rule,
        fault_energy::rule,
        breaking_capacity::rule,
        box_overfilled::rule,
        terminal_mismatch::rule,
        chained_leads::rule,
        plug_pattern_mismatch::rule,
        motor_circuit::rule,
        motor_unprotected::rule,
        speed_control_mismatch::rule,
        section_below_minimum::rule,
        dust::rule,
        protective_conductor::rule,
        no_earth_contact::rule,
        reading_beyond::rule,
        no_residual_protection::rule,
        slow_disconnection::rule,
        one_pole_off::rule,
        lines_not_ganged::rule,
        joined_neutrals::rule,
        cores_missing::rule,
        residual_type::rule,
        cable_unsuited::rule,
        no_grip::rule,
        no_isolator::rule,
        wet_site::rule,
        second_supply::rule,
        no_volt_missing::rule,
        stop_without_effect::rule,
        stop_misses_cutter::rule,
        contacts_weld::rule,
        self_reset::rule,
        remote_start::rule,
        several_at_once::rule,
        lights_cut::rule,
        wrong_voltage::rule,
        collapse::rule,
        running_drop::rule,
        start_dip::rule,
        start_surge::rule,
        simultaneous_starts::rule,
        leakage::rule,
        implausible::rule,
        contradiction::rule,
        unknown::rule,
        assumed::rule,
        unreadable::rule,
        accept_unmatched::rule,
        accept_outdated::rule,
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
