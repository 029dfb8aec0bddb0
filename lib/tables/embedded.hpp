#pragma once
// Texts that are built into the library: data tables and rule pages.
#include <array>
#include <span>
#include <string_view>

namespace benchfeed::embedded {

/// A file that was built in, and its name without ending.
struct Text {
    std::string_view id, text;
};

/// data/tables/**.toml. Defined in a generated file.
[[nodiscard]] std::span<const Text> tables();
/// lib/rules/**.md. Defined in a generated file of the rules.
[[nodiscard]] std::span<const Text> pages();
/// data/starters/*.toml. Defined in a generated file of the report.
[[nodiscard]] std::span<const Text> starters();

}  // namespace benchfeed::embedded
