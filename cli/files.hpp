#pragma once
// Files, folders and standard streams.
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

/// Write a file whole; why not in words, or "".
[[nodiscard]] std::string write_file(const std::string& path, std::string_view content);

/// Plans named by arguments: a file as it is, a folder as its .toml files (all below it, sorted).
struct PlanList {
    std::vector<std::string> paths;
    std::vector<std::string> faults;
};
[[nodiscard]] PlanList find_plans(const std::vector<std::string>& arguments);

/// Write to standard output or standard error. A reader that has gone away is no error of ours.
void print(std::string_view text);
void print_error(std::string_view text);

}  // namespace benchfeed::cli
