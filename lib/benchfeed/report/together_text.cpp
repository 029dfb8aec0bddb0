#include <benchfeed/report/together_text.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/report/together_words.hpp>
#include <benchfeed/rules/circuits.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using advice::ChosenSet;
using advice::ChosenSets;
using advice::Together;
using plan::Index;
using rules::Judgement;
using rules::Situation;

namespace {

/// More loads than this have no matrix: a terminal is not wide enough.
constexpr std::size_t widest_matrix = 24;
/// Pairs that are listed where there is no matrix.
constexpr std::size_t most_pairs = 20;

std::string list_of(const Situation& s, const std::vector<Index>& loads) {
    return harmless(rules::list(s, loads));
}

char sign_of(Together answer) {
    switch (answer) {
        case Together::yes:
            return '+';
        case Together::no:
            return 'x';
        case Together::turns:
            return '/';
        case Together::cannot_judge:
            return '?';
    }
    return ' ';
}

std::string matrix_text(const Situation& s, const advice::TogetherAnswer& answer, const Style& style) {
    const auto& loads = answer.company.loads;
    std::size_t longest = 0;
    for (const Index load : loads) longest = std::max(longest, columns(s.plan[load].name));
    longest = std::min<std::size_t>(longest, 24);
    std::string out;
    for (std::size_t a = 0; a < loads.size(); ++a) {
        std::string name = harmless(s.plan[loads[a]].name).substr(0, 24);
        name.resize(std::max(name.size(), longest), ' ');
        std::string row = fmt::format("  {:>2} {} ", a + 1, name);
        for (std::size_t b = 0; b < a; ++b) row += fmt::format(" {} ", sign_of(answer.pairs[a][b]));
        out += row + fmt::format(" {}\n", sign_of(answer.pairs[a][a]));
    }
    std::string foot(longest + 6, ' ');
    for (std::size_t a = 0; a < loads.size(); ++a) foot += fmt::format("{:>2} ", a + 1);
    foot.erase(foot.find_last_not_of(' ') + 1);
    out += foot + "\n";
    return out + wrapped(
                     "+ may run together; x must not; / take turns; ? cannot be judged. The last sign of a "
                     "row is the load alone.",
                     "  ", "  ", style);
}

/// Forbidden pairs in words, where a matrix would be too wide.
std::string pairs_text(const Situation& s, const advice::TogetherAnswer& answer, const Style& style) {
    const auto& loads = answer.company.loads;
    std::size_t no = 0, pairs = 0, open = 0;
    std::string out;
    for (std::size_t a = 0; a < loads.size(); ++a)
        for (std::size_t b = 0; b < a; ++b) {
            ++pairs;
            open += answer.pairs[a][b] == Together::cannot_judge;
            if (answer.pairs[a][b] != Together::no || ++no > most_pairs) continue;
            out += wrapped(list_of(s, {loads[b], loads[a]}), "  x ", "    ", style);
        }
    if (no > most_pairs)
        out += fmt::format("    and {} more (--format json has all pairs)\n", no - most_pairs);
    return fmt::format("  {} of {} pairs must not run together{}.\n", no, pairs,
                       open > 0 ? fmt::format(", {} cannot be judged", open) : "") +
           out;
}

std::string cut_text(const ChosenSets& sets, bool all, const Style& style) {
    std::string out;
    if (sets.more)
        out += wrapped(all ? "and more than are listed here." : "and more: --all lists up to 10 000.", "  ",
                       "  ", style);
    if (sets.stopped)
        out += wrapped(
            "The search ended at its bound: what is listed is right, but it is not all, and there may "
            "be smaller sets.",
            "  ", "  ", style);
    return out;
}

std::string doubts_text(const Situation& s, const Judgement& judgement, const advice::TogetherAnswer& answer,
                        const Style& style) {
    std::string out;
    for (std::size_t i = 0; i < answer.doubts.size(); ++i) {
        const advice::Doubt& doubt = answer.doubts[i];
        if (!doubt.open) continue;
        std::string why = "its current is not known";
        if (doubt.outcome != plan::nowhere) {
            const rules::Outcome& o = judgement.outcomes[doubt.outcome];
            why = rules::words(s, o.at, o.part) + " is not known well enough";
            const auto questions = rules::explain(s, judgement, o).questions;
            if (!questions.empty() && !questions.front().path.empty())
                why += " [" + questions.front().path + "]";
        } else if (doubt.limit != plan::nowhere) {
            const rules::Limit& limit = judgement.limits[doubt.limit];
            why = "the figure for " + rules::words(s, limit.at, limit.part) + " rests on memory";
        }
        out += wrapped(harmless(rules::capital(s.plan[answer.company.loads[i]].words()) + ": " + why + "."),
                       "  ? ", "    ", style);
    }
    return out.empty() ? out : heading("Cannot be judged", style) + out;
}

std::string company_text(const Situation& s, const advice::TogetherAnswer& answer, const Style& style) {
    std::string out;
    if (!answer.company.always.empty())
        out += wrapped("In every set, since it starts by itself: " + list_of(s, answer.company.always) + ".",
                       "", "  ", style);
    for (std::size_t i = 0; i < answer.company.loads.size(); ++i) {
        std::vector<Index> others = answer.company.joins[i];
        std::erase(others, answer.company.loads[i]);
        if (!others.empty())
            out += wrapped(rules::capital(list_of(s, others)) + (others.size() == 1 ? " runs" : " run") +
                               " whenever " + harmless(s.plan[answer.company.loads[i]].words()) + " does.",
                           "", "  ", style);
    }
    for (const auto& turns : answer.company.turns)
        out += wrapped(
            "In turns at " + harmless(s.plan[turns.outlet].words()) + ": " + list_of(s, turns.loads) + ".",
            "", "  ", style);
    for (const auto& positions : answer.company.changeovers)
        out += wrapped("One position at a time at " + harmless(s.plan[positions.at].words()) + ".", "", "  ",
                       style);
    return out;
}

std::string headroom_text(const Situation& s, const Judgement& judgement,
                          const std::vector<advice::Headroom>& rooms, const Style& style) {
    if (rooms.empty()) return "";
    std::string out = heading("Room for one more load", style);
    for (std::size_t i = 0; i + 1 < rooms.size(); i += 2) {  // for minutes, for hours
        const auto words = [&](const advice::Headroom& room) {
            return room.most ? fmt::format("{} ({})", to_text(*room.most, 3), to_text(*room.watts, 3))
                             : std::string("cannot be said");
        };
        std::string line = fmt::format("{}, {}: {}", rules::set_words(s, rooms[i].set),
                                       s.plan[rooms[i].at].words(), words(rooms[i]));
        if (rooms[i].most != rooms[i + 1].most) line += ", for hours " + words(rooms[i + 1]);
        if (rooms[i].ends != plan::nowhere) {
            const rules::Limit& limit = judgement.limits[rooms[i].ends];
            line += "; " + rules::words(s, limit.at, limit.part) + " is the limit";
        }
        out += wrapped(harmless(line) + ".", "  ", "    ", style);
    }
    return out;
}

}  // namespace

