// benchfeed parts PLAN
#include <fmt/format.h>

#include <benchfeed/advice/parts.hpp>
#include <benchfeed/report/parts_list.hpp>
#include "cli/commands.hpp"
#include "cli/judged_plan.hpp"

namespace benchfeed::cli {

namespace {

/// A fault of an option's text, with carets under it.
void tell_option(std::string_view option, const std::string& text, const QuantityFault& fault,
                 const report::Style& style) {
    std::string out = report::wrapped(report::harmless(fault.message), "error: ", "       ", style);
    const std::string before = fmt::format("  {} ", option);
    out += before + report::harmless(text) + "\n";
    out +=
        std::string(before.size() + report::columns(text.substr(0, fault.from)), ' ') +
        std::string(std::max<std::size_t>(1, report::columns(text.substr(fault.from, fault.to - fault.from))),
                    '^') +
        "\n";
    if (!fault.help.empty())
        out += report::wrapped(report::harmless(fault.help), "  write: ", "         ", style);
    print_error(out);
}

bool allowances_hold(const std::vector<std::string>& texts, const report::Style& style) {
    bool good = true;
    for (const std::string& text : texts) {
        advice::Allowances tried;
        const auto fault = advice::allow(tried, text);
        if (fault) tell_option("--allow", text, *fault, style);
        good = good && !fault;
    }
    return good;
}

/// Sold lengths of a file and of the option; nothing where one of them is faulty, which has been told.
std::optional<advice::SoldLengths> sold_lengths(const PartsOptions& options, const report::Style& style) {
    advice::SoldLengths sold;
    if (!options.stock.empty()) {
        const FileOrFault file = read_file(options.stock);
        if (!file.content) {
            print_error("benchfeed: " + report::harmless(file.fault) + "\n");
            return std::nullopt;
        }
        const text::Document document(options.stock, *file.content);
        auto read = advice::read_sold_lengths(document);
        if (const auto* problems = std::get_if<Diagnostics>(&read)) {
            print_error(report::diagnostics_text(document, *problems, style));
            return std::nullopt;
        }
        sold = std::move(std::get<advice::SoldLengths>(read));
    }
    if (options.sold.empty()) return sold;
    auto read = advice::read_lengths(options.sold);
    if (const auto* fault = std::get_if<QuantityFault>(&read)) {
        tell_option("--sold", options.sold, *fault, style);
        return std::nullopt;
    }
    sold.others = std::move(std::get<std::vector<Length>>(read));
    return sold;
}

}  // namespace

int run_parts(const PartsOptions& options, const report::Style& style) {
    const tables::Catalogue catalogue;
    const JudgedPlan plan = judged_plan(options.plan, options.overrides, catalogue, style);
    if (!plan.judged) return Exit::unusable;
    if (!allowances_hold(options.allowances, style)) return Exit::unusable;
    const auto sold = sold_lengths(options, style);
    if (!sold) return Exit::unusable;
    const auto s = plan.judged->situation();
    const auto list = advice::shopping_list(s, plan.judged->judgement(),
                                            {.allowances = options.allowances, .sold = &*sold});
    if (options.format == "csv")
        print(report::parts_csv(s, list, options.overrides));
    else if (options.format == "json")
        print(report::parts_json(s, list, options.overrides, program));
    else
        print(report::parts_text(s, list, options.overrides, style));
    return Exit::good;  // a failing plan has a list too, which says so at its top
}

}  // namespace benchfeed::cli
