#include <benchfeed/report/core_colours.hpp>

#include <algorithm>
#include <array>

namespace benchfeed::report {

namespace {
struct Shade {
    std::string_view word, css;
};
/// Longer words first: "light blue" ends in "blue".
constexpr std::array shades{
    Shade{"light blue", "#59a5e0"}, Shade{"brown", "#7a4419"},  Shade{"blue", "#1f5fbf"},
    Shade{"grey", "#8a8a8a"},       Shade{"red", "#c4261d"},    Shade{"white", "#fff"},
    Shade{"orange", "#e07b16"},     Shade{"yellow", "#e8cf1b"}, Shade{"green", "#2f8a3b"},
    Shade{"black", "#000"},         Shade{"bare", "#b87333"}};
}  // namespace

std::vector<std::string_view> core_shades(std::string_view core) {
    if (core.ends_with("green-yellow")) return {"#2f8a3b", "#e8cf1b"};
    if (core.ends_with("green or bare")) return {"#2f8a3b", "#b87333"};
    const auto found =
        std::find_if(shades.begin(), shades.end(), [&](const Shade& s) { return core.ends_with(s.word); });
    if (found == shades.end()) return {};
    return {found->css};
}

}  // namespace benchfeed::report
