#include <benchfeed/report/starter.hpp>

#include <algorithm>

#include <benchfeed/tables/embedded.hpp>

namespace benchfeed::report {

namespace {

/// data/starters/eu.toml belongs to region EU.
bool same_region(std::string_view file, std::string_view region) {
    return std::equal(file.begin(), file.end(), region.begin(), region.end(), [](char a, char b) {
        return a == (b >= 'A' && b <= 'Z' ? static_cast<char>(b - 'A' + 'a') : b);
    });
}

/// The region as the text itself says it.
std::string_view region_of(std::string_view text) {
    const auto line = text.find("region   = \"");
    if (line == std::string_view::npos) return {};
    const auto from = line + 12;
    return text.substr(from, text.find('"', from) - from);
}

}  // namespace

std::string_view starter(std::string_view region) {
    for (const auto& text : embedded::starters())
        if (same_region(text.id, region)) return text.text;
    return {};
}

std::vector<std::string_view> starter_regions() {
    std::vector<std::string_view> regions;
    for (const auto& text : embedded::starters()) regions.push_back(region_of(text.text));
    return regions;
}

}  // namespace benchfeed::report
