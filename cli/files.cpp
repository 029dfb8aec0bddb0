#include "cli/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <glob.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <filesystem>

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

/// All .toml files below a folder. A folder that cannot be read is a fault, the others are still looked at.
void list_folder(const fs::path& folder, PlanList& list, std::vector<std::string>& found) {
    std::error_code error;
    fs::directory_iterator it(folder, error);
    std::vector<fs::path> folders;
    for (; !error && it != fs::directory_iterator(); it.increment(error)) {
        std::error_code kind_error;
        if (it->is_directory(kind_error) && !it->is_symlink(kind_error))
            folders.push_back(it->path());
        else if (it->path().extension() == ".toml" && !it->is_directory(kind_error))
            found.push_back(it->path().string());
    }
    if (error)
        list.faults.push_back(
            {folder.string(), fmt::format("cannot read folder {}: {}", folder.string(), error.message())});
    for (const fs::path& inner : folders) list_folder(inner, list, found);
}

void add_folder(const std::string& argument, PlanList& list) {
    std::vector<std::string> found;
    const std::size_t faults = list.faults.size();
    list_folder(argument, list, found);
    if (found.empty() && list.faults.size() == faults)
        list.faults.push_back({argument, fmt::format("there is no .toml file in {}", argument)});
    std::sort(found.begin(), found.end());
    list.paths.insert(list.paths.end(), found.begin(), found.end());
}

/// Files that match a pattern, for shells and configuration files that leave patterns alone.
void add_matches(const std::string& pattern, PlanList& list) {
    glob_t matches{};
    const int result = glob(pattern.c_str(), 0, nullptr, &matches);
    const std::vector<std::string> found(matches.gl_pathv, matches.gl_pathv + matches.gl_pathc);
    globfree(&matches);
    if (result != 0 || found.empty()) {
        list.faults.push_back({pattern, fmt::format("no file matches {}", pattern)});
        return;
    }
    for (const std::string& path : found) {
        std::error_code error;
        if (fs::is_directory(path, error))
            add_folder(path, list);
        else
            list.paths.push_back(path);
    }
}

/// Where print() goes. The path of the temporary file stands in a plain array: a signal handler removes it.
struct Output {
    std::FILE* stream = stdout;
    std::string path;
    int error = 0;  ///< first errno of a write that failed
};
Output& output() {
    static Output one;
    return one;
}
std::array<char, 4096> temporary{};

void write(std::FILE* stream, std::string_view text, int& error) {
    if (text.empty() || error != 0) return;
    errno = 0;
    if (std::fwrite(text.data(), 1, text.size(), stream) != text.size()) error = errno == 0 ? EIO : errno;
}

/// A reader that went away, or a stream that was closed before we began.
bool nobody_reads(int error) {
    return error == EPIPE || error == EBADF;
}

extern "C" void end_clean(int signal) {
    if (temporary[0] != '\0') unlink(temporary.data());
    _exit(128 + signal);
}

}  // namespace

FileOrFault read_file(const std::string& path) {
    if (path == "-") return read_all(stdin, "standard input");
    const std::unique_ptr<std::FILE, Closer> file(std::fopen(path.c_str(), "rb"));
    if (!file) return {std::nullopt, fmt::format("cannot open {}: {}", path, std::strerror(errno))};
    return read_all(file.get(), path);
}

std::string write_file(const std::string& path, std::string_view content) {
    const auto fault = [&] { return fmt::format("cannot write {}: {}", path, std::strerror(errno)); };
    std::string beside = path + ".XXXXXX";
    const int descriptor = mkstemp(beside.data());
    if (descriptor < 0) return fault();
    const mode_t mask = umask(0);
    umask(mask);
    fchmod(descriptor, 0666u & ~mask);
    std::unique_ptr<std::FILE, Closer> file(fdopen(descriptor, "wb"));
    const bool whole = file && std::fwrite(content.data(), 1, content.size(), file.get()) == content.size();
    if (std::fclose(file.release()) == 0 && whole && std::rename(beside.c_str(), path.c_str()) == 0)
        return "";
    std::string words = fault();
    unlink(beside.c_str());
    return words;
}

