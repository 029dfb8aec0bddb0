#pragma once
// What was found about a plan, in words that know no order and no index.
#include <fmt/ranges.h>

#include <functional>
#include <map>
#include <set>

#include <benchfeed/base/measure.hpp>
#include <benchfeed/rules/summary.hpp>
#include "laws/corpus.hpp"

namespace benchfeed::laws {

using Facts = std::set<std::string>;

/// How an outcome is told.
struct Told {
    /// How a path is named in the words; names may have changed.
    std::function<std::string(const std::string& path)> place = [](const std::string& path) { return path; };
    std::function<std::string(const std::string& name)> load = [](const std::string& name) { return name; };
    bool figures = true;
    std::string leave_load = {};  ///< of this name: sets that hold it are left out
    /// What is left out.
    std::function<bool(const rules::Outcome& outcome, const std::string& path)> leave = nullptr;
};

/// "saw lamp": loads of a set, whatever it is called.
inline std::string set_words(const plan::Plan& plan, plan::Index set, const Told& told) {
    if (set == rules::no_set) return "";
    std::set<std::string> names;
    for (const plan::Index load : rules::set_of(plan, set).loads) names.insert(told.load(plan[load].name));
    return fmt::format("{}", fmt::join(names, " "));
}

/// "rule at path part, loads of the set: verdict, value of edge".
inline Facts facts_of(const Judged& judged, const Told& told = {}) {
    Facts facts;
    for (const auto& o : judged.judgement().outcomes) {
        const std::string path = rules::path_of(judged.plan(), o.at);
        if (told.leave && told.leave(o, path)) continue;
        const std::string loads = set_words(judged.plan(), o.set, told);
        if (!told.leave_load.empty() &&
            (" " + loads + " ").find(" " + told.leave_load + " ") != std::string::npos)
            continue;
        const std::string figures =
            told.figures ? fmt::format(", {} of {}", to_text(o.value, 6), to_text(o.edge, 6)) : "";
        facts.insert(fmt::format("{} at {} {}, [{}]: {}{}{}", rules::registry()[o.rule].id, told.place(path),
                                 rules::words(o.part), loads, rules::words(o.verdict), figures,
                                 o.accepted == plan::nowhere ? "" : ", accepted"));
    }
    return facts;
}

inline std::string difference(const Facts& a, const Facts& b) {
    std::string out;
    for (const std::string& fact : a)
        if (!b.contains(fact)) out += "- " + fact + "\n";
    for (const std::string& fact : b)
        if (!a.contains(fact)) out += "+ " + fact + "\n";
    return out;
}

inline std::string_view id_of(const rules::Outcome& outcome) {
    return rules::registry()[outcome.rule].id;
}

}  // namespace benchfeed::laws
