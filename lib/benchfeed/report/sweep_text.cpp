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

std::string verdict_words(const Tried& tried) {
    std::string text(rules::words(tried.verdict));
    if (tried.fails > 1) text += fmt::format(" ({})", tried.fails);
    return text;
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
    std::vector<std::array<std::string, 4>> rows{{what.path, "verdict", "largest drop", "weakest element"}};
    for (const Tried& tried : sweep.tried)
        rows.push_back({harmless(tried.value), verdict_words(tried), harmless(drop_words(s, tried)),
                        harmless(weakest_words(s, tried))});
    rows.front().front() = "value";
    std::array<std::size_t, 4> widths{};
    for (const auto& row : rows)
        for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], columns(row[c]));
    std::string out = inked(harmless(what.path), Ink::strong, style) + "\n";
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
            fmt::format("Up to {}: {}; from {} on: {}", crossing.last, rules::words(crossing.before),
                        crossing.first, rules::words(crossing.after));
        if (crossing.rule != plan::nowhere)
            text += fmt::format(", by {} at {}", rules::registry()[crossing.rule].id,
                                rules::words(s, crossing.at, crossing.part));
        out += wrapped(harmless(text) + ".", "  ", "    ", style);
    }
    if (what.range() && sweep.crossings.empty())
        out += wrapped("The verdict is the same at all of them.", "  ", "  ", style);
    return out;
}

}  // namespace benchfeed::report
