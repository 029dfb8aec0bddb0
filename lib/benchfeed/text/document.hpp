#pragma once
// A text with its path and an index of its lines.
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/diagnostic.hpp>

namespace benchfeed::text {

/// Holds the text; lines are counted from 1.
class BENCHFEED_API Document {
public:
    /// `path` is only named in reports, never opened.
    Document(std::string path, std::string content);

    /// As handed over.
    [[nodiscard]] const std::string& path() const { return path_; }
    /// As handed over, byte for byte.
    [[nodiscard]] const std::string& content() const { return content_; }
    /// Number of lines; one for an empty text.
    [[nodiscard]] std::size_t line_count() const { return starts_.size(); }
    /// Line by its 1-based number, without its end; empty when there is none such.
    [[nodiscard]] std::string_view line(std::uint32_t number) const;
    /// What stands at the span, as written. Spans of more than one line give the first line's part.
    [[nodiscard]] std::string_view slice(const Span& span) const;
    /// Byte offset in its line of a 1-based column counted in code points.
    [[nodiscard]] std::size_t byte_of(std::string_view line, std::uint32_t column) const;

private:
    std::string path_;
    std::string content_;
    std::vector<std::size_t> starts_;
};

}  // namespace benchfeed::text
