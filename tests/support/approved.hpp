#pragma once
// Texts that somebody has read and approved, kept in files. BENCHFEED_APPROVE=1 writes those that differ anew
// and names them; the run fails all the same, for nothing was held against anything in it. The next one
// holds.
#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "plans/expectations.hpp"

namespace benchfeed::test {

inline bool approving() {
    return std::getenv("BENCHFEED_APPROVE") != nullptr;
}

inline std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    return lines;
}

/// Lines of one text that the other one has not, or not as often, up to `most`: "  approved 12: ...".
inline std::string lines_beyond(const char* word, const std::vector<std::string>& of,
                                const std::vector<std::string>& other, std::size_t most) {
    std::map<std::string_view, std::ptrdiff_t> left;
    for (const std::string& line : other) ++left[line];
    std::string out;
    std::size_t differing = 0;
    for (std::size_t i = 0; i < of.size(); ++i)
        if (--left[of[i]] < 0 && ++differing <= most)
            out += "\n  " + std::string(word) + " " + std::to_string(i + 1) + ": " + of[i];
    if (differing > most)
        out += "\n  " + std::string(word) + ": and " + std::to_string(differing - most) + " lines more";
    return out;
}
inline std::string difference_of(const std::string& approved, const std::string& now, std::size_t most = 8) {
    const std::vector<std::string> was = lines_of(approved), is = lines_of(now);
    const std::string lines = lines_beyond("approved", was, is, most) + lines_beyond("now", is, was, most);
    return lines.empty() ? "\n  the order of lines, or how they end" : lines;
}

/// Holds a text to the approved one. Whether it is that one.
inline bool holds_as_approved(const std::filesystem::path& path, const std::string& now) {
    const std::string approved = read_text(path);
    if (approved == now && std::filesystem::exists(path)) return true;
    const std::string difference = path.filename().string() + difference_of(approved, now);
    if (!approving()) {
        FAIL_CHECK("not as approved: " << difference);
        return false;
    }
    std::ofstream out(path, std::ios::binary);
    out << now;
    out.close();
    const std::string done = out ? "written anew, read it: " : "cannot be written: ";
    FAIL_CHECK(done << difference);
    return false;
}

}  // namespace benchfeed::test
