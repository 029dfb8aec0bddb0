#pragma once
// Files, folders and standard streams.
#include <cstdio>
#include <functional>
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
/// with * ? [ ] that is no file as the files it matches. What a folder or a pattern yields of pipes, sockets
/// and devices is skipped, since reading one may never end; named by hand it is read.
struct PlanList {
    struct Fault {
        std::string path, words;
    };
    std::vector<std::string> paths;
    std::vector<Fault> faults;
    std::vector<std::string> skipped;  ///< in words
};
[[nodiscard]] PlanList find_plans(const std::vector<std::string>& arguments);

/// A file that a command will write.
struct Written {
    std::string option, path;  ///< "--output", "report.json"
    std::string may_replace;   ///< an input that is meant to be written anew; "" for none
};
/// Why something would be lost: a file to be written, or the file behind standard output, is one that is read
/// or another that is written, by whatever name or link. "" if nothing is.
[[nodiscard]] std::string what_is_lost(const std::vector<Written>& written,
                                       const std::vector<std::string>& read);

/// This file was read although no argument names it, as common files are: nothing is written in its place.
void note_read(const std::string& path);

/// Standard output is a file, which may be one that is read.
[[nodiscard]] bool prints_into_file();

/// Write to standard output, or to the file of direct_output(); to standard error. A reader that has gone
/// away is no error of ours.
void print(std::string_view text);
void print_error(std::string_view text);

/// From now on print() goes to a file beside `path`, which takes its place when all is written: `path` is
/// whole or untouched, whatever happens. Returns why that is not possible; "" if it is.
[[nodiscard]] std::string direct_output(const std::string& path);
/// Everything is printed. Returns what could not be written; "" if nothing was lost.
[[nodiscard]] std::string finish_output();
/// The run ended in an error: the file of direct_output() stays as it was.
void discard_output();
/// There is nothing to print: the same, and no error that finish_output() would tell.
void leave_output();

/// Streams that were closed when we were started are opened on nothing, so that no file of ours gets their
/// place; what is printed to such a standard output is lost, and finish_output() says so.
void keep_standard_streams();
/// An interrupted run leaves no half-written file behind and ends with 128 and the number of the signal: 129
/// (SIGHUP), 130 (SIGINT) or 143 (SIGTERM). A pipe without a reader and a file that may not grow are errors
/// of the write and no end of the program.
void end_clean_on_signals();

/// Text that is kept for later: what is long is not held in memory.
class Spool {
public:
    void add(std::string_view text);
    [[nodiscard]] bool empty() const { return !file_ && text_.empty(); }
    void print_all() const;  ///< everything added, to where print() goes
    /// The same into a file, as write_file() writes.
    [[nodiscard]] std::string write_all(const std::string& path) const;

private:
    /// Everything added, in pieces; the errno that it ended with.
    int replay(const std::function<void(std::string_view)>& take) const;
    struct Closer {
        void operator()(std::FILE* file) const { std::fclose(file); }
    };
    std::unique_ptr<std::FILE, Closer> file_;
    std::string text_;  ///< what is short; all of it where no temporary file can be had
    int error_ = 0;     ///< errno of what the temporary file did not take
};

}  // namespace benchfeed::cli
