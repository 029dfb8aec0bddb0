// benchfeed size PLAN
#include <fmt/format.h>

#include <benchfeed/advice/edit_text.hpp>
#include <benchfeed/advice/prices.hpp>
#include <benchfeed/report/size_text.hpp>
#include <benchfeed/version.hpp>
#include "cli/commands.hpp"
#include "cli/judged_plan.hpp"

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
    if (!edits.missing.empty()) return Exit::unusable;
    const std::string text = advice::edited(*plan.document, edits.edits);
    const auto again = check(text::Document(options.write, text), catalogue);
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
    const advice::Sized sized =
        advice::size(plan.judged->situation(), {.prices = prices ? &*prices : nullptr});
    const auto after = sized.situation(catalogue);
    std::vector<report::LongestOf> longest;
    for (const plan::Index cord : advice::bench_cords(after))
        longest.push_back({cord, advice::longest_cords(sized, catalogue, cord)});
    const auto* list = prices ? &*prices : nullptr;
    print(options.json ? report::size_json(after, sized, longest, list, version)
                       : report::size_text(after, sized, longest, list, style));
    if (!options.write.empty())
        if (const Exit exit = write_plan(options, plan, sized, catalogue); exit != Exit::good) return exit;
    return sized.uncured.empty() ? Exit::good : Exit::found;
}

}  // namespace benchfeed::cli
