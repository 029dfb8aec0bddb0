#include <benchfeed/report/questions.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include <benchfeed/report/card_parts.hpp>
#include <benchfeed/report/json_parts.hpp>
#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/questions.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using rules::Asked;
using rules::Judgement;
using rules::Situation;

namespace {

/// Where somebody stands who looks it up, in the order of the way.
enum class Stop : std::uint8_t { panel, wall, cords, boxes, outlets, switches, tools, rest };
constexpr std::array stops{
    std::pair{Stop::panel, "At the panel: have an electrician open it"},
    std::pair{Stop::wall, "At the wall outlet"},
    std::pair{Stop::cords, "Cords and cables"},
    std::pair{Stop::boxes, "Boxes: pull the plug first"},
    std::pair{Stop::outlets, "Outlets of the bench"},
    std::pair{Stop::switches, "Switches"},
    std::pair{Stop::tools, "Tools and their plates"},
    std::pair{Stop::rest, "The place and the plan"},
};

Stop stop_of(const Situation& s, const std::string& path) {
    const auto dot = path.find('.');
    const std::string kind = path.substr(0, dot);
    const std::string name =
        dot == std::string::npos ? "" : path.substr(dot + 1, path.find('.', dot + 1) - dot - 1);
    if (kind == "supply" || kind == "device") return Stop::panel;
    if (kind == "outlet") {
        const plan::Index outlet = s.plan.find(plan::Kind::outlet, name);
        if (outlet != plan::nowhere && s.network.house[outlet]) return Stop::wall;
    }
    if (kind == "stock" || path.find(".cable.") != std::string::npos) return Stop::cords;
    if (kind == "box") return Stop::boxes;
    if (kind == "outlet") return Stop::outlets;
    if (kind == "switch") return Stop::switches;
    return kind == "load" ? Stop::tools : Stop::rest;
}

/// Elements beyond the first are named: "How many amps are on the plate of the saw? Also: load.router".
std::string asked_words(const Asked& asked) {
    std::string words = asked.ask;
    if (!words.ends_with('?') && !words.ends_with('.')) words += '.';
    constexpr std::size_t most = 8;
    if (!asked.paths.empty()) words += " [" + asked.paths.front() + "]";
    for (std::size_t i = 1; i < std::min(asked.paths.size(), most); ++i)
        words += (i == 1 ? " Also " : ", ") +
                 asked.paths[i].substr(0, asked.paths[i].find('.', asked.paths[i].find('.') + 1));
    if (asked.paths.size() > most) words += fmt::format(" and {} more", asked.paths.size() - most);
    return words;
}

std::string look_words(const Situation& s, const Judgement& judgement, const Asked& asked) {
    const std::string decides = rules::decides_words(s, judgement, asked, 3);
    std::string words = rules::capital(asked.look);
    if (!words.empty()) words += ". ";
    return words + (decides.empty() ? "Decides nothing now." : "Decides " + decides + ".");
}

SheetSection section_of(const Situation& s, const Judgement& judgement, const std::vector<Asked>& all,
                        Stop stop, const char* heading) {
    SheetSection section{heading, {}};
    section.wide = true;
    section.table.head = {"rank", "question", "where to look; what it decides", "answer"};
    section.table.columns = {Column::words, Column::words, Column::words, Column::blank};
    section.table.rooms = {8, 0, 0, 40};
    section.table.least_height = 9;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Stop here = all[i].paths.empty() ? Stop::rest : stop_of(s, all[i].paths.front());
        if (here == stop)
            section.table.rows.push_back(
                {std::to_string(i + 1), asked_words(all[i]), look_words(s, judgement, all[i]), ""});
    }
    return section;
}

std::string status_words(const std::vector<Asked>& all) {
    const auto grave = std::count_if(all.begin(), all.end(), [](const Asked& a) { return a.grave > 0; });
    const auto idle = std::count_if(all.begin(), all.end(), [](const Asked& a) { return a.decides.empty(); });
    if (all.empty()) return "NOTHING IS ASKED";
    std::string words = fmt::format("{} QUESTION{}", all.size(), all.size() == 1 ? "" : "S");
    words += grave > 0 ? (grave == 1 ? std::string(": RANK 1 DECIDES WHAT COUNTS AS A FAIL")
                                     : fmt::format(": RANK 1 TO {} DECIDE WHAT COUNTS AS A FAIL", grave))
                       : std::string(": NONE DECIDES WHAT COUNTS AS A FAIL");
    if (idle == 0) return words;
    return words + (idle == 1 ? "; THE LAST DECIDES NOTHING NOW"
                              : fmt::format("; THE LAST {} DECIDE NOTHING NOW", idle));
}

}  // namespace

Sheet questions_sheet(const text::Document& document, const Situation& s, const Judgement& judgement,
                      const Tool& tool, const CardOptions& options) {
    Sheet sheet = started_sheet(document, s, judgement, tool, options);
    const std::vector<Asked> all = rules::questions(s, judgement);
    sheet.title += ": what to look up";
    sheet.strip = Strip::open;
    sheet.status = (options.what_if ? std::string(what_if_words) : "") + status_words(all);
    for (const auto& [stop, heading] : stops) {
        SheetSection section = section_of(s, judgement, all, stop, heading);
        if (!section.table.rows.empty()) sheet.before.push_back(std::move(section));
    }
    return sheet;
}

std::string questions_json(const text::Document& document, const Situation& s, const Judgement& judgement,
                           const Tool& tool) {
    Json list = Json::array();
    for (const Asked& asked : rules::questions(s, judgement)) {
        Json decides = Json::array();
        for (const rules::Index i : asked.decides) {
            const rules::Outcome& o = judgement.outcomes[i];
            const std::string set = rules::set_name(s.plan, o.set);
            decides.push_back({{"rule", rules::registry()[o.rule].id},
                               {"at", rules::path_of(s.plan, o.at)},
                               {"part", rules::words(o.part)},
                               {"set", set.empty() ? Json(nullptr) : Json(set)},
                               {"counts_as_fail", rules::is_grave_question(o)}});
        }
        list.push_back({{"ask", words_json(asked.ask)},
                        {"look", words_json(asked.look)},
                        {"paths", words_list_json(asked.paths)},
                        {"settles", asked.grave},
                        {"decides", std::move(decides)}});
    }
    const Json all{{"format", 1},
                   {"tool", tool_json(tool)},
                   {"path", words_json(document.path())},
                   {"questions", std::move(list)}};
    return all.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace benchfeed::report
