#pragma once
// What the program asks of the terminal and of the system it runs on.
#include <cstddef>
#include <cstdint>

namespace benchfeed::cli {

/// What one plan leaves the next one takes: asking the system for it again costs more than a twentieth of the
/// time.
void keep_freed_memory();

/// Width of the terminal, at least 30 and at most 120; 80 where there is none.
[[nodiscard]] std::size_t terminal_width();

enum class Colour : std::uint8_t { automatic, always, never };

/// Automatic: a terminal gets colour, unless TERM says that it knows none, NO_COLOR is set or the output goes
/// to a file.
[[nodiscard]] bool wants_colour(Colour colour, bool to_file);

}  // namespace benchfeed::cli
