#include <benchfeed/report/compare_text.hpp>

#include <fmt/format.h>

#include <benchfeed/base/measure.hpp>
#include <benchfeed/rules/held_against.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using rules::Comparison;
using rules::Difference;
using rules::Moved;

namespace {

std::string semicolons(const std::vector<std::string>& words) {
    std::string out;
    for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
    return out;
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

std::string difference_words(const Difference& d) {
    if (d.kind == Difference::Kind::added) return fmt::format("{} [{}] is new", d.words, d.path);
    if (d.kind == Difference::Kind::removed) return fmt::format("{} [{}] is gone", d.words, d.path);
    std::vector<std::string> parts;
    for (const auto& field : d.fields)
        parts.push_back(fmt::format("{} {} -> {}", field.key,
                                    field.before.empty() ? "(not said)" : field.before,
                                    field.after.empty() ? "(not said)" : field.after));
    for (const std::string& same : d.unchanged) parts.push_back(same + " unchanged");
    return fmt::format("{} [{}]: {}", d.words, d.path, semicolons(parts));
}

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

std::string moved_words(const Moved& m) {
    const std::string part(rules::words(m.part));
    const std::string from =
        m.carried_from.empty() ? "" : fmt::format(" (carried by {} before)", m.carried_from);
    return fmt::format("{} at {}{}{}{}: {} -> {}", rules::registry()[m.rule].id, m.at,
                       part.empty() ? "" : " ", part, from, side_text(m.before), side_text(m.after));
}

namespace {

std::string moved_text(const Moved& m, const Style& style) {
    const std::string word(direction_words(m));
    const std::string text = wrapped(moved_words(m), word + " ", "  ", style);
    const Ink ink = m.worse ? Ink::bad : m.direction() == Moved::Direction::better ? Ink::good : Ink::strong;
    std::string out = inked(word, ink, style) + text.substr(word.size());
    out += wrapped(harmless(m.headline) + ".", "  ", "  ", style);
    if (!m.because.empty()) out += wrapped("because of: " + semicolons(m.because), "  ", "    ", style);
    return out;
}

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

/// "fault loop at the saw outlet: 0.9 ohm on 2026-05-02; 0.93 ohm was expected, now 1.20 ohm".
std::string stale_words(const rules::StaleReading& r) {
    const auto figure = [](const Measure& m) { return m.index() == 0 ? "no figure" : rules::shown(m); };
    const std::string before = figure(r.before), after = figure(r.after);
    std::string out = fmt::format("{} at {}: {} on {}", rules::words(r.test), r.where, r.found, r.date);
    if (before != after) out += fmt::format("; {} then, {} now", before, after);
    if (!r.changed.empty()) out += "; changed since: " + rules::list(r.changed);
    return out;
}

}  // namespace

std::string compare_text(const Comparison& c, const Style& style) {
    if (c.differences.empty() && c.moved.empty())
        return wrapped("Nothing differs that has a meaning.", "", "", style);
    const std::size_t worse = c.worse();
    std::string out = wrapped(
        inked(fmt::format("{}: {}, {} worse, {} better.",
                          worse > 0 ? "Something got worse" : "Nothing got worse",
                          counted(c.differences.size(), "difference", "differences"), worse, c.better()),
              worse > 0 ? Ink::bad : Ink::strong, style),
        "", "  ", style);
    out += "\n" + heading("Differences", style);
    for (const Difference& d : c.differences)
        out += wrapped(harmless(difference_words(d)), "  - ", "    ", style);
    if (!c.moved.empty()) out += "\n" + heading("Verdicts that moved", style);
    for (const Moved& m : c.moved) out += moved_text(m, style);
    if (!c.tests.empty()) out += "\n" + heading("Tests of the assembled bench to repeat", style);
    for (std::size_t i = 0; i < c.tests.size(); ++i) {  // tests at the same places share one line of them
        out += wrapped(harmless(c.tests[i].test), "  - ", "    ", style);
        const bool last = i + 1 == c.tests.size() || c.tests[i + 1].where != c.tests[i].where;
        if (last && !c.tests[i].where.empty())
            out += wrapped("at " + harmless(semicolons(c.tests[i].where)), "      ", "      ", style);
    }
    if (!c.stale.empty()) out += "\n" + heading("Readings of the bench as it was", style);
    for (const rules::StaleReading& r : c.stale)
        out += wrapped(harmless(stale_words(r)), "  - ", "    ", style);
    return out;
}

}  // namespace benchfeed::report
