#pragma once
// Common files: tools, cables, house circuits and limits that many plans share. The library opens no file:
// the caller says what a name stands for and hands over the text.
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/plan/read_plan.hpp>
#include <benchfeed/text/beside.hpp>

namespace benchfeed::plan {

/// Something that was asked for, or why it cannot be had, in words that begin with a verb: "leads out of
/// ...".
struct Asked {
    std::string text;
    std::string fault;  ///< "" where it was found
};

/// Where the texts of common files come from.
struct CommonSource {
    /// The path of the file that is named in the text at `from`: one file has one path.
    std::function<Asked(const std::string& name, const std::string& from)> path;
    /// Its text.
    std::function<Asked(const std::string& path)> text;
};

/// The common files of one run, each parsed once. May be asked from several threads.
class BENCHFEED_API CommonFiles {
public:
    /// The words must outlive it.
    CommonFiles(CommonSource source, const Words& words);

    /// Puts the common files that a plan names beside its text, and those that these name.
    ///
    /// Errors  a file that cannot be had or is no common file (nothing of it is told), a circle, more than
    ///         `most_files` of them or `deepest` behind each other, mistakes in one. The document then has
    ///         beside it what the places of these mistakes stand in.
    [[nodiscard]] Diagnostics join(text::Document& document);

    /// Number of files that were parsed.
    [[nodiscard]] std::size_t parsed() const;

    static constexpr std::size_t most_files = 64;                    ///< of one plan
    static constexpr std::size_t deepest = 8;                        ///< common files of common files
    static constexpr std::size_t most_bytes = std::size_t{4} << 20;  ///< of one file

private:
    struct Named;
    struct File;
    struct Joining;
    const File& file_of(const std::string& path);
    void add(Joining& to, const std::string& from, const std::vector<Named>& names, const Label& because);

    CommonSource source_;
    const Words& words_;
    mutable std::mutex mutex_;
    std::map<std::string, std::shared_ptr<const File>> files_;
    std::uint32_t next_line_ = first_line_beside;
};

/// True for a text that has a [common]: no plan, but what plans read.
[[nodiscard]] BENCHFEED_API bool is_common(const text::Table& root);
/// The same of a text, which is parsed only where it may be one.
[[nodiscard]] BENCHFEED_API bool is_common(const text::Document& document);

/// Every mistake of a common file.
[[nodiscard]] BENCHFEED_API Diagnostics common_faults(const text::Beside& text, const Words& words);

}  // namespace benchfeed::plan
