#pragma once
// How a sheet looks in a browser and on its printer. For sheet_html.cpp alone.
#include <string>

#include <benchfeed/report/sheet.hpp>

namespace benchfeed::report {

/// What stands over the drawing.
inline constexpr std::string_view diagram_heading = "From the supply to the tools, amps of the worst set";
/// The style sheet: body of that many points on paper, cards in place of tables on a phone, dark where the
/// reader's screen is.
[[nodiscard]] std::string sheet_style(const Sheet& sheet, const Paper& paper, double points);
/// Words of others as a CSS string, quotes included: everything that could end it is an escape.
[[nodiscard]] std::string css_string(const std::string& words);

}  // namespace benchfeed::report
