#pragma once
// Files, folders and standard streams.
#include <cstdio>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace benchfeed::cli {

struct FileOrFault {
    std::optional<std::string> content;
    std::string fault;  ///< why not, in words
};
/// A file's bytes; "-" is standard input. Files above the limit of the plan format are not read.
[[nodiscard]] FileOrFault read_file(const std::string& path);

/// Write a file whole, beside the old one first and then in its place; why not in words, or "".
[[nodiscard]] std::string write_file(const std::string& path, std::string_view content);

/// Plans named by arguments: a file as it is, a folder as its .toml files (all below it, sorted), a pattern
/// with * ? [ ] that is no file as the files it matches.
struct PlanList {
    struct Fault {
        std::string path, words;
    };
    std::vector<std::string> paths;
    std::vector<Fault> faults;
};
[[nodiscard]] PlanList find_plans(const std::vector<std::string>& arguments);

/// Write to standard output, or to the file of direct_output(); to standard error. A reader that has gone
/// away is no error of ours.
void print(std::string_view text);
void print_error(std::string_view text);

/// From now on print() goes to a file beside `path`, which takes its place when all is written: `path` is
/// whole or untouched, whatever happens. Returns why that is not possible; "" if it is.
[[nodiscard]] std::string direct_output(const std::string& path);
/// Everything is printed. Returns what could not be written; "" if nothing was lost.
[[nodiscard]] std::string finish_output();
/// An interrupted run leaves no half-written file behind and ends with 130 (SIGINT) or 143 (SIGTERM).
void end_clean_on_signals();

/// Text that is kept for later without holding it in memory.
class Spool {
public:
    void add(std::string_view text);
    [[nodiscard]] bool empty() const { return empty_; }
    void print_all() const;  ///< everything added, to standard output

private:
    struct Closer {
        void operator()(std::FILE* file) const { std::fclose(file); }
    };
    std::unique_ptr<std::FILE, Closer> file_;
    std::string text_;  ///< where no temporary file can be had
    bool empty_ = true;
};

}  // namespace benchfeed::cli
