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

/// UTF-8, and no control character but the end of a line: nothing that writes to a terminal or that no
/// program reads.
inline void must_be_clean(std::string_view printed) {
    must(!printed.empty());
    for (std::size_t at = 0; at < printed.size();) {
        const std::size_t length = report::character_length(printed.substr(at));
        must(length > 0);
        must(printed[at] == '\n' || (static_cast<unsigned char>(printed[at]) >= 0x20 && printed[at] != 0x7f));
        at += length;
    }
}

/// Every fault says something and stands in the text.
inline void must_be_printable(const text::Document& document, const Diagnostics& problems) {
    if (problems.empty()) return;
    for (const Diagnostic& problem : problems) {
        must(!problem.message.empty());
        for (const Label& label : problem.labels)
            must(label.span.nowhere() || label.span.line <= document.line_count());
    }
    must_be_clean(report::diagnostics_text(document, problems, {80, false}));
}

}  // namespace benchfeed::fuzz
