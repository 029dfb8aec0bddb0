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
#include <mutex>
#include <set>
#include <utility>

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

/// What a name stands for that may never end, or that begins something when it is opened; "" for files.
std::string_view no_file_words(const fs::path& path) {
    std::error_code error;
    switch (fs::status(path, error).type()) {
        case fs::file_type::fifo:
            return "a pipe";
        case fs::file_type::socket:
            return "a socket";
        case fs::file_type::block:
        case fs::file_type::character:
            return "a device";
        default:
            return "";
    }
}

/// Into `found` if it is a file, else among the skipped.
void take_or_skip(const std::string& path, PlanList& list, std::vector<std::string>& found) {
    const auto words = no_file_words(path);
    if (words.empty())
        found.push_back(path);
    else
        list.skipped.push_back(
            fmt::format("{} is {} and no file: skipped; name it by itself to read it", path, words));
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
            take_or_skip(it->path().string(), list, found);
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
            take_or_skip(path, list, list.paths);
    }
}

/// Which file it is, whatever its name: device and inode. Nothing for what is no file or not there.
using FileId = std::pair<dev_t, ino_t>;
std::optional<FileId> id_of(const struct stat& status) {
    if (!S_ISREG(status.st_mode)) return std::nullopt;
    return FileId{status.st_dev, status.st_ino};
}
std::optional<FileId> id_of(const std::string& path) {
    struct stat status {};
    return stat(path.c_str(), &status) == 0 ? id_of(status) : std::nullopt;
}
std::optional<FileId> id_of_stream(int stream) {
    struct stat status {};
    return fstat(stream, &status) == 0 ? id_of(status) : std::nullopt;
}
std::optional<FileId> id_of_input(const std::string& path) {
    return path == "-" ? id_of_stream(STDIN_FILENO) : id_of(path);
}

/// Two outputs are one file; where there is none yet, one place under two names.
bool same_output(const std::string& a, const std::string& b) {
    if (const auto id = id_of(a)) return id == id_of(b);
    std::error_code error;
    if (fs::exists(a, error) || fs::exists(b, error)) return false;
    return fs::weakly_canonical(fs::absolute(a), error) == fs::weakly_canonical(fs::absolute(b), error);
}

std::string input_words(const std::string& path) {
    return path == "-" ? "the plan on standard input" : path;
}

/// Paths of temporary files for a signal handler, in plain memory: the output, and one written besides.
std::array<std::array<char, 4096>, 2> temporaries{};

/// No signal ends us between making a temporary file and noting its name.
class SignalsHeld {
public:
    SignalsHeld() {
        sigset_t held;
        sigemptyset(&held);
        for (const int signal : {SIGHUP, SIGINT, SIGTERM}) sigaddset(&held, signal);
        pthread_sigmask(SIG_BLOCK, &held, &before_);
    }
    ~SignalsHeld() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
    SignalsHeld(const SignalsHeld&) = delete;
    SignalsHeld& operator=(const SignalsHeld&) = delete;

private:
    sigset_t before_{};
};

/// A temporary file beside `target`, noted for the signal handler; -1 and errno where there can be none.
int make_temporary(const std::string& target, std::string& name) {
    const auto slot = std::find_if(temporaries.begin(), temporaries.end(),
                                   [](const auto& taken) { return taken[0] == '\0'; });
    name = target + "." + std::string(6, 'X');  // what mkstemp fills in
    if (slot == temporaries.end() || name.size() + 1 > slot->size()) {
        errno = ENAMETOOLONG;
        return -1;
    }
    const SignalsHeld held;
    const int file = mkstemp(name.data());
    if (file >= 0) std::copy(name.begin(), name.end() + 1, slot->begin());
    return file;
}

/// Its file has taken its place or is gone.
void forget_temporary(const std::string& name) {
    for (auto& taken : temporaries)
        if (name == taken.data()) taken[0] = '\0';
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
    std::string name;
    const int file = make_temporary(target.string(), name);
    if (file < 0) return refused();
    struct stat old {};
    const mode_t mask = umask(0);
    umask(mask);
    fchmod(file, stat(target.c_str(), &old) == 0 ? old.st_mode & 07777u : 0666u & ~mask);
    beside.stream = fdopen(file, "wb");
    beside.temporary = std::move(name);
    return beside;
}

/// Files that were read besides those that arguments name.
struct ReadBesides {
    std::mutex mutex;
    std::set<FileId> files;
};
ReadBesides& read_besides() {
    static ReadBesides one;
    return one;
}
bool was_read(const std::string& path) {
    const auto id = id_of(path);
    const std::lock_guard lock(read_besides().mutex);
    return id && read_besides().files.contains(*id);
}

/// Close it and put it in the place of its target, or take it away; why not in words, or "".
std::string take_its_place(const Beside& beside, int error) {
    if (std::fclose(beside.stream) != 0 && error == 0) error = errno;
    if (beside.temporary.empty())
        return error == 0 ? "" : fmt::format("cannot write {}: {}", beside.path, std::strerror(error));
    if (error == 0 && was_read(beside.target)) {
        unlink(beside.temporary.c_str());
        forget_temporary(beside.temporary);
        return fmt::format("{} is a common file, which is read: nothing was written. Name another file",
                           beside.path);
    }
    if (error == 0 && std::rename(beside.temporary.c_str(), beside.target.c_str()) != 0) error = errno;
    if (error != 0) unlink(beside.temporary.c_str());
    forget_temporary(beside.temporary);
    return error == 0 ? "" : fmt::format("cannot write {}: {}", beside.path, std::strerror(error));
}

