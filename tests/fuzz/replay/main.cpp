// Doors of the fuzzers opened to files, without a fuzzer: what they promise is held on every seed in every
// build.
//   doors DOOR FILE|FOLDER...
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

std::vector<fs::path> files_of(int count, char** arguments) {
    std::vector<fs::path> files;
    for (int i = 0; i < count; ++i) {
        if (!fs::is_directory(arguments[i])) {
            files.emplace_back(arguments[i]);
            continue;
        }
        for (const auto& entry : fs::directory_iterator(arguments[i]))
            if (entry.is_regular_file()) files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    return files;
}

}  // namespace

int main(int argc, char** argv) {
    const auto* door = std::find_if(std::begin(doors), std::end(doors),
                                    [&](const Door& d) { return argc > 2 && d.name == argv[1]; });
    if (door == std::end(doors)) return 2;
    const auto files = files_of(argc - 2, argv + 2);
    for (const fs::path& file : files) {
        std::printf("%s\n", file.c_str());
        std::fflush(stdout);  // the last line names the file at which a promise was broken
        std::ifstream stream(file, std::ios::binary);
        const std::string bytes{std::istreambuf_iterator<char>(stream), {}};
        door->open(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
    }
    return files.empty() ? 2 : 0;
}
