#include "cli/common_source.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "cli/files.hpp"

namespace benchfeed::cli {

namespace fs = std::filesystem;

namespace {

/// As the user named it, and with all links followed.
struct Root {
    fs::path named = ".", real;
};
Root& root() {
    static Root one;
    return one;
}

bool is_below(const fs::path& path, const fs::path& folder) {
    return std::mismatch(folder.begin(), folder.end(), path.begin(), path.end()).first == folder.end();
}

/// Words that do not tell what stands outside of the root, or whether anything does.
plan::Asked path_of(const Root& root, const std::string& name, const std::string& from) {
    if (name.empty() || name.find('\0') != std::string::npos) return {"", "is no name of a file"};
    if (fs::path(name).is_absolute())
        return {"", "is an absolute path: common files are named from the folder of the plan"};
    const fs::path folder = from == "standard input" ? fs::path(".") : fs::path(from).parent_path();
    std::error_code error;
    const fs::path there = fs::weakly_canonical(folder / name, error);
    if (error || !is_below(there, root.real))
        return {"", fmt::format("leads out of {}, the folder below which common files are read (--root)",
                                root.named.string())};
    if (!fs::exists(there, error)) return {"", "is not there"};
    if (!fs::is_regular_file(there, error)) return {"", "is no plain file"};
    return {fs::proximate(there, error).string(), ""};
}

plan::Asked text_of(const std::string& path) {
    std::error_code error;
    const auto size = fs::file_size(path, error);
    if (!error && size > plan::CommonFiles::most_bytes)
        return {"", fmt::format("has more than {} MiB", plan::CommonFiles::most_bytes >> 20)};
    note_read(path);
    FileOrFault file = read_file(path);
    if (!file.content) return {"", "cannot be read"};
    return {std::move(*file.content), ""};
}

}  // namespace

std::string set_root(const std::string& folder) {
    std::error_code error;
    root().named = folder;
    root().real = fs::canonical(folder, error);
    if (error || !fs::is_directory(root().real, error)) return fmt::format("--root {} is no folder", folder);
    return "";
}

plan::CommonSource common_source() {
    if (root().real.empty()) (void)set_root(".");
    return {[](const auto& name, const auto& from) { return path_of(root(), name, from); }, text_of};
}

plan::CommonSource common_source(const std::string& folder) {
    if (folder.empty()) return common_source();
    std::error_code error;
    const Root own{folder, fs::canonical(folder, error)};
    return {[own](const auto& name, const auto& from) { return path_of(own, name, from); }, text_of};
}

}  // namespace benchfeed::cli
