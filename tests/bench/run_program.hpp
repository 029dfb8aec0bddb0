#pragma once
// The program run as a user runs it: time and memory of its process.
#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

namespace benchfeed::bench {

struct Run {
    double seconds = 0, processor = 0;
    long peak = 0;  // kB
};

/// What it prints goes nowhere.
inline Run run(const char* program, const std::vector<std::string>& arguments) {
    const auto start = std::chrono::steady_clock::now();
    const pid_t child = fork();
    if (child == 0) {
        const int nothing = open("/dev/null", O_WRONLY);
        dup2(nothing, STDOUT_FILENO);
        dup2(nothing, STDERR_FILENO);
        std::vector<char*> argv{const_cast<char*>(program)};
        for (const std::string& a : arguments) argv.push_back(const_cast<char*>(a.c_str()));
        argv.push_back(nullptr);
        execv(program, argv.data());
        _exit(127);
    }
    int status = 0;
    rusage used{};
    wait4(child, &status, 0, &used);
    if (!WIFEXITED(status) || WEXITSTATUS(status) > 1) {
        std::fprintf(stderr, "benchfeed ended with status %d\n", status);
        std::exit(2);
    }
    const auto seconds = [](const timeval& t) {
        return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
    };
    const std::chrono::duration<double> whole = std::chrono::steady_clock::now() - start;
    return {whole.count(), seconds(used.ru_utime) + seconds(used.ru_stime), used.ru_maxrss};
}

}  // namespace benchfeed::bench
