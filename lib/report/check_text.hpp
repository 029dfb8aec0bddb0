#pragma once
// The report of `check` as text: the answer first, then the amps of every set, then findings worst first.
#include <string>

#include "report/style.hpp"
#include "rules/judge.hpp"
#include "text/document.hpp"

namespace benchfeed::report {

struct CheckTextOptions {
    bool quiet = false;  ///< the first line and nothing else
};

[[nodiscard]] std::string check_text(const text::Document& document, const rules::Situation& situation,
                                     const rules::Judgement& judgement, const Style& style,
                                     const CheckTextOptions& options = {});

}  // namespace benchfeed::report