std::string together_text(const Situation& s, const Judgement& judgement,
                          const advice::TogetherAnswer& answer, const std::vector<advice::Headroom>& rooms,
                          const Style& style) {
    std::string out;
    for (const auto& set : answer.sets)
        out += wrapped(harmless(set_line(s, judgement, set)), "", "  ", style);
    if (answer.fails_whatever_runs > 0)
        out += wrapped(
            fmt::format("{} more check{} whichever tools run: see `benchfeed check`.",
                        answer.fails_whatever_runs, answer.fails_whatever_runs == 1 ? " fails" : "s fail"),
            "", "  ", style);
    out += company_text(s, answer, style);
    if (answer.always_broken)
        return out + wrapped("What runs by itself is too much already. " +
                                 rules::capital(reason_words(s, judgement, *answer.always_broken)) + ".",
                             "", "  ", style);
    if (answer.always_perhaps)
        out += wrapped(
            "What runs by itself may be too much already: that depends on what the plan does not say, so "
            "no set can be allowed.",
            "", "  ", style);
    out += "\n" + heading("Pairs", style);
    out += answer.company.loads.size() <= widest_matrix ? matrix_text(s, answer, style)
                                                        : pairs_text(s, answer, style);
    const bool all = std::max(answer.largest.sets.size(), answer.forbidden.sets.size()) > 20;
    out += "\n" + heading("Largest sets that may run together", style);
    for (const ChosenSet& set : answer.largest.sets)
        out += wrapped(
            choices_words(s, set) + ": " + rules::amps_words(s, set.running) + not_beside_words(s, set),
            "  + ", "    ", style);
    if (answer.largest.sets.empty()) out += wrapped("none", "  ", "    ", style);
    out += cut_text(answer.largest, all, style);
    out += "\n" + heading("Never together", style);
    for (const ChosenSet& set : answer.forbidden.sets) {
        std::string line = choices_words(s, set);
        if (!set.certain) line += ", unless the plates or the tools show less than is taken for them here";
        if (set.broken) line += ". " + rules::capital(reason_words(s, judgement, *set.broken));
        out += wrapped(line, set.certain ? "  x " : "  ? ", "    ", style);
    }
    if (answer.forbidden.sets.empty() && !answer.forbidden.stopped) {
        const std::string but = none_forbidden_words(s, judgement, answer);
        out += wrapped(but.empty() ? "nothing: all may run at once" : harmless(but), "  ", "  ", style);
    }
    out += cut_text(answer.forbidden, all, style);
    for (const std::string& more :
         {doubts_text(s, judgement, answer, style), headroom_text(s, judgement, rooms, style)})
        if (!more.empty()) out += "\n" + more;
    return out;
}

}  // namespace benchfeed::report
