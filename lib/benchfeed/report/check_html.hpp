#pragma once
// The report of `check` as one HTML page: the words of the text report, and drawings with their numbers
// beside them.
#include <functional>
#include <string>
#include <vector>

#include <benchfeed/advice/pictures.hpp>
#include <benchfeed/base/api.hpp>
#include <benchfeed/report/json.hpp>
#include <benchfeed/report/sink.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::report {

/// Figures of all drawings of a page.
struct Pictures {
    std::vector<advice::LoadBar> loads;
    std::vector<advice::VoltPicture> volts;
    advice::StartPictures starts;
};

/// What the page is given besides the judged plan.
struct CheckHtmlOptions {
    std::vector<std::string> what_if =
        {};  ///< changes of --set: the page says that it is no page of the plan as it is
    std::function<std::vector<rules::Remedy>(const rules::Outcome&)> remedies = {};
};

/// One self-contained page: no script, nothing loaded from anywhere, black on white, for narrow screens and
/// for paper. Every word of the plan is escaped. Figures in tables are `data` elements whose value has six
/// digits.
[[nodiscard]] BENCHFEED_API std::string check_html(const text::Document& document, const rules::Situation& s,
                                                   const rules::Judgement& judgement,
                                                   const Pictures& pictures, const Tool& tool,
                                                   const CheckHtmlOptions& options = {});
/// The same in pieces: the findings of a large plan are long.
BENCHFEED_API void write_check_html(const text::Document& document, const rules::Situation& s,
                                    const rules::Judgement& judgement, const Pictures& pictures,
                                    const Tool& tool, const CheckHtmlOptions& options, const Sink& sink);

}  // namespace benchfeed::report
