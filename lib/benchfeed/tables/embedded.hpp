#pragma once
// Texts that are built into the library: rule pages and starters.
#include <array>
#include <span>
#include <string_view>

namespace benchfeed::embedded {

/// A file that was built in, and its name without ending.
struct Text {
    std::string_view id, text;
};

/// lib/benchfeed/rules/**.md. Defined in a generated file of the rules.
[[nodiscard]] std::span<const Text> pages();
/// data/starters/*.toml. Defined in a generated file of the report.
[[nodiscard]] std::span<const Text> starters();

}  // namespace benchfeed::embedded
