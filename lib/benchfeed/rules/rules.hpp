#pragma once
// Every rule, one line each. The registry lists them in this order; a new rule adds its line here and there.
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::rules {

// clang-format off
namespace plug_overloaded { extern const Rule rule; }
namespace outlet_overloaded { extern const Rule rule; }
namespace tool_socket_overloaded { extern const Rule rule; }
namespace cable_overloaded { extern const Rule rule; }
namespace cable_unprotected { extern const Rule rule; }
namespace neutral_overloaded { extern const Rule rule; }
namespace element_unprotected { extern const Rule rule; }
namespace switch_overloaded { extern const Rule rule; }
namespace switch_motor_rating { extern const Rule rule; }
namespace device_overloaded { extern const Rule rule; }
namespace source_overloaded { extern const Rule rule; }
namespace reel_wound { extern const Rule rule; }
namespace short_circuit_slow { extern const Rule rule; }
namespace fault_energy { extern const Rule rule; }
namespace breaking_capacity { extern const Rule rule; }
namespace box_overfilled { extern const Rule rule; }
namespace terminal_mismatch { extern const Rule rule; }
namespace chained_leads { extern const Rule rule; }
namespace plug_pattern_mismatch { extern const Rule rule; }
namespace motor_circuit { extern const Rule rule; }
namespace motor_unprotected { extern const Rule rule; }
namespace speed_control_mismatch { extern const Rule rule; }
namespace section_below_minimum { extern const Rule rule; }
namespace dust { extern const Rule rule; }
namespace protective_conductor { extern const Rule rule; }
namespace no_earth_contact { extern const Rule rule; }
namespace reading_beyond { extern const Rule rule; }
namespace no_residual_protection { extern const Rule rule; }
namespace slow_disconnection { extern const Rule rule; }
namespace one_pole_off { extern const Rule rule; }
namespace lines_not_ganged { extern const Rule rule; }
namespace joined_neutrals { extern const Rule rule; }
namespace cores_missing { extern const Rule rule; }
namespace residual_type { extern const Rule rule; }
namespace cable_unsuited { extern const Rule rule; }
namespace no_grip { extern const Rule rule; }
namespace no_isolator { extern const Rule rule; }
namespace wet_site { extern const Rule rule; }
namespace second_supply { extern const Rule rule; }
namespace no_volt_missing { extern const Rule rule; }
namespace stop_without_effect { extern const Rule rule; }
namespace stop_misses_cutter { extern const Rule rule; }
namespace contacts_weld { extern const Rule rule; }
namespace self_reset { extern const Rule rule; }
namespace remote_start { extern const Rule rule; }
namespace several_at_once { extern const Rule rule; }
namespace lights_cut { extern const Rule rule; }
namespace wrong_voltage { extern const Rule rule; }
namespace collapse { extern const Rule rule; }
namespace running_drop { extern const Rule rule; }
namespace start_dip { extern const Rule rule; }
namespace start_surge { extern const Rule rule; }
namespace simultaneous_starts { extern const Rule rule; }
namespace leakage { extern const Rule rule; }
namespace implausible { extern const Rule rule; }
namespace contradiction { extern const Rule rule; }
namespace unknown { extern const Rule rule; }
namespace assumed { extern const Rule rule; }
namespace unreadable { extern const Rule rule; }
namespace accept_unmatched { extern const Rule rule; }
namespace accept_outdated { extern const Rule rule; }
// clang-format on

}  // namespace benchfeed::rules