PlanList find_plans(const std::vector<std::string>& arguments) {
    PlanList list;
    for (const std::string& argument : arguments) {
        std::error_code error;
        const bool there = argument == "-" || fs::exists(fs::symlink_status(argument, error));
        if (there && argument != "-" && fs::is_directory(argument, error))
            add_folder(argument, list);
        else if (!there && argument.find_first_of("*?[") != std::string::npos)
            add_matches(argument, list);
        else
            list.paths.push_back(argument);
    }
    return list;
}

void print(std::string_view text) {
    write(output().stream, text, output().error);
}
void print_error(std::string_view text) {
    int ignored = 0;
    write(stderr, text, ignored);
}

std::string direct_output(const std::string& path) {
    std::error_code error;
    // A link is followed, so that the file it leads to is replaced and not the link.
    const fs::path target = fs::is_symlink(path, error) ? fs::canonical(path, error) : fs::path(path);
    const bool special = fs::exists(target, error) && !fs::is_regular_file(target, error);
    const auto fault = [&] { return fmt::format("cannot write {}: {}", path, std::strerror(errno)); };
    if (special) {  // a device or a pipe cannot be replaced
        output().stream = std::fopen(target.c_str(), "wb");
        return output().stream ? "" : (output().stream = stdout, fault());
    }
    if (fs::exists(target, error) && access(target.c_str(), W_OK) != 0) return fault();
    const std::string beside = target.string() + ".XXXXXX";
    if (beside.size() + 1 > temporary.size())
        return fmt::format("cannot write {}: the name is too long", path);
    std::copy(beside.begin(), beside.end(), temporary.begin());
    const int file = mkstemp(temporary.data());
    if (file < 0) {
        temporary[0] = '\0';
        return fault();
    }
    struct stat old {};
    const mode_t mask = umask(0);
    umask(mask);
    fchmod(file, stat(target.c_str(), &old) == 0 ? old.st_mode & 07777u : 0666u & ~mask);
    output().stream = fdopen(file, "wb");
    output().path = target.string();
    return "";
}

std::string finish_output() {
    Output& out = output();
    if (out.error == 0 && std::fflush(out.stream) != 0) out.error = errno;
    if (out.path.empty()) {
        if (out.error == 0 || nobody_reads(out.error)) return "";
        return fmt::format("cannot write the report: {}", std::strerror(out.error));
    }
    if (std::fclose(out.stream) != 0 && out.error == 0) out.error = errno;
    out.stream = stdout;
    if (out.error == 0 && std::rename(temporary.data(), out.path.c_str()) != 0) out.error = errno;
    if (out.error != 0) unlink(temporary.data());
    temporary[0] = '\0';
    return out.error == 0 ? "" : fmt::format("cannot write {}: {}", out.path, std::strerror(out.error));
}

void end_clean_on_signals() {
    struct sigaction action {};
    action.sa_handler = end_clean;
    for (const int signal : {SIGINT, SIGTERM}) {
        struct sigaction before {};
        sigaction(signal, nullptr, &before);
        if (before.sa_handler != SIG_IGN) sigaction(signal, &action, nullptr);
    }
}

void Spool::add(std::string_view text) {
    if (text.empty()) return;
    if (empty_) file_.reset(std::tmpfile());
    empty_ = false;
    if (!file_ || std::fwrite(text.data(), 1, text.size(), file_.get()) != text.size()) text_ += text;
}

void Spool::print_all() const {
    char buffer[16384];
    if (file_) {
        std::rewind(file_.get());
        while (const std::size_t got = std::fread(buffer, 1, sizeof buffer, file_.get()))
            print({buffer, got});
    }
    print(text_);
}

}  // namespace benchfeed::cli
