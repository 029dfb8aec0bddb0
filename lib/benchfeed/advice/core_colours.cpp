#include <benchfeed/advice/core_colours.hpp>

#include <fmt/format.h>

#include <array>

#include <benchfeed/figures/core_colours.hpp>
#include <benchfeed/figures/iec_60445_colours.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::advice {

namespace {

using Cores = figures::core_colours;

/// The colours of a row, core by core.
std::array<std::string_view, 4> cores_of(const Cores::Row& row) {
    return {row.core_1(), row.core_2(), row.core_3(), row.core_4()};
}

}  // namespace

CoreColours core_colours(const rules::Situation& s, const plan::Stock& stock) {
    const network::Practice& practice = s.practice();
    const std::string& colours = rules::is_cord(s, stock) ? practice.colours_cord : practice.colours_fixed;
    const int live = stock.cores.value_or(0) - (stock.protective.is(false) ? 0 : 1);
    CoreColours found;
    if (const auto row = figures::iec_60445_colours::at(s.tables, colours))
        found.protective = std::string(row->protective_earth());
    if (const auto pair = Cores::at(s.tables, colours, 2.0 * unit::one)) {
        found.line_colour = std::string(pair->core_1());
        found.neutral_colour = std::string(pair->core_2());
        found.marked_feeds = pair->marked_feeds() == Cores::MarkedFeeds::yes;
    }
    const auto row = Cores::at(s.tables, colours, live * unit::one);
    for (int i = 0; i < live; ++i)
        found.live.push_back(row ? std::string(cores_of(*row)[static_cast<std::size_t>(i)])
                                 : fmt::format("core {}", i + 1));
    if (!row) return found;
    if (const std::optional<tables::Figure<Ratio>> neutral = row->neutral())
        if (const double at = in(unit::one, neutral->value); at > 0)
            found.neutral = static_cast<std::size_t>(at) - 1;
    return found;
}

}  // namespace benchfeed::advice
