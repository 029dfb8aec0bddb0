// Text of a plan, judged and written: in one format for each input, so that an input stays quick. Which one
// follows from its bytes. Without cures, whose trials make an input slow.
#include <algorithm>
#include <numeric>

#include <benchfeed/report/check_text.hpp>
#include <benchfeed/report/machine.hpp>
#include "door.hpp"

using namespace benchfeed;

namespace {

std::string machine_text(const report::MachineFormat& format, const text::Document& document,
                         const std::variant<Judged, Diagnostics>& result, bool full) {
    std::string out = format.opening({"fuzz", "0"});
    const auto reaches_fail = [](const rules::Outcome& o) { return reaches(o, FailOn::fail); };
    if (const auto* judged = std::get_if<Judged>(&result))
        out += report::written(format.plan, {document,
                                             judged->situation(),
                                             judged->judgement(),
                                             reaches_fail,
                                             {},
                                             rules::Verdict::caution,
                                             full});
    else
        out += format.unreadable(document.path(), std::get<Diagnostics>(result));
    return out + format.closing(std::holds_alternative<Judged>(result));
}

/// Every outcome that is told stands in a report once, with its verdict: passes as well where all is asked
/// for. SARIF has a result for each cause, under a rule that found something.
void must_tell_all(std::string_view format, std::string_view printed, const rules::Judgement& judgement,
                   bool full) {
    for (const auto verdict :
         {rules::Verdict::ok, rules::Verdict::caution, rules::Verdict::cannot_judge, rules::Verdict::fail}) {
        const auto all = static_cast<std::size_t>(
            std::count_if(judgement.outcomes.begin(), judgement.outcomes.end(),
                          [&](const rules::Outcome& o) { return o.verdict == verdict; }));
        const bool told = full || verdict != rules::Verdict::ok;
        const std::string key = "\"outcome\":\"" + std::string(rules::words(verdict)) + "\"";
        if (format == "json") fuzz::must(fuzz::count(printed, key) == (told ? all : 0));
    }
    if (format == "sarif") {
        std::size_t told = 0;
        for (plan::Index rule = 0; rule < rules::registry().size(); ++rule) {
            const bool found = std::any_of(
                judgement.outcomes.begin(), judgement.outcomes.end(),
                [&](const rules::Outcome& o) { return o.rule == rule && o.verdict != rules::Verdict::ok; });
            const std::string key = "\"ruleId\":\"" + std::string(rules::registry()[rule].id) + "\"";
            const std::size_t here = fuzz::count(printed, key);
            fuzz::must(found || here == 0);
            told += here;
        }
        const bool any = std::any_of(judgement.outcomes.begin(), judgement.outcomes.end(),
                                     [](const rules::Outcome& o) { return o.verdict != rules::Verdict::ok; });
        fuzz::must((told > 0) == any);
    }
    if (format == "junit") {
        const auto bad = static_cast<std::size_t>(
            std::count_if(judgement.outcomes.begin(), judgement.outcomes.end(),
                          [](const rules::Outcome& o) { return reaches(o, FailOn::fail); }));
        fuzz::must((fuzz::count(printed, "<failure ") > 0) == (bad > 0));
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const text::Document document("a plan", std::string(fuzz::text_of(data, size)));
    const auto result = check(document, fuzz::catalogue(), fuzz::words());
    const auto formats = report::machine_formats();
    const std::size_t chosen = std::accumulate(data, data + size, std::size_t{0}) % (formats.size() + 1);
    if (chosen < formats.size()) {
        const bool full = size % 2 == 0;
        const std::string printed = machine_text(formats[chosen], document, result, full);
        fuzz::must_be_clean(printed);
        if (const auto* judged = std::get_if<Judged>(&result))
            must_tell_all(formats[chosen].name, printed, judged->judgement(), full);
        return 0;
    }
    if (const auto* judged = std::get_if<Judged>(&result))
        fuzz::must_be_clean(
            report::check_text(document, judged->situation(), judged->judgement(), {40 + size % 60, false}));
    else
        fuzz::must_be_printable(document, std::get<Diagnostics>(result));
    return 0;
}
