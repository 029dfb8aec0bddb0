// Doors of the fuzzers opened to files, without a fuzzer: what they promise is held on every seed in every
// build.
//   doors DOOR FILE|FOLDER...      exit 2 where one of them is not there or holds no file: nothing was asked of it
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

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

}  // namespace

int main(int argc, char** argv) {
    const auto* door = std::find_if(std::begin(doors), std::end(doors),
                                    [&](const Door& d) { return argc > 2 && d.name == argv[1]; });
    if (door == std::end(doors)) return 2;
    std::vector<fs::path> files;
    for (int i = 2; i < argc; ++i) {
        const auto more = files_of(argv[i]);
        if (more.empty()) {
            std::fprintf(stderr, "%s: no such file, or a folder without any\n", argv[i]);
            return 2;
        }
        files.insert(files.end(), more.begin(), more.end());
    }
    for (const fs::path& file : files) {
        std::printf("%s\n", file.c_str());
        std::fflush(stdout);  // the last line names the file at which a promise was broken
        std::ifstream stream(file, std::ios::binary);
        if (!stream) {
            std::fprintf(stderr, "cannot be read\n");
            return 2;
        }
        const std::string bytes{std::istreambuf_iterator<char>(stream), {}};
        door->open(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
    }
    return 0;
}
