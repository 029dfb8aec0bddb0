#pragma once
// Tables of the sheets: outlets, cables, tests, cores. For card.cpp alone.
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/advice/readings.hpp>
#include <benchfeed/advice/schedule.hpp>
#include <benchfeed/report/sheet.hpp>

namespace benchfeed::report {

/// What nobody knows, in a cell of a sheet.
inline const std::string unknown = "?";
/// Words with something between them.
[[nodiscard]] std::string joined(const std::vector<std::string>& words, std::string_view between);
/// Each outlet with what belongs there, its switch, its limit, and whether the load restarts by itself.
[[nodiscard]] SheetSection outlet_section(const rules::Situation& s);
/// Cords and runs, equal ones in one row, with the device that protects them.
[[nodiscard]] SheetSection cable_section(const rules::Situation& s);
/// Unplugged, tools out: for the builder.
[[nodiscard]] SheetSection dead_tests(const rules::Situation& s, const advice::Readings& read,
                                      const advice::Schedule& schedule);
/// With the power on: for an electrician.
[[nodiscard]] SheetSection live_tests(const rules::Situation& s, const advice::Readings& read);
/// A table for each cable, then the ways of each potential, then what is refused.
[[nodiscard]] std::vector<SheetSection> core_sections(const rules::Situation& s,
                                                      const advice::Schedule& schedule);

}  // namespace benchfeed::report
