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

/// A file that is written beside the one that it will replace.
struct Beside {
    std::FILE* stream = nullptr;
    std::string target, temporary;  ///< no temporary: a device or a pipe, which cannot be replaced
    std::string path;               ///< as given
    std::string fault;              ///< why there is no stream
};

/// A link is followed, so that the file it leads to is replaced and not the link; a file that may not be
/// written is left alone; the new one has the rights of the old.
Beside open_beside(const std::string& path) {
    std::error_code error;
    const fs::path target = fs::is_symlink(path, error) ? fs::canonical(path, error) : fs::path(path);
    Beside beside{nullptr, target.string(), "", path, ""};
    const auto refused = [&] {
        beside.fault = fmt::format("cannot write {}: {}", path, std::strerror(errno));
        return beside;
    };
    if (fs::exists(target, error) && !fs::is_regular_file(target, error)) {
        beside.stream = std::fopen(target.c_str(), "wb");
        return beside.stream ? beside : refused();
    }
    if (fs::exists(target, error) && access(target.c_str(), W_OK) != 0) return refused();
    std::string name = target.string() + "." + std::string(6, 'X');  // what mkstemp fills in
    const int file = mkstemp(name.data());
    if (file < 0) return refused();
    struct stat old {};
    const mode_t mask = umask(0);
    umask(mask);
    fchmod(file, stat(target.c_str(), &old) == 0 ? old.st_mode & 07777u : 0666u & ~mask);
    beside.stream = fdopen(file, "wb");
    beside.temporary = std::move(name);
    return beside;
}

/// Close it and put it in the place of its target, or take it away; why not in words, or "".
std::string take_its_place(const Beside& beside, int error) {
    if (std::fclose(beside.stream) != 0 && error == 0) error = errno;
    if (beside.temporary.empty())
        return error == 0 ? "" : fmt::format("cannot write {}: {}", beside.path, std::strerror(error));
    if (error == 0 && std::rename(beside.temporary.c_str(), beside.target.c_str()) != 0) error = errno;
    if (error == 0) return "";
    unlink(beside.temporary.c_str());
    return fmt::format("cannot write {}: {}", beside.path, std::strerror(error));
}

/// Where print() goes. The path of the temporary file stands in a plain array: a signal handler removes it.
struct Output {
    std::FILE* stream = stdout;
    std::optional<Beside> beside;
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
    const Beside beside = open_beside(path);
    if (!beside.stream) return beside.fault;
    int error = 0;
    write(beside.stream, content, error);
    return take_its_place(beside, error);
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
    const Beside beside = open_beside(path);
    if (!beside.stream) return beside.fault;
    if (beside.temporary.size() + 1 > temporary.size()) {
        std::fclose(beside.stream);
        unlink(beside.temporary.c_str());
        return fmt::format("cannot write {}: the name is too long", path);
    }
    output().stream = beside.stream;
    output().beside = beside;
    std::copy(beside.temporary.begin(), beside.temporary.end(), temporary.begin());
    return "";
}

std::string finish_output() {
    Output& out = output();
    if (!out.beside) {
        if (out.error == 0 && std::fflush(out.stream) != 0) out.error = errno;
        if (out.error == 0 || nobody_reads(out.error)) return "";
        return fmt::format("cannot write the report: {}", std::strerror(out.error));
    }
    std::string words = take_its_place(*out.beside, out.error);
    out.stream = stdout;
    out.beside.reset();
    temporary[0] = '\0';
    return words;
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
