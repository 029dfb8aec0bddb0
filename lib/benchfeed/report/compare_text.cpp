#include <benchfeed/report/compare_text.hpp>

#include <fmt/format.h>

#include <benchfeed/base/measure.hpp>

namespace benchfeed::report {

using rules::Comparison;
using rules::Difference;
using rules::Moved;

namespace {

std::string joined(const std::vector<std::string>& words) {
    std::string out;
    for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
    return out;
}

std::string difference_text(const Difference& d) {
    if (d.kind == Difference::Kind::added) return fmt::format("{} [{}] is new", d.words, d.path);
    if (d.kind == Difference::Kind::removed) return fmt::format("{} [{}] is gone", d.words, d.path);
    std::vector<std::string> parts;
    for (const auto& field : d.fields)
        parts.push_back(fmt::format("{} {} -> {}", field.key,
                                    field.before.empty() ? "(not said)" : field.before,
                                    field.after.empty() ? "(not said)" : field.after));
    for (const std::string& same : d.unchanged) parts.push_back(same + " unchanged");
    return fmt::format("{} [{}]: {}", d.words, d.path, joined(parts));
}

std::string side_text(const std::optional<Moved::Side>& side) {
    if (!side) return "not there";
    std::string out(rules::words(side->verdict));
    if (side->accepted) out += ", accepted";
    if (!std::holds_alternative<std::monostate>(side->value) &&
        !std::holds_alternative<std::monostate>(side->limit))
        out += fmt::format(" ({} of {})", to_text(side->value), to_text(side->limit));
    return out;
}

}  // namespace

std::string_view direction_words(const Moved& moved) {
    switch (moved.direction()) {
        case Moved::Direction::worse:
            return "worse";
        case Moved::Direction::better:
            return "better";
        case Moved::Direction::elsewhere:
            return "elsewhere";
    }
    return "";
}

namespace {

std::string moved_text(const Moved& m, const Style& style) {
    const rules::Rule& rule = rules::registry()[m.rule];
    const std::string part(rules::words(m.part));
    const std::string word(direction_words(m));
    const std::string from =
        m.carried_from.empty() ? "" : fmt::format(" (carried by {} before)", m.carried_from);
    const std::string text =
        wrapped(fmt::format("{} at {}{}{}{}: {} -> {}", rule.id, m.at, part.empty() ? "" : " ", part, from,
                            side_text(m.before), side_text(m.after)),
                word + " ", "  ", style);
    const Ink ink = m.worse ? Ink::bad : m.direction() == Moved::Direction::better ? Ink::good : Ink::strong;
    std::string out = inked(word, ink, style) + text.substr(word.size());
    out += wrapped(harmless(m.headline) + ".", "  ", "  ", style);
    if (!m.because.empty()) out += wrapped("because of: " + joined(m.because), "  ", "    ", style);
    return out;
}

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

}  // namespace

std::string compare_text(const Comparison& c, const Style& style) {
    if (c.differences.empty() && c.moved.empty()) return "Nothing differs that has a meaning.\n";
    const std::size_t worse = c.worse();
    std::string out = inked(
        fmt::format("{}: {}, {} worse, {} better.", worse > 0 ? "Something got worse" : "Nothing got worse",
                    counted(c.differences.size(), "difference", "differences"), worse, c.better()),
        worse > 0 ? Ink::bad : Ink::strong, style);
    out += "\n\n" + inked("Differences", Ink::strong, style) + "\n";
    for (const Difference& d : c.differences)
        out += wrapped(harmless(difference_text(d)), "  - ", "    ", style);
    if (!c.moved.empty()) out += "\n" + inked("Verdicts that moved", Ink::strong, style) + "\n";
    for (const Moved& m : c.moved) out += moved_text(m, style);
    if (!c.tests.empty())
        out += "\n" + inked("Tests of the assembled bench to repeat", Ink::strong, style) + "\n";
    for (std::size_t i = 0; i < c.tests.size(); ++i) {  // tests at the same places share one line of them
        out += wrapped(harmless(c.tests[i].test), "  - ", "    ", style);
        const bool last = i + 1 == c.tests.size() || c.tests[i + 1].where != c.tests[i].where;
        if (last && !c.tests[i].where.empty())
            out += wrapped("at " + harmless(joined(c.tests[i].where)), "      ", "      ", style);
    }
    if (!c.stale.empty())
        out += "\n" + inked("Readings that are of the bench as it was", Ink::strong, style) + "\n";
    for (const rules::StaleReading& r : c.stale)
        out += wrapped(harmless(fmt::format("{} at {}: {} on {}; {} was expected, now {}", r.test, r.at,
                                            r.found, r.date, to_text(r.before, 2), to_text(r.after, 2))),
                       "  - ", "    ", style);
    return out;
}

}  // namespace benchfeed::report
