#pragma once
// Cables, devices and lengths in the words of a region, for sheets and drawings.
#include <string>

#include <benchfeed/rules/rule.hpp>

namespace benchfeed::report {

/// "plug CEE 7/7, 5 m H07RN-F 3x1.5 mm2": what lies between an element and what feeds it; "" for nothing.
[[nodiscard]] std::string feed_words(const rules::Situation& s, plan::Index element);
/// "circuit breaker B 16 A, 30 mA": a device as its front says it.
[[nodiscard]] std::string device_words(const plan::Device& device);

}  // namespace benchfeed::report
