#include "cli/terminal.hpp"

#include <malloc.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <string_view>

namespace benchfeed::cli {

void keep_freed_memory() {
#ifdef __GLIBC__
    mallopt(M_TRIM_THRESHOLD, 256 << 20);
    mallopt(M_TOP_PAD, 1 << 20);
#endif
}

std::size_t terminal_width() {
    winsize size{};
    if (isatty(STDOUT_FILENO) != 0 && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col >= 30)
        return std::min<std::size_t>(size.ws_col, 120);
    return 80;
}

bool wants_colour(Colour colour, bool to_file) {
    if (colour != Colour::automatic) return colour == Colour::always;
    if (to_file) return false;
    const char* no_colour = std::getenv("NO_COLOR");
    const char* terminal = std::getenv("TERM");
    if (terminal == nullptr || *terminal == '\0' || std::string_view(terminal) == "dumb") return false;
    return isatty(STDOUT_FILENO) != 0 && (no_colour == nullptr || *no_colour == '\0');
}

}  // namespace benchfeed::cli