/// Where print() goes.
struct Output {
    std::FILE* stream = stdout;
    std::optional<Beside> beside;
    int error = 0;  ///< first errno of a write that failed
};
Output& output() {
    static Output one;
    return one;
}

void write(std::FILE* stream, std::string_view text, int& error) {
    if (text.empty() || error != 0) return;
    errno = 0;
    if (std::fwrite(text.data(), 1, text.size(), stream) != text.size()) error = errno == 0 ? EIO : errno;
}

extern "C" void end_clean(int signal) {
    for (const auto& temporary : temporaries)
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

void note_read(const std::string& path) {
    const auto id = id_of(path);
    const std::lock_guard lock(read_besides().mutex);
    if (id) read_besides().files.insert(*id);
}

std::string write_file(const std::string& path, std::string_view content) {
    const Beside beside = open_beside(path);
    if (!beside.stream) return beside.fault;
    int error = 0;
    write(beside.stream, content, error);
    return take_its_place(beside, error);
}

std::string what_is_lost(const std::vector<Written>& written, const std::vector<std::string>& read) {
    for (const Written& one : written) {
        const auto there = id_of(one.path);
        for (const std::string& input : read)
            if (there && input != one.may_replace && id_of_input(input) == there)
                return fmt::format("{} {} would overwrite {}, which is read: name another file", one.option,
                                   one.path, input_words(input));
        for (const Written& other : written)
            if (&other < &one && same_output(other.path, one.path))
                return fmt::format("{} {} and {} {} are one file: name two", other.option, other.path,
                                   one.option, one.path);
    }
    const auto standard_output = id_of_stream(STDOUT_FILENO);
    if (!standard_output) return "";
    for (const std::string& input : read)
        if (id_of_input(input) == standard_output)
            return fmt::format("standard output goes into {}, which is read: name another file",
                               input_words(input));
    for (const Written& one : written)
        if (id_of(one.path) == standard_output)
            return fmt::format("standard output goes into the file of {} {}: name another", one.option,
                               one.path);
    return "";
}

bool prints_into_file() {
    return id_of_stream(STDOUT_FILENO).has_value();
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
    output().stream = beside.stream;
    output().beside = beside;
    return "";
}

std::string finish_output() {
    Output& out = output();
    if (!out.beside) {
        if (out.error == 0 && std::fflush(out.stream) != 0) out.error = errno;
        if (out.error == 0 || out.error == EPIPE) return "";  // EPIPE: a reader that went away
        if (out.error == EBADF) return "cannot write the report: standard output is closed";
        return fmt::format("cannot write the report: {}", std::strerror(out.error));
    }
    std::string words = take_its_place(*out.beside, out.error);
    out.stream = stdout;
    out.beside.reset();
    return words;
}

void discard_output() {
    output().error = ECANCELED;
    if (output().beside) (void)finish_output();
}

void leave_output() {
    if (!output().beside) return;
    discard_output();
    output().error = 0;
}

void keep_standard_streams() {
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
        if (fcntl(stream, F_GETFD) ==
            -1)  // the lowest that is free, so this one; it fails as a closed one does
            (void)open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY);
}

void end_clean_on_signals() {
    std::signal(SIGPIPE, SIG_IGN);
    std::signal(SIGXFSZ, SIG_IGN);
    struct sigaction action {};
    action.sa_handler = end_clean;
    for (const int signal : {SIGHUP, SIGINT, SIGTERM}) {
        struct sigaction before {};
        sigaction(signal, nullptr, &before);
        if (before.sa_handler != SIG_IGN) sigaction(signal, &action, nullptr);
    }
}

void Spool::add(std::string_view text) {
    constexpr std::size_t most_held = std::size_t{1} << 20;
    if (!file_ && text_.size() <= most_held && text_.size() + text.size() > most_held) {
        file_.reset(std::tmpfile());
        if (file_) write(file_.get(), std::exchange(text_, {}), error_);
    }
    if (file_)
        write(file_.get(), text, error_);
    else
        text_ += text;
}

int Spool::replay(const std::function<void(std::string_view)>& take) const {
    char buffer[16384];
    int error = error_;
    if (file_ && error == 0 && std::fflush(file_.get()) != 0) error = errno;
    if (file_) {
        std::rewind(file_.get());
        while (const std::size_t got = std::fread(buffer, 1, sizeof buffer, file_.get())) take({buffer, got});
    }
    take(text_);
    return error;
}

void Spool::print_all() const {
    const int error = replay([](std::string_view text) { print(text); });
    if (error != 0 && output().error == 0) output().error = error;
}

std::string Spool::write_all(const std::string& path) const {
    const Beside beside = open_beside(path);
    if (!beside.stream) return beside.fault;
    int error = 0;
    const int lost = replay([&](std::string_view text) { write(beside.stream, text, error); });
    return take_its_place(beside, error == 0 ? lost : error);
}

}  // namespace benchfeed::cli
