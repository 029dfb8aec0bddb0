#pragma once
// The plans over which every law holds: all that lie in the tree, the bad ones left out, and generated
// benches of every system and region.
//
// BENCHFEED_LAWS=20 build/tests/laws makes twenty times as many benches and tries twenty times as many places
// in each plan; BENCHFEED_LAWS_SEED=7 begins elsewhere. Such a run looks for what breaks a law. What holds of
// the usual plans alone, so counts and lists of what is known, it does not ask for.
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "plans/expectations.hpp"
#include "support/judged.hpp"
#include "support/random_bench.hpp"
#include "support/rounds.hpp"

namespace benchfeed::laws {

/// A number out of the environment, for a longer run by hand.
inline unsigned asked(const char* variable, unsigned usual) {
    const char* text = std::getenv(variable);
    return text ? static_cast<unsigned>(std::strtoul(text, nullptr, 10)) : usual;
}
inline unsigned times() {
    static const unsigned asked_for = std::max(1U, asked("BENCHFEED_LAWS", 1));
    return asked_for;
}
inline unsigned seed() {
    static const unsigned asked_for = asked("BENCHFEED_LAWS_SEED", 20261129);
    return asked_for;
}

/// Whether these are the plans for which counts and lists are made; says so where they are not.
inline bool usual_plans() {
    static const bool usual = [] {
        if (!test::sanitized && times() == 1 && std::getenv("BENCHFEED_LAWS_SEED") == nullptr) return true;
        MESSAGE("other plans than the usual ones: neither counts nor lists of what is known are asked for");
        return false;
    }();
    return usual;
}
/// A law that meets hardly a plan holds nothing.
inline void at_least(std::size_t count, std::size_t least, const std::string& of) {
    if (usual_plans()) CHECK_MESSAGE(count >= least, of << ": " << count << " of at least " << least);
}

inline const plan::Words& words() {
    static const plan::Words all = plan_words(test::catalogue());
    return all;
}
/// A text as the library answers it.
inline std::variant<Judged, Diagnostics> answered(const std::string& text,
                                                  const std::vector<std::string>& set = {}) {
    std::vector<plan::Override> overrides;
    for (const std::string& one : set) overrides.push_back({one});
    return check(text::Document("plan.toml", text), test::catalogue(), words(), overrides);
}
/// The same of a text that must be a plan; nothing where it is none with these values.
inline std::optional<Judged> judged(const std::string& text, const std::vector<std::string>& set = {}) {
    auto answer = answered(text, set);
    if (auto* done = std::get_if<Judged>(&answer)) return std::move(*done);
    return std::nullopt;
}

struct Bench {
    std::string name, text;
    std::shared_ptr<const Judged> judged;

    /// Out of the name, so that a plan more changes nothing for the others.
    [[nodiscard]] unsigned number() const {
        unsigned sum = 0;
        for (const char c : name) sum = sum * 31 + static_cast<unsigned char>(c);
        return sum;
    }
};

inline Bench bench_of(std::string name, const std::string& text) {
    auto answer = answered(text);
    if (const auto* problems = std::get_if<Diagnostics>(&answer))
        FAIL(name << ": " << problems->front().message << "\n" << text);
    return {std::move(name), text, std::make_shared<const Judged>(std::move(std::get<Judged>(answer)))};
}

/// Every plan of the tree that can be read.
inline void add_written(std::vector<Bench>& benches) {
    const std::string tests = BENCHFEED_TESTS_DIR, data = BENCHFEED_DATA_DIR, rules = BENCHFEED_RULE_PLANS;
    std::vector<std::filesystem::path> paths{tests + "/plans/every-field.toml"};
    for (const std::string& folder : {rules, tests + "/plans/scenarios", data + "/plans"})
        for (const auto& path : test::plans_in(folder)) paths.push_back(path);
    // Sanitizers take every sixth.
    for (std::size_t i = 0; i < paths.size(); i += test::sanitized ? 6 : 1) {
        const auto folder = paths[i].parent_path();
        const auto under = (folder == rules ? "rules" : folder.filename()) / paths[i].filename();
        benches.push_back(bench_of(under.string(), test::read_text(paths[i])));
    }
}

/// Benches of every system in every region that has it.
inline void add_generated(std::vector<Bench>& benches) {
    static const std::vector<std::pair<const char*, const char*>> kinds{
        {"230 V", "EU"},     {"230 V", "UK"},     {"230 V", "CH"},     {"230 V", "AU"},
        {"240 V", "UK"},     {"230/400 V", "EU"}, {"230/400 V", "UK"}, {"230/400 V", "CH"},
        {"230/400 V", "AU"}, {"120 V", "US"},     {"120/240 V", "US"}, {"120/208 V", "US"}};
    const unsigned each = test::rounds(26 * times());
    for (const auto& [system, region] : kinds)
        for (unsigned i = 0; i < each; ++i) {
            test::BenchDice random(seed() + i);
            test::BenchOptions options;
            options.system = system;
            options.region = region;
            options.whole = i % 4 != 0;
            options.loads = 2 + static_cast<int>(i % 5);
            benches.push_back(bench_of(fmt::format("{} {} {}", region, system, seed() + i),
                                       test::random_bench(random, options)));
        }
}

inline const std::vector<Bench>& corpus() {
    static const std::vector<Bench> all = [] {
        std::vector<Bench> benches;
        add_written(benches);
        add_generated(benches);
        return benches;
    }();
    return all;
}

/// What breaks a law, each once with one example. Lists of what is known stand beside the laws, with reasons;
/// they may only shrink.
class Breaches {
public:
    void add(const std::string& what, const std::string& example) { found_.emplace(what, example); }
    [[nodiscard]] const std::map<std::string, std::string>& found() const { return found_; }

    /// Everything found is known, and everything known still happens.
    void hold(const std::set<std::string>& known = {}) const {
        for (const auto& [what, example] : found_)
            if (!known.contains(what)) FAIL_CHECK(what << "\n" << example);
        if (!usual_plans()) return;
        for (const std::string& what : known)
            if (!found_.contains(what)) FAIL_CHECK("no longer happens, strike it off: " << what);
    }

private:
    std::map<std::string, std::string> found_;
};

}  // namespace benchfeed::laws
