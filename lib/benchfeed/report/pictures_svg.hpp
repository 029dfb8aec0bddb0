#pragma once
// Drawings of a report: black on white, hatched, legible at 360 units of width and printed without colour.
// What they show stands in tables beside them, so they carry few numbers.
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/advice/pictures.hpp>

namespace benchfeed::report {

/// `id` goes before the names of the drawing's own patterns: unlike drawings of one page need unlike ones.
/// Each is one `svg` element with a title, well-formed XML, without scripts and links.
[[nodiscard]] std::string load_svg(const rules::Situation& s, const std::vector<advice::LoadBar>& bars,
                                   std::string_view id);
[[nodiscard]] std::string volts_svg(const rules::Situation& s, const advice::VoltPicture& picture,
                                    std::string_view id);
[[nodiscard]] std::string start_svg(const rules::Situation& s, const advice::StartPicture& picture,
                                    std::string_view id);

}  // namespace benchfeed::report
