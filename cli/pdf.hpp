#pragma once
// PDF of a sheet, where this build can write one.
#include <optional>
#include <string>

#include <benchfeed/report/sheet.hpp>

namespace benchfeed::cli {

/// The document, or why there is none.
struct PdfOrFault {
    std::optional<std::string> document;
    std::string fault;
};
/// Loads the module that writes PDF: beside the program, or where it was installed.
[[nodiscard]] PdfOrFault pdf_of(const report::Pages& pages);

}  // namespace benchfeed::cli
