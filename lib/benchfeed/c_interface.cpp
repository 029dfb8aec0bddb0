// The interface for other languages: nothing thrown leaves it.
#include <algorithm>
#include <cstdlib>
#include <exception>
#include <new>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#pragma GCC visibility push(default)  // all of it leaves a shared library
#include <benchfeed/benchfeed.h>
#pragma GCC visibility pop
#include <benchfeed/advice/cures.hpp>
#include <benchfeed/check.hpp>
#include <benchfeed/report/machine.hpp>
#include <benchfeed/version.hpp>

namespace {

using namespace benchfeed;

struct Report {
    std::string json;
    benchfeed_result result = benchfeed_good;
};

Report report_of(const std::string& name, std::string_view content, const std::vector<plan::Override>& sets) {
    const auto& format = *report::find_machine_format("json");
    const auto whole = [&](const std::string& plan, const std::string& errors) {
        return format.opening({"benchfeed", version}) + plan + std::string(format.middle) + errors +
               format.closing(errors.empty());
    };
    const text::Document document(name, std::string(content));
    const tables::Catalogue catalogue;
    const plan::Words words = plan_words(catalogue);
    const auto read = check(document, catalogue, words, sets);
    const auto* judged = std::get_if<Judged>(&read);
    if (!judged)
        return {whole("", format.unreadable(name, std::get<Diagnostics>(read))), benchfeed_unreadable};
    advice::CureTrials trials{.left = advice::most_trials(judged->plan())};
    const std::string plan = report::written(
        format.plan, {document, judged->situation(), judged->judgement(),
                      [](const rules::Outcome& o) { return reaches(o, FailOn::fail); },
                      [&](const rules::Outcome& o) {
                          return advice::cures({document, catalogue, words, sets}, judged->situation(),
                                               judged->judgement(), o, trials);
                      },
                      rules::Verdict::ok, true});
    return {whole(plan, ""), fails(judged->judgement(), FailOn::fail) ? benchfeed_found : benchfeed_good};
}

/// A copy that free() frees; null without memory.
char* copy_of(std::string_view text) {
    auto* copy = static_cast<char*>(std::malloc(text.size() + 1));
    if (!copy) return nullptr;
    *std::copy(text.begin(), text.end(), copy) = '\0';
    return copy;
}

benchfeed_result unusable(char** error, std::string_view why) {
    if (error) *error = copy_of(why);
    return benchfeed_unusable;
}

}  // namespace

extern "C" int benchfeed_interface(void) {
    return 1;
}

extern "C" const char* benchfeed_version(void) {
    return version;
}

extern "C" benchfeed_result benchfeed_check(const char* name, const char* text, size_t length,
                                            const char* const* sets, size_t count, char** json,
                                            char** error) {
    if (error) *error = nullptr;
    if (!json) return unusable(error, "json is null: nowhere to put the report");
    *json = nullptr;
    if (!name) return unusable(error, "name is null: call the plan something, such as its file");
    if (!text && length > 0) return unusable(error, "text is null, and its length is not 0");
    if (!sets && count > 0) return unusable(error, "sets is null, and there are said to be some");
    try {
        std::vector<plan::Override> overrides;
        for (size_t i = 0; i < count; ++i) {
            if (!sets[i]) return unusable(error, "one of the sets is null");
            overrides.push_back({sets[i]});
        }
        const Report report = report_of(name, {text ? text : "", length}, overrides);
        *json = copy_of(report.json);
        return *json ? report.result : unusable(error, "no memory is left");
    } catch (const std::bad_alloc&) {
        return unusable(error, "no memory is left");
    } catch (const std::exception& problem) {
        return unusable(error, problem.what());
    } catch (...) {
        return unusable(error, "an exception that says nothing");
    }
}

extern "C" void benchfeed_free(char* text) {
    std::free(text);
}
