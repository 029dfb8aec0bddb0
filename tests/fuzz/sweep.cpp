// PATH=VALUES, a NUL and the text of a plan: the values tried. Without a NUL a length of the junction box.
#include <benchfeed/advice/sweep.hpp>

#include <benchfeed/report/sweep_text.hpp>
#include "door.hpp"

using namespace benchfeed;

namespace {

/// The verdict in the table is that of the plan with that value.
void must_be_judged_so(const text::Document& document, const advice::Try& what, const advice::Tried& tried) {
    const std::vector<plan::Override> with{{what.path + "=" + tried.value}};
    const auto result = check(document, fuzz::catalogue(), fuzz::words(), with);
    const auto* judged = std::get_if<Judged>(&result);
    fuzz::must(judged && judged->judgement().verdict == tried.verdict);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes = fuzz::text_of(data, size);
    const auto parts = fuzz::split(bytes).value_or(
        std::pair{std::string_view("box.junction.cable.length=1 m to 30 m"), bytes});
    const text::Document document("a plan", std::string(parts.second));
    const auto what = advice::read_try(std::string(parts.first));
    if (const auto* fault = std::get_if<Diagnostic>(&what)) {
        fuzz::must(!fault->message.empty());
        return 0;
    }
    const auto& tried = std::get<advice::Try>(what);
    if (tried.values.size() > 40) return 0;  // each is a plan judged
    const auto judged = check(document, fuzz::catalogue(), fuzz::words());
    if (!std::holds_alternative<Judged>(judged)) return 0;
    const auto result = advice::sweep({document, fuzz::catalogue(), fuzz::words(), {}}, tried);
    if (const auto* problems = std::get_if<Diagnostics>(&result)) {
        fuzz::must(!problems->empty());
        return 0;
    }
    const auto& sweep = std::get<advice::Sweep>(result);
    fuzz::must(sweep.tried.size() == tried.values.size());
    must_be_judged_so(document, tried, sweep.tried.front());
    must_be_judged_so(document, tried, sweep.tried.back());
    for (const advice::Crossing& crossing : sweep.crossings) fuzz::must(crossing.before != crossing.after);
    fuzz::must_be_clean(report::sweep_text(std::get<Judged>(judged).situation(), tried, sweep, {80, false}));
    return 0;
}
