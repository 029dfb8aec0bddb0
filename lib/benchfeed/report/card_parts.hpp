#pragma once
// What the sheets share, and their tables: outlets, cables, tests. Not for use outside this folder.
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/advice/schedule.hpp>
#include <benchfeed/advice/together.hpp>
#include <benchfeed/report/card.hpp>
#include <benchfeed/report/sheet.hpp>
#include <benchfeed/rules/readings.hpp>

namespace benchfeed::report {

/// What nobody knows, in a cell of a sheet.
inline const std::string unknown = "?";
/// Before the status of a sheet that was made with --set.
inline constexpr std::string_view what_if_words = "WHAT-IF, NOT THE BENCH AS PLANNED. ";
/// Words with something between them.
[[nodiscard]] std::string joined(const std::vector<std::string>& words, std::string_view between);
/// Title, place, revision, status and foot of a bench's sheet.
[[nodiscard]] Sheet started_sheet(const text::Document& document, const rules::Situation& s,
                                  const rules::Judgement& judgement, const Tool& tool,
                                  const CardOptions& options);
/// Each outlet with what belongs there, its switch, its limit, and whether the load restarts by itself.
[[nodiscard]] SheetSection outlet_section(const rules::Situation& s);
/// Cords and runs, equal ones in one row, with the device that protects them.
[[nodiscard]] SheetSection cable_section(const rules::Situation& s);
/// Unplugged, tools out: for the builder.
[[nodiscard]] SheetSection dead_tests(const rules::Situation& s, const rules::Readings& read,
                                      const advice::Schedule& schedule, int& number);
/// With the power on: for an electrician. `number` is the last one given to a test, before and after.
[[nodiscard]] SheetSection live_tests(const rules::Situation& s, const rules::Readings& read, int& number);
/// Every set that is forbidden: as a list, or as the amps that may be added up at each place.
[[nodiscard]] SheetSection never_section(const rules::Situation& s, const rules::Judgement& judgement,
                                         const advice::TogetherAnswer& answer);
}  // namespace benchfeed::report
