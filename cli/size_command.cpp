// benchfeed size PLAN
#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include <benchfeed/advice/edit_text.hpp>
#include <benchfeed/advice/prices.hpp>
#include <benchfeed/report/size_text.hpp>
#include <benchfeed/version.hpp>
#include "cli/commands.hpp"
#include "cli/common_source.hpp"
#include "cli/judged_plan.hpp"
#include "cli/progress.hpp"

namespace benchfeed::cli {

namespace {

std::optional<advice::PriceList> prices_from(const std::string& path, const report::Style& style) {
    const FileOrFault file = read_file(path);
    if (!file.content) {
        print_error("benchfeed: " + report::harmless(file.fault) + "\n");
        return std::nullopt;
    }
    const text::Document document(path, *file.content);
    auto read = advice::read_prices(document);
    if (const auto* problems = std::get_if<Diagnostics>(&read)) {
        print(report::diagnostics_text(document, *problems, style));
        return std::nullopt;
    }
    return std::move(std::get<advice::PriceList>(read));
}

/// Write the plan with its new sections, after what is to be written has been judged whole.
Exit write_plan(const SizeOptions& options, const JudgedPlan& plan, const advice::Sized& sized,
                const tables::Catalogue& catalogue) {
    const advice::Edits edits = advice::edits_of(sized, plan.judged->plan());
    for (const std::string& stock : edits.missing)
        print_error(
            fmt::format("benchfeed: {} has no section of its own in the text: write it by hand\n", stock));
    for (const std::string& stock : edits.common)
        print_error(fmt::format(
            "benchfeed: {} is in a common file, which other plans use and which is never written: change "
            "it there for all of them, give this plan a stock of its own, or flatten it first\n",
            stock));
    if (!edits.missing.empty() || !edits.common.empty()) return Exit::unusable;
    const std::string text = advice::edited(*plan.document, edits.edits);
    // Common files are found from the folder of what is written, which may be another one.
    const plan::Words words = plan_words(catalogue);
    plan::CommonFiles common(common_source(), words);
    text::Document written(options.write, text);
    const auto again = check(written, catalogue, words, common);
    const auto* judged = std::get_if<Judged>(&again);
    if (!judged || advice::faults_of(judged->judgement()) != sized.uncured) {
        print_error("benchfeed: the changed text is not judged like the sized plan; nothing was written\n");
        return Exit::unusable;
    }
    const std::string fault = write_file(options.write, text);
    if (fault.empty()) return Exit::good;
    print_error("benchfeed: " + report::harmless(fault) + "\n");
    return Exit::unusable;
}

/// Other changes than sizes: for what is left, and for volts that took more copper.
report::Otherwise otherwise(const rules::Situation& before, const rules::Judgement& judgement,
                            const advice::Sized& sized, const rules::Situation& after) {
    std::vector<advice::Fault> cured;
    for (const advice::Fault& fault : advice::faults_of(judgement)) {
        const bool left = std::find(sized.uncured.begin(), sized.uncured.end(), fault) != sized.uncured.end();
        if (!left && rules::registry()[fault.rule].harm == rules::Harm::volts) cured.push_back(fault);
    }
    report::Otherwise found{advice::other_cures(after, sized.uncured), {}};
    if (sized.copper_after > sized.copper_before) found.instead = advice::other_cures(before, cured, 2);
    return found;
}

}  // namespace

int run_size(const SizeOptions& options, const report::Style& style) {
    if (!options.write.empty() && !options.overrides.empty()) {
        print_error(
            "benchfeed: sizes for a what-if are not written into the plan: leave out --set or --write\n");
        return Exit::unusable;
    }
    const tables::Catalogue catalogue;
    const JudgedPlan plan = judged_plan(options.plan, options.overrides, catalogue, style);
    if (!plan.judged) return Exit::unusable;
    std::optional<advice::PriceList> prices;
    if (!options.prices.empty()) {
        prices = prices_from(options.prices, style);
        if (!prices) return Exit::unusable;
    }
    std::optional<Busy> busy(std::in_place, "looking for sizes");
    const advice::Sized sized = advice::size(
        plan.judged->situation(), {.prices = prices ? &*prices : nullptr, .cautions = options.cautions});
    const auto after = sized.situation(catalogue);
    std::vector<report::LongestOf> longest;
    for (const plan::Index cord : advice::bench_cords(after))
        longest.push_back({cord, advice::longest_cords(sized, catalogue, cord)});
    const auto* list = prices ? &*prices : nullptr;
    const auto others = otherwise(plan.judged->situation(), plan.judged->judgement(), sized, after);
    busy.reset();
    print(options.json ? report::size_json(after, sized, longest, others, list, version)
                       : report::size_text(after, sized, longest, others, list, style));
    if (!options.write.empty())
        if (const Exit exit = write_plan(options, plan, sized, catalogue); exit != Exit::good) return exit;
    return sized.uncured.empty() ? Exit::good : Exit::found;
}

}  // namespace benchfeed::cli
