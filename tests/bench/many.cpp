// Many plans: time against that of parsing the same texts with toml++ alone, one and two cores, peak memory.
//   bench_many BENCHFEED [COUNT]         rows "what|measured|target"
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <benchfeed/text/toml_wrapper.hpp>
#include "run_program.hpp"

namespace {

namespace fs = std::filesystem;
using benchfeed::bench::Run;
using benchfeed::bench::run;

std::string read(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

void replace(std::string& text, const std::string& what, const std::string& with) {
    if (const auto at = text.find(what); at != std::string::npos) text.replace(at, what.size(), with);
}

/// The demo plans with other lengths and plates: no two are alike.
std::vector<std::string> generate(std::size_t count) {
    std::vector<std::string> demos, plans;
    for (const auto& entry : fs::directory_iterator(std::string(BENCHFEED_DATA_DIR) + "/plans"))
        demos.push_back(read(entry.path()));
    for (std::size_t i = 0; i < count; ++i) {
        std::string plan = demos[i % demos.size()];
        replace(plan, "length = \"5 m\"", "length = \"" + std::to_string(3 + i % 17) + ".5 m\"");
        replace(plan, "current = \"7.0 A\"",
                "current = \"" + std::to_string(7 + i % 9) + "." + std::to_string(i % 10) + " A\"");
        plans.push_back(plan + "# " + std::to_string(i) + "\n");
    }
    return plans;
}

/// A table taken out of a text.
std::string taken(std::string& text, const std::string& header) {
    const auto from = text.find(header);
    if (from == std::string::npos) return "";
    const auto to = std::min(text.find("\n[", from + 1), text.size() - 1) + 1;
    std::string table = text.substr(from, to - from);
    text.erase(from, to - from);
    return table;
}

/// The same plan over and over with its cables and its circuit in one of twenty common files; no two are
/// alike.
constexpr std::size_t common_files = 20;
void write_with_common(const fs::path& folder, std::size_t count) {
    fs::create_directories(folder / "common");
    fs::create_directories(folder / "plans");
    std::string rest = read(std::string(BENCHFEED_DATA_DIR) + "/plans/heron-lane.toml"), shared;
    for (const char* header : {"[stock.house]", "[stock.lead]", "[stock.run]", "[supply.", "[device."})
        shared += taken(rest, header);
    for (std::size_t i = 0; i < common_files; ++i)
        std::ofstream(folder / "common" / (std::to_string(i) + ".toml"))
            << "format = 1\n\n[common]\ntitle = \"house " << i << "\"\n\n"
            << shared;
    for (std::size_t i = 0; i < count; ++i) {
        std::string plan = rest;
        replace(plan, "[plan]\n",
                "[plan]\ncommon = [\"../common/" + std::to_string(i % common_files) + ".toml\"]\n");
        replace(plan, "length = \"5 m\"", "length = \"" + std::to_string(3 + i % 17) + ".5 m\"");
        std::ofstream(folder / "plans" / (std::to_string(i) + ".toml")) << plan;
    }
}

void write(const fs::path& folder, const std::vector<std::string>& plans, std::size_t count) {
    fs::create_directories(folder);
    for (std::size_t i = 0; i < count; ++i) {
        char name[32];
        std::snprintf(name, sizeof name, "%06zu.toml", i);
        std::ofstream(folder / name, std::ios::binary) << plans[i];
    }
}

double parse_alone(const std::vector<std::string>& plans) {
    const std::clock_t start = std::clock();  // processor time: other programs run beside
    std::size_t tables = 0;
    for (const std::string& plan : plans) tables += toml::parse(plan).size();
    const double seconds = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    if (tables == 0) std::abort();
    return seconds;
}

/// Write the plans and parse them, in a process of its own: what a forked child inherits counts as its peak.
double prepare(const fs::path& folder, std::size_t count, std::size_t few) {
    int ends[2];
    if (pipe(ends) != 0) std::abort();
    const pid_t child = fork();
    if (child == 0) {
        const auto plans = generate(count);
        write(folder / "all", plans, count);
        write(folder / "few", plans, few);
        const double seconds = parse_alone(plans);
        _exit(::write(ends[1], &seconds, sizeof seconds) == sizeof seconds ? 0 : 1);
    }
    double seconds = 0;
    if (::read(ends[0], &seconds, sizeof seconds) != sizeof seconds) std::abort();
    waitpid(child, nullptr, 0);
    return seconds;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 2) return 2;
    const std::size_t count = argc > 2 ? std::strtoul(argv[2], nullptr, 10) : 10'000, few = count / 10;
    const fs::path folder = fs::temp_directory_path() / ("bench_many." + std::to_string(getpid()));
    const std::string all = (folder / "all").string(), part = (folder / "few").string();

    const double parse = prepare(folder, count, few);
    for (const char* format : {"text", "json", "sarif"}) {
        const bool quiet = std::string(format) == "text";
        const auto options = [&](const char* jobs, const std::string& where) {
            std::vector<std::string> list{"check", "--jobs", jobs, "--format", format, where};
            if (quiet) list.emplace_back("--quiet");
            return list;
        };
        const Run one = run(argv[1], options("1", all)), two = run(argv[1], options("2", all)),
                  small = run(argv[1], options("2", part));
        const std::string name = quiet ? "--quiet" : format;
        const auto row = [&](const char* what, double ratio, const char* target) {
            std::printf("%zu plans, %s, %s|%.2f|%s\n", count, name.c_str(), what, ratio, target);
        };
        row("processor time against parsing them", one.processor / parse, quiet ? "3" : "-");
        row("two cores against one", one.seconds / two.seconds, "at least 1.8");
        row(("peak memory against " + std::to_string(few) + " plans").c_str(),
            static_cast<double>(two.peak) / static_cast<double>(small.peak), "near 1");
        std::fflush(stdout);
    }
    // Common files: 300 plans and all of them, against the same plans with everything in each.
    for (const std::size_t number : {std::size_t{300}, count}) {
        const fs::path shared = folder / ("shared" + std::to_string(number)),
                       whole = folder / ("whole" + std::to_string(number));
        write_with_common(shared, number);
        fs::create_directories(whole);
        for (std::size_t i = 0; i < number; ++i) {
            std::string plan = read(std::string(BENCHFEED_DATA_DIR) + "/plans/heron-lane.toml");
            replace(plan, "length = \"5 m\"", "length = \"" + std::to_string(3 + i % 17) + ".5 m\"");
            std::ofstream(whole / (std::to_string(i) + ".toml")) << plan;
        }
        const auto options = [&](const fs::path& where) {
            return std::vector<std::string>{"check",  "--jobs",        "1",           "--quiet",
                                            "--root", folder.string(), where.string()};
        };
        const Run joined = run(argv[1], options(shared / "plans")), alone = run(argv[1], options(whole));
        std::printf("%zu plans on %zu common files, processor time against plans without|%.2f|1.5\n", number,
                    common_files, joined.processor / alone.processor);
        std::fflush(stdout);
    }
    fs::remove_all(folder);
    return 0;
}
