#include <benchfeed/advice/core_colours.hpp>

#include <fmt/format.h>

#include <array>

#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::advice {

namespace {

constexpr std::array<std::string_view, 4> core_columns{"core_1", "core_2", "core_3", "core_4"};

std::optional<std::size_t> row_of(const tables::Table& table, std::string_view colours, int live) {
    for (std::size_t row = 0; row < table.rows.size(); ++row)
        if (table.text(row, "colours") == colours && table.number(row, "live") == static_cast<double>(live))
            return row;
    return std::nullopt;
}

}  // namespace

CoreColours core_colours(const rules::Situation& s, const plan::Stock& stock) {
    const network::Practice& practice = s.practice();
    const std::string& colours = rules::is_cord(s, stock) ? practice.colours_cord : practice.colours_fixed;
    const int live = stock.cores.value_or(0) - (stock.protective.is(false) ? 0 : 1);
    CoreColours found;
    if (const tables::Table* table = s.tables.table("iec-60445-colours"))
        if (const auto row = table->row_of("region", colours))
            found.protective = std::string(table->text(*row, "protective_earth"));
    const tables::Table* table = s.tables.table("core-colours");
    const auto pair = table ? row_of(*table, colours, 2) : std::nullopt;
    if (pair) {
        found.line_colour = std::string(table->text(*pair, "core_1"));
        found.neutral_colour = std::string(table->text(*pair, "core_2"));
        found.marked_feeds = table->text(*pair, "marked_feeds") == "yes";
    }
    const auto row = table ? row_of(*table, colours, live) : std::nullopt;
    for (int i = 0; i < live; ++i)
        found.live.push_back(row ? std::string(table->text(*row, core_columns[static_cast<std::size_t>(i)]))
                                 : fmt::format("core {}", i + 1));
    if (row)
        if (const double neutral = table->number(*row, "neutral").value_or(0); neutral > 0)
            found.neutral = static_cast<std::size_t>(neutral) - 1;
    return found;
}

}  // namespace benchfeed::advice
