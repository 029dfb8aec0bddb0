#pragma once
// Plans carry what they expect as comments: "# expect: heat.plug-overloaded fail at box.junction plug".
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <benchfeed/check.hpp>
#include <benchfeed/rules/summary.hpp>

namespace benchfeed::test {

struct Expectation {
    std::string rule, verdict, at, part;  ///< at and part empty: anywhere
    bool met = false;
};

inline std::string read_text(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

inline std::vector<std::filesystem::path> plans_in(const std::string& folder) {
    std::vector<std::filesystem::path> plans;
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        if (entry.path().extension() == ".toml") plans.push_back(entry.path());
    std::sort(plans.begin(), plans.end());
    return plans;
}

inline std::vector<Expectation> expectations_of(const std::string& content) {
    std::vector<Expectation> expected;
    std::istringstream lines(content);
    for (std::string line; std::getline(lines, line);) {
        const auto at = line.find("# expect: ");
        if (at == std::string::npos) continue;
        std::istringstream words(line.substr(at + 10));
        Expectation e;
        std::string word;
        words >> e.rule >> e.verdict;
        if (e.verdict == "cannot") {
            words >> word;
            e.verdict = "cannot judge";
        }
        while (words >> word) {
            if (word == "at")
                words >> e.at;
            else
                e.part = word;
        }
        expected.push_back(e);
    }
    return expected;
}

inline std::string at_text(const plan::Plan& plan, const rules::At& at) {
    return rules::path_of(plan, at);
}

/// "heat.plug-overloaded fail at box.junction plug" for every outcome that is not ok and not accepted, each
/// once.
inline std::vector<Expectation> findings_of(const Judged& judged) {
    std::vector<Expectation> found;
    for (const auto& o : judged.judgement().outcomes) {
        if (o.verdict == rules::Verdict::ok || o.accepted != plan::nowhere) continue;
        const Expectation e{std::string(rules::registry()[o.rule].id), std::string(rules::words(o.verdict)),
                            at_text(judged.plan(), o.at), std::string(rules::words(o.part))};
        const bool known = std::any_of(found.begin(), found.end(), [&](const Expectation& f) {
            return f.rule == e.rule && f.verdict == e.verdict && f.at == e.at && f.part == e.part;
        });
        if (!known) found.push_back(e);
    }
    return found;
}

}  // namespace benchfeed::test
