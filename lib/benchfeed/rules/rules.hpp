#pragma once
// Every rule, one line each. The registry lists them in this order; a new rule adds its line here and there.
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

extern const Rule plug_overloaded;
extern const Rule outlet_overloaded;
extern const Rule tool_socket_overloaded;
extern const Rule device_overloaded;
extern const Rule source_overloaded;
extern const Rule switch_overloaded;
extern const Rule switch_motor_rating;
extern const Rule element_unprotected;
extern const Rule cable_overloaded;
extern const Rule cable_unprotected;
extern const Rule neutral_overloaded;
extern const Rule reel_wound;
extern const Rule short_circuit_slow;
extern const Rule fault_energy;
extern const Rule breaking_capacity;
extern const Rule box_overfilled;
extern const Rule terminal_mismatch;
extern const Rule chained_leads;
extern const Rule plug_pattern_mismatch;
extern const Rule motor_circuit;
extern const Rule motor_unprotected;
extern const Rule speed_control_mismatch;
extern const Rule section_below_minimum;
extern const Rule dust;
extern const Rule running_drop;
extern const Rule wrong_voltage;
extern const Rule collapse;
extern const Rule start_dip;
extern const Rule start_surge;
extern const Rule simultaneous_starts;
extern const Rule one_pole_off;
extern const Rule slow_disconnection;
extern const Rule lines_not_ganged;
extern const Rule protective_conductor;
extern const Rule no_earth_contact;
extern const Rule reading_beyond;
extern const Rule no_residual_protection;
extern const Rule residual_type;
extern const Rule cores_missing;
extern const Rule joined_neutrals;
extern const Rule second_supply;
extern const Rule cable_unsuited;
extern const Rule no_grip;
extern const Rule no_isolator;
extern const Rule wet_site;
extern const Rule no_volt_missing;
extern const Rule self_reset;
extern const Rule remote_start;
extern const Rule several_at_once;
extern const Rule lights_cut;
extern const Rule stop_without_effect;
extern const Rule stop_misses_cutter;
extern const Rule contacts_weld;
extern const Rule leakage;
extern const Rule implausible;
extern const Rule contradiction;
extern const Rule unknown;
extern const Rule assumed;
extern const Rule unreadable;
extern const Rule accept_unmatched;
extern const Rule accept_outdated;

}  // namespace benchfeed::rules
