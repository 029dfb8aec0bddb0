#include "cli/files.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>

namespace benchfeed::cli {

namespace fs = std::filesystem;

namespace {

constexpr std::size_t most_bytes = std::size_t{64} << 20;

struct Closer {
    void operator()(std::FILE* file) const { std::fclose(file); }
};

FileOrFault read_all(std::FILE* file, const std::string& name) {
    std::string content;
    char buffer[16384];
    while (const std::size_t got = std::fread(buffer, 1, sizeof buffer, file)) {
        content.append(buffer, got);
        if (content.size() > most_bytes) return {std::nullopt, fmt::format("{} has more than 64 MiB", name)};
    }
    if (std::ferror(file) != 0)
        return {std::nullopt, fmt::format("cannot read {}: {}", name, std::strerror(errno))};
    return {std::move(content), ""};
}

void write(std::FILE* stream, std::string_view text) {
    std::fwrite(text.data(), 1, text.size(), stream);
}

}  // namespace

FileOrFault read_file(const std::string& path) {
    if (path == "-") return read_all(stdin, "standard input");
    const std::unique_ptr<std::FILE, Closer> file(std::fopen(path.c_str(), "rb"));
    if (!file) return {std::nullopt, fmt::format("cannot open {}: {}", path, std::strerror(errno))};
    return read_all(file.get(), path);
}

std::string write_file(const std::string& path, std::string_view content) {
    std::unique_ptr<std::FILE, Closer> file(std::fopen(path.c_str(), "wb"));
    if (!file) return fmt::format("cannot write {}: {}", path, std::strerror(errno));
    const bool whole = std::fwrite(content.data(), 1, content.size(), file.get()) == content.size();
    if (std::fclose(file.release()) != 0 || !whole)
        return fmt::format("cannot write {}: {}", path, std::strerror(errno));
    return "";
}

PlanList find_plans(const std::vector<std::string>& arguments) {
    PlanList list;
    for (const std::string& argument : arguments) {
        std::error_code error;
        if (argument == "-" || !fs::is_directory(argument, error)) {
            list.paths.push_back(argument);
            continue;
        }
        std::vector<std::string> below;
        for (fs::recursive_directory_iterator
                 it(argument, fs::directory_options::skip_permission_denied, error),
             end;
             it != end && !error; it.increment(error))
            if (it->is_regular_file(error) && it->path().extension() == ".toml")
                below.push_back(it->path().string());
        if (below.empty()) list.faults.push_back(fmt::format("there is no .toml file in {}", argument));
        std::sort(below.begin(), below.end());
        list.paths.insert(list.paths.end(), below.begin(), below.end());
    }
    return list;
}

void print(std::string_view text) {
    write(stdout, text);
}
void print_error(std::string_view text) {
    write(stderr, text);
}

}  // namespace benchfeed::cli
