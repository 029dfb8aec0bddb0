// One plan, whole processes: benchfeed against a program that only parses the same file, and its own start
// against an empty program.
//   bench_start BENCHFEED PLAN...     (bench_start --parse PLAN and bench_start --empty are those programs)
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <benchfeed/text/toml_wrapper.hpp>

namespace {

using Clock = std::chrono::steady_clock;
using Command = std::vector<std::string>;

double seconds_of(const Command& command) {
    const auto start = Clock::now();
    const pid_t child = fork();
    if (child == 0) {
        const int nothing = open("/dev/null", O_WRONLY);
        dup2(nothing, STDOUT_FILENO);
        dup2(nothing, STDERR_FILENO);
        std::vector<char*> argv;
        for (const std::string& word : command) argv.push_back(const_cast<char*>(word.c_str()));
        argv.push_back(nullptr);
        execv(argv[0], argv.data());
        _exit(127);
    }
    int status = 0;
    waitpid(child, &status, 0);
    if (!WIFEXITED(status) || WEXITSTATUS(status) > 1) std::exit(2);
    return std::chrono::duration<double>(Clock::now() - start).count();
}

/// Medians of commands that take turns, so that what else the machine does meets all of them alike.
std::vector<double> medians(const std::vector<Command>& commands) {
    constexpr int rounds = 101;
    std::vector<std::vector<double>> times(commands.size());
    for (int round = 0; round < rounds; ++round)
        for (std::size_t i = 0; i < commands.size(); ++i) times[i].push_back(seconds_of(commands[i]));
    std::vector<double> middle;
    for (auto& list : times) {
        std::nth_element(list.begin(), list.begin() + rounds / 2, list.end());
        middle.push_back(list[rounds / 2]);
    }
    return middle;
}

int parse(const char* path) {
    std::ifstream file(path, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    return toml::parse(text).empty() ? 1 : 0;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc == 2 && std::string(argv[1]) == "--empty") return 0;
    if (argc == 3 && std::string(argv[1]) == "--parse") return parse(argv[2]);
    if (argc < 3) return 2;
    const std::string self = argv[0], program = argv[1];
    double parsed = 0, quiet = 0, text = 0;
    for (int i = 2; i < argc; ++i) {
        const auto times = medians({{self, "--parse", argv[i]},
                                    {program, "check", "--quiet", argv[i]},
                                    {program, "check", argv[i]}});
        parsed += times[0];
        quiet += times[1];
        text += times[2];
    }
    const auto start = medians({{self, "--empty"}, {program, "--version"}});
    std::printf("start, against an empty program|%.2f|near 1\n", start[1] / start[0]);
    std::printf("one plan, --quiet, against parsing it|%.2f|1.5\n", quiet / parsed);
    std::printf("one plan, whole report, against parsing it|%.2f|1.5\n", text / parsed);
    return 0;
}
