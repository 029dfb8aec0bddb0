// Text of a plan, judged and written in every format.
#include "door.hpp"
#include "report/check_text.hpp"
#include "report/machine.hpp"

using namespace benchfeed;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const text::Document document("a plan", std::string(fuzz::text_of(data, size)));
    const auto result = check(document, fuzz::catalogue(), fuzz::words());
    const auto* judged = std::get_if<Judged>(&result);
    for (const report::MachineFormat& format : report::machine_formats()) {
        std::string out = format.opening({"fuzz", "0"});
        if (judged == nullptr)
            out += format.unreadable(document.path(), std::get<Diagnostics>(result));
        else
            out += format.plan({document,
                                judged->situation(),
                                judged->judgement(),
                                [](const rules::Outcome& o) { return reaches(o, FailOn::fail); },
                                {}});
        out += format.closing(judged != nullptr);
        // Programs read these: UTF-8, and no control character but the end of a line.
        for (std::size_t at = 0; at < out.size();) {
            const std::size_t length = report::character_length(std::string_view(out).substr(at));
            fuzz::must(length > 0);
            fuzz::must(out[at] == '\n' || static_cast<unsigned char>(out[at]) >= 0x20);
            at += length;
        }
    }
    if (judged == nullptr) {
        fuzz::must_be_printable(document, std::get<Diagnostics>(result));
        return 0;
    }
    for (const std::size_t width : {std::size_t{40}, std::size_t{80}}) {
        const std::string text =
            report::check_text(document, judged->situation(), judged->judgement(), {width, width == 40});
        fuzz::must(!text.empty());
        if (width == 80)
            for (const char c : text)
                fuzz::must(c == '\n' || (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f));
    }
    return 0;
}
