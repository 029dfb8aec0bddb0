// PATH=VALUES, a NUL and the text of a plan: the values tried. Without a NUL a length of the junction box.
#include <benchfeed/advice/sweep.hpp>

#include <benchfeed/report/sweep_text.hpp>
#include "door.hpp"

using namespace benchfeed;

namespace {

/// A value more is a plan more to judge: of a large one fewer are tried.
constexpr std::size_t most_elements_judged = 2000;

/// The verdict that is told of a value is that of the plan with it.
void must_be_judged_so(const text::Document& document, const advice::Try& what, const std::string& value,
                       rules::Verdict verdict) {
    const std::vector<plan::Override> with{{what.path + "=" + value}};
    const auto result = check(document, fuzz::catalogue(), fuzz::words(), with);
    const auto* judged = std::get_if<Judged>(&result);
    fuzz::must(judged && judged->judgement().verdict == verdict);
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
    if (tried.values.size() > 40) return fuzz::leave_out();  // each is a plan judged
    const auto judged = check(document, fuzz::catalogue(), fuzz::words());
    if (!std::holds_alternative<Judged>(judged)) return 0;
    if (tried.values.size() * std::get<Judged>(judged).plan().elements.size() > most_elements_judged)
        return fuzz::leave_out();
    const auto result = advice::sweep({document, fuzz::catalogue(), fuzz::words(), {}}, tried);
    if (const auto* problems = std::get_if<Diagnostics>(&result)) {
        fuzz::must(!problems->empty());
        return 0;
    }
    const auto& sweep = std::get<advice::Sweep>(result);
    fuzz::must(sweep.tried.size() == tried.values.size());
    for (const advice::Tried* one : {&sweep.tried.front(), &sweep.tried.back()})
        must_be_judged_so(document, tried, one->value, one->verdict);
    for (const advice::Crossing& crossing : sweep.crossings) {
        fuzz::must(!(crossing.tally_before == crossing.tally_after));
        must_be_judged_so(document, tried, crossing.last, crossing.before);
        must_be_judged_so(document, tried, crossing.first, crossing.after);
    }
    fuzz::must_be_clean(report::sweep_text(std::get<Judged>(judged).situation(), tried, sweep, {80, false}));
    return 0;
}
