#pragma once
// Values of a text replaced at their places.
#include <string>
#include <vector>

#include <benchfeed/advice/size.hpp>
#include <benchfeed/base/api.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::advice {

/// The text with these values replaced. Everything else stays byte for byte; a comment behind a value keeps
/// its column as long as there are spaces to give or take.
///
/// Pre  spans of one line each, in the document, without overlap.
[[nodiscard]] BENCHFEED_API std::string edited(const text::Document& document, std::vector<Edit> edits);

}  // namespace benchfeed::advice
