#pragma once
// A text with its path and an index of its lines.
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/diagnostic.hpp>

namespace benchfeed::text {

struct Beside;

/// Holds the text; lines are counted from 1. Texts that are read together with it (common files of a plan)
/// stand beside it, and their lines have numbers of their own in it, so that one Span names any place.
class BENCHFEED_API Document {
public:
    /// `path` is only named in reports, never opened.
    Document(std::string path, std::string content);
    /// Another text under another name, with the same texts beside it.
    [[nodiscard]] Document with(std::string path, std::string content) const;

    /// Reads these texts together with it.
    void put_beside(std::vector<std::shared_ptr<const Beside>> texts) { beside_ = std::move(texts); }
    /// In the order in which they are named.
    [[nodiscard]] const std::vector<std::shared_ptr<const Beside>>& beside() const { return beside_; }

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

    /// A place in the text in which it stands.
    struct Place {
        const Document& document;
        Span span;  ///< lines counted from 1 in that text
        /// It stands in a text beside the one that was asked.
        bool beside = false;
    };
    /// Which text has a span, and where in it.
    [[nodiscard]] Place place(const Span& span) const;

private:
    [[nodiscard]] const Beside* holder_of(std::uint32_t number) const;
    std::string path_;
    std::string content_;
    std::vector<std::size_t> starts_;
    std::vector<std::shared_ptr<const Beside>> beside_;
};

}  // namespace benchfeed::text
