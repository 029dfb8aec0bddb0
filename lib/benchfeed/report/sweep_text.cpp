#include <benchfeed/report/sweep_text.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using advice::Tried;
using rules::Situation;

namespace {

/// "2 fail, 1 unknown"; "in order" where nothing is found.
std::string tally_words(const rules::FindingCounts& tally) {
    std::string text;
    const auto add = [&](std::size_t count, std::string_view words) {
        if (count > 0) text += fmt::format("{}{} {}", text.empty() ? "" : ", ", count, words);
    };
    add(tally.fail, "fail");
    add(tally.cannot_judge, "unknown");
    add(tally.caution, tally.caution == 1 ? "caution" : "cautions");
    return text.empty() ? "in order" : text;
}

std::string drop_words(const Situation& s, const Tried& tried) {
    if (!tried.drop) return "-";
    return fmt::format("{} {}", to_text(tried.drop->lost, 3), s.plan[tried.drop->load].words());
}

std::string weakest_words(const Situation& s, const Tried& tried) {
    if (!tried.weakest) return "-";
    return fmt::format("{} % {}", digits(tried.weakest->share * 100, tried.weakest->share < 1 ? 2 : 3),
                       rules::words(s, tried.weakest->at, tried.weakest->part));
}

}  // namespace

std::string sweep_text(const Situation& s, const advice::Try& what, const advice::Sweep& sweep,
                       const Style& style) {
    std::vector<std::array<std::string, 4>> rows{{what.path, "findings", "largest drop", "weakest element"}};
    for (const Tried& tried : sweep.tried)
        rows.push_back({harmless(tried.value), tally_words(tried.tally), harmless(drop_words(s, tried)),
                        harmless(weakest_words(s, tried))});
    rows.front().front() = "value";
    std::array<std::size_t, 4> widths{};
    for (const auto& row : rows)
        for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], columns(row[c]));
    std::string out = heading(harmless(what.path), style);
    for (const auto& row : rows) {
        std::string line = " ";
        for (std::size_t c = 0; c < row.size(); ++c) {
            line += " " + row[c];
            if (c + 1 < row.size()) line += std::string(widths[c] - columns(row[c]) + 1, ' ');
        }
        out += line + "\n";
    }
    for (const auto& crossing : sweep.crossings) {
        std::string text =
            fmt::format("Up to {}: {}; from {} on: {}", crossing.last, tally_words(crossing.tally_before),
                        crossing.first, tally_words(crossing.tally_after));
        if (crossing.rule != plan::nowhere)
            text += fmt::format(", by {} at {}", rules::registry()[crossing.rule].id,
                                rules::words(s, crossing.at, crossing.part));
        out += wrapped(harmless(text) + ".", "  ", "    ", style);
    }
    if (what.range() && sweep.crossings.empty())
        out += wrapped("The findings are as many at all of them.", "  ", "  ", style);
    return out;
}

}  // namespace benchfeed::report
