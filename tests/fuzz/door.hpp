#pragma once
// What the fuzzers share.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include <benchfeed/base/diagnostic.hpp>
#include <benchfeed/check.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::fuzz {

/// A promise that the library makes to everybody; the fuzzer stops where one is broken.
inline void must(bool kept) {
    if (!kept) std::abort();
}

/// A door that looks at no plan as large as this one says so, and nobody takes its silence for a promise
/// kept.
inline bool left_out = false;
inline int leave_out() {
    left_out = true;
    return 0;
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

/// Bytes up to the first NUL, and those behind it; nothing where there is none.
inline std::optional<std::pair<std::string_view, std::string_view>> split(std::string_view text) {
    const auto nul = text.find('\0');
    if (nul == std::string_view::npos) return std::nullopt;
    return std::pair{text.substr(0, nul), text.substr(nul + 1)};
}

/// Up to three overrides, each ended by a NUL, before the text of a plan.
struct WhatIf {
    std::vector<plan::Override> overrides;
    std::string_view text;
};
inline WhatIf what_if_of(std::string_view text) {
    WhatIf result{{}, text};
    while (const auto parts = result.overrides.size() < 3 ? split(result.text) : std::nullopt) {
        result.overrides.push_back({std::string(parts->first)});
        result.text = parts->second;
    }
    return result;
}

inline std::size_t count(std::string_view text, std::string_view word) {
    std::size_t found = 0;
    for (auto at = text.find(word); at != std::string_view::npos; at = text.find(word, at + word.size()))
        ++found;
    return found;
}

inline bool has_figure(const Measure& measure) {
    return !std::holds_alternative<std::monostate>(measure);
}
inline bool same(const Measure& a, const Measure& b) {
    return a.index() == b.index() && (!has_figure(a) || number(a) == number(b));
}
inline bool same(const rules::Outcome& a, const rules::Outcome& b) {
    return a.rule == b.rule && a.at == b.at && a.part == b.part && a.set == b.set && a.verdict == b.verdict &&
           a.accepted == b.accepted && same(a.value, b.value) && same(a.edge, b.edge);
}
/// As an algorithm takes it.
inline constexpr auto same_outcome = [](const rules::Outcome& a, const rules::Outcome& b) {
    return same(a, b);
};

/// What holds of every judged plan, whatever it says.
inline void must_keep_the_laws(const Judged& judged) {
    const rules::Judgement& judgement = judged.judgement();
    auto worst = rules::Verdict::ok;
    bool undecided = false;
    for (const rules::Outcome& o : judgement.outcomes) {
        must(o.rule < rules::registry().size());
        for (const Measure& figure : {o.value, o.edge, o.caution, o.least})
            must(!has_figure(figure) || !std::isnan(number(figure)));
        must(o.verdict != rules::Verdict::ok || o.ground.carries_ok());
        if (o.accepted != plan::nowhere) continue;
        worst = std::max(worst, o.verdict);
        undecided = undecided || rules::is_grave_question(o);
        must(!o.open || o.verdict == rules::held(o.open->at_worst, o.open->at_best));
    }
    must(judgement.verdict == worst);
    must(judgement.essential_undecided == undecided);
    must(fails(judgement, FailOn::fail) == (worst == rules::Verdict::fail || undecided));
    must(fails(judgement, FailOn::unknown) >= fails(judgement, FailOn::fail));
    must(fails(judgement, FailOn::caution) >= fails(judgement, FailOn::unknown));
    const rules::Judgement again = rules::judge(judged.situation());
    must(std::equal(judgement.outcomes.begin(), judgement.outcomes.end(), again.outcomes.begin(),
                    again.outcomes.end(), same_outcome));
}

}  // namespace benchfeed::fuzz
