#pragma once
// Where the pieces of a long report go.
#include <functional>
#include <string_view>

namespace benchfeed::report {

/// Takes what is written, piece by piece and in order.
using Sink = std::function<void(std::string_view)>;

}  // namespace benchfeed::report
