#include "cli/pdf.hpp"

#include <dlfcn.h>

#include <array>
#include <filesystem>

namespace benchfeed::cli {

namespace {

using Write = int (*)(const report::Pages*, std::string*);

/// Where the module may be, from the folder of the program.
constexpr std::array places{"benchfeed_pdf.so", BENCHFEED_PDF_PLACE "/benchfeed_pdf.so"};

/// What writes, or why nothing does.
struct WriterOrFault {
    Write write = nullptr;
    std::string fault;
};
WriterOrFault writer() {
    std::error_code none;
    const auto folder = std::filesystem::read_symlink("/proc/self/exe", none).parent_path();
    for (const char* place : places) {
        const auto file = folder / place;
        if (!std::filesystem::exists(file, none)) continue;
        // It stays loaded as long as the program: its type library keeps state behind its functions.
        void* module = dlopen(file.c_str(), RTLD_NOW | RTLD_LOCAL);
        void* write = module ? dlsym(module, "benchfeed_write_pdf") : nullptr;
        if (write) return {reinterpret_cast<Write>(write), ""};
        const char* why = dlerror();
        return {nullptr, "the module that writes PDF is there and cannot be loaded: " +
                             std::string(why ? why : file.c_str())};
    }
    return {
        nullptr,
        "the module that writes PDF is not there: Debian's package benchfeed-pdf has it, and a build makes "
        "it where it finds cairo and pango (libcairo2-dev and libpango1.0-dev)"};
}

}  // namespace

PdfOrFault pdf_of(const report::Pages& pages) {
    const WriterOrFault made = writer();
    if (!made.write) return {std::nullopt, made.fault + "; --format html can be printed to one"};
    std::string document;
    if (made.write(&pages, &document) != 0) return {std::nullopt, "the PDF could not be written"};
    return {std::move(document), ""};
}

}  // namespace benchfeed::cli
