#pragma once
// What the fuzzers share.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "base/diagnostic.hpp"
#include "check.hpp"
#include "report/style.hpp"
#include "text/document.hpp"

namespace benchfeed::fuzz {

/// A promise that the library makes to everybody; the fuzzer stops where one is broken.
inline void must(bool kept) {
    if (!kept) std::abort();
}

inline std::string_view text_of(const std::uint8_t* data, std::size_t size) {
    return {reinterpret_cast<const char*>(data), size};
}

inline const tables::Catalogue& catalogue() {
    static const tables::Catalogue tables;
    return tables;
}
inline const plan::Words& words() {
    static const plan::Words read = plan_words(catalogue());
    return read;
}

/// Every fault says something, stands in the text, and can be printed without writing to the terminal.
inline void must_be_printable(const text::Document& document, const Diagnostics& problems) {
    for (const Diagnostic& problem : problems) {
        must(!problem.message.empty());
        for (const Label& label : problem.labels)
            must(label.span.nowhere() || label.span.line <= document.line_count());
    }
    const std::string printed = report::diagnostics_text(document, problems, {80, false});
    for (const char c : printed) must(c == '\n' || (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f));
    for (std::size_t at = 0; at < printed.size();) {
        const std::size_t length = report::character_length(std::string_view(printed).substr(at));
        must(length > 0);
        at += length;
    }
}

}  // namespace benchfeed::fuzz
