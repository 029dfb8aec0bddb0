// One plan of 100 000 elements in every format: seconds of the processor and peak memory.
//   bench_large BENCHFEED         rows "what|measured|target"
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "large_plan.hpp"
#include "run_program.hpp"

using namespace benchfeed;

int main(int argc, char** argv) {
    if (argc < 2) return 2;
    namespace fs = std::filesystem;
    const fs::path folder = fs::temp_directory_path() / ("bench_large." + std::to_string(getpid()));
    const std::string plan = (folder / "plan.toml").string(), page = (folder / "page.html").string();
    fs::create_directories(folder);
    std::ofstream(plan) << bench::plan_of(20'000);
    struct Told {
        const char* name;
        std::vector<std::string> options;
    };
    for (const Told& told : {Told{"--quiet", {"--quiet"}},
                             {"text", {}},
                             {"text --full", {"--full"}},
                             {"json", {"--format", "json"}},
                             {"json --full", {"--format", "json", "--full"}},
                             {"sarif", {"--format", "sarif"}},
                             {"junit", {"--format", "junit"}},
                             {"markdown", {"--format", "markdown"}},
                             {"page", {"--report", page}}}) {
        std::vector<std::string> arguments{"check", plan};
        arguments.insert(arguments.end(), told.options.begin(), told.options.end());
        const bench::Run run = bench::run(argv[1], arguments);
        std::printf("100000 elements, %s, processor time|%.1f s|20 s\n", told.name, run.processor);
        std::printf("100000 elements, %s, peak memory|%.0f MB|1000 MB\n", told.name,
                    static_cast<double>(run.peak) / 1e3);
        std::fflush(stdout);
    }
    fs::remove_all(folder);
    return 0;
}
