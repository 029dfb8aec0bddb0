#include "cli/pdf.hpp"

#include <dlfcn.h>

#include <array>
#include <filesystem>

namespace benchfeed::cli {

namespace {

using Write = int (*)(const report::Pages*, std::string*);

/// Where the module may be, from the folder of the program.
constexpr std::array places{"benchfeed_pdf.so", BENCHFEED_PDF_PLACE "/benchfeed_pdf.so"};

Write writer() {
    std::error_code none;
    const auto folder = std::filesystem::read_symlink("/proc/self/exe", none).parent_path();
    for (const char* place : places) {
        const auto file = folder / place;
        if (!std::filesystem::exists(file, none)) continue;
        // It stays loaded as long as the program: its type library keeps state behind its functions.
        if (void* module = dlopen(file.c_str(), RTLD_NOW | RTLD_LOCAL))
            return reinterpret_cast<Write>(dlsym(module, "benchfeed_write_pdf"));
    }
    return nullptr;
}

}  // namespace

PdfOrFault pdf_of(const report::Pages& pages) {
    const Write write = writer();
    if (!write)
        return {
            std::nullopt,
            "this build cannot write PDF: it was made without cairo and pango (on Debian libcairo2-dev and "
            "libpango1.0-dev); --format html can be printed to one"};
    std::string document;
    if (write(&pages, &document) != 0) return {std::nullopt, "the PDF could not be written"};
    return {std::move(document), ""};
}

}  // namespace benchfeed::cli
