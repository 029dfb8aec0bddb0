#pragma once
// Places in the text in which they stand: a plan's own, or a common file beside it.
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::report {

/// The same label with lines counted in its own text, and that text named where it is not the document.
[[nodiscard]] BENCHFEED_API Label located(const text::Document& document, Label label);
[[nodiscard]] std::vector<Label> located(const text::Document& document, std::vector<Label> labels);
/// Faults with all their places so.
[[nodiscard]] BENCHFEED_API Diagnostics located(const text::Document& document, Diagnostics diagnostics);

}  // namespace benchfeed::report
