// Doors of the fuzzers opened to files, without a fuzzer: what they promise is held on every seed in every
// build.
//   doors [--large] DOOR FILE|FOLDER...      exit 2 where one of them is not there or holds no file, or the
//   door leaves all of them out: nothing was asked of it
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <sstream>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "../door.hpp"

#define DOOR(name) extern "C" int door_##name(const std::uint8_t* data, std::size_t size);
#include "doors.inc"
#undef DOOR

namespace {

namespace fs = std::filesystem;

struct Door {
    std::string_view name;
    int (*open)(const std::uint8_t*, std::size_t);
};
constexpr Door doors[] = {
#define DOOR(name) {#name, door_##name},
#include "doors.inc"
#undef DOOR
};

/// A file, or those of a folder in the order of their names.
std::vector<fs::path> files_of(const fs::path& argument) {
    if (fs::is_regular_file(argument)) return {argument};
    std::vector<fs::path> files;
    if (!fs::is_directory(argument)) return files;
    for (const auto& entry : fs::directory_iterator(argument))
        if (entry.is_regular_file()) files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    return files;
}

/// The tables of a text again and again up to 64 kB, each time under other names: elements more at the same
/// places, prices of further types. What an outlet has room for once is there once: tables without a name,
/// lists of tables, the supply, what is plugged in for good, and what stands behind a NUL.
std::string enlarged(const std::string& input) {
    constexpr std::size_t large = 65536;
    const std::string text = input.substr(0, input.find('\0')), rest = input.substr(text.size());
    std::vector<std::pair<std::string, std::string>> tables;  // "[kind.name" and what follows it
    const std::regex head(
        "^\\[((?:box|device|outlet|switch|load|stock|metal)\\.[A-Za-z0-9_-]+|(?:price|sold)\\.\"[^\"]+)");
    std::istringstream lines(text);
    bool within = false;
    for (std::string line; std::getline(lines, line);) {
        std::smatch found;
        if (!line.empty() && line.front() == '[') {
            within = std::regex_search(line, found, head);
            if (within) tables.emplace_back("[" + found[1].str(), found.suffix().str() + "\n");
        } else if (within) {
            tables.back().second += line + "\n";
        }
    }
    std::string all = text + "\n";
    const auto add = [&](const std::string& more) {
        if (all.size() + more.size() + rest.size() > large) return false;
        all += more;
        return true;
    };
    std::erase_if(tables, [](const auto& table) {
        return !table.first.starts_with("[load.") && table.second.find("\nplug") != std::string::npos;
    });
    bool fits = !tables.empty();
    for (int copy = 1; fits; ++copy)
        for (const auto& [name, body] : tables) fits = fits && add(name + "-x" + std::to_string(copy) + body);
    while (add("# and so on, and so forth\n")) {
    }
    return all + rest;
}

}  // namespace

int main(int argc, char** argv) {
    const bool large = argc > 1 && std::string_view(argv[1]) == "--large";
    const int first = large ? 2 : 1;
    const auto* door = std::find_if(std::begin(doors), std::end(doors),
                                    [&](const Door& d) { return argc > first + 1 && d.name == argv[first]; });
    if (door == std::end(doors)) return 2;
    std::vector<fs::path> files;
    for (int i = first + 1; i < argc; ++i) {
        const auto more = files_of(argv[i]);
        if (more.empty()) {
            std::fprintf(stderr, "%s: no such file, or a folder without any\n", argv[i]);
            return 2;
        }
        files.insert(files.end(), more.begin(), more.end());
    }
    bool looked_at_one = false;
    for (const fs::path& file : files) {
        std::printf("%s\n", file.c_str());
        std::fflush(stdout);  // the last line names the file at which a promise was broken
        std::ifstream stream(file, std::ios::binary);
        if (!stream) {
            std::fprintf(stderr, "cannot be read\n");
            return 2;
        }
        std::string bytes{std::istreambuf_iterator<char>(stream), {}};
        if (large) {
            bytes = enlarged(bytes);
            const auto judged = benchfeed::check({file.string(), bytes}, benchfeed::tables::Catalogue());
            if (door->name != "lists" && !std::holds_alternative<benchfeed::Judged>(judged)) {
                std::fprintf(stderr, "no plan any more: no door would look at it\n");
                return 2;
            }
        }
        benchfeed::fuzz::left_out = false;
        door->open(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
        looked_at_one = looked_at_one || !benchfeed::fuzz::left_out;
    }
    if (looked_at_one) return 0;
    std::fprintf(stderr, "all of them are too large for this door: it looked at none\n");
    return 2;
}
