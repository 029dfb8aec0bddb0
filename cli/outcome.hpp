#pragma once
// How the program ends where no command decides it.
#include <string>

namespace benchfeed::cli {

/// Says why nothing came of it; the exit code of that.
int refused(const std::string& fault);

/// All that is to be printed is out, or why not is told: then whatever was found is not known to the reader.
int closed(int exit);

}  // namespace benchfeed::cli
