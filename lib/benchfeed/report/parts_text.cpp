#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/report/parts_list.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using advice::CableLine;
using advice::Cut;
using advice::PartLine;
using advice::ShoppingList;
using rules::Situation;

std::string_view parts_caution() {
    return "What the plan leaves open is marked \"choose\"; parts that are not in the plan are not on the "
           "list. "
           "Local codes and a licensed electrician come first.";
}

std::vector<std::string> pack_lines(const Situation& s, const CableLine& line) {
    std::vector<std::string> lines;
    if (!line.packs) return lines;
    for (const advice::Pack& pack : line.packs->packs) {
        std::string cuts;
        for (const std::size_t piece : pack.pieces)
            cuts += (cuts.empty() ? "" : " + ") + rules::length_words(s, *line.cuts[line.pieces[piece]].cut);
        lines.push_back(fmt::format("{}: {}; {} left", rules::length_words(s, pack.sold), cuts,
                                    rules::length_words(s, pack.left)));
    }
    return lines;
}

std::string cable_title(const Situation& s, const CableLine& line) {
    std::string title = fmt::format("{} {} x {}", s.plan.stocks[line.stock].type.value_or(""), line.cores,
                                    section_text(line.section));
    return line.core.empty() ? title : title + ", core " + line.core;
}

std::string packs_remark(const Situation& s, const CableLine& line) {
    if (!line.packs) return "";
    if (!line.packs->searched)
        return fmt::format(
            "No packs: {} pieces of so many lengths are more than are searched, and packs that may not be "
            "the least "
            "are not listed. Buy at least {}, each piece whole.",
            line.pieces.size(), rules::length_words(s, line.total));
    std::vector<std::string> too_long;
    for (const std::size_t piece : line.packs->too_long)
        too_long.push_back(rules::length_words(s, *line.cuts[line.pieces[piece]].cut));
    if (too_long.empty()) return "";
    return "No sold length holds " + rules::list(too_long) +
           ": ask for it in one piece; a joint is no way out.";
}

std::vector<AllowanceLine> allowance_lines(const advice::Allowances& a) {
    return {{"free-end", a.free_end.written, &a.free_end.source},
            {"bends", a.bends.written, &a.bends.source},
            {"service-loop", a.service_loop.written, &a.service_loop.source},
            {"clip-spacing", a.clip_spacing.written, &a.clip_spacing.source},
            {"waste", a.waste.written, &a.waste.source},
            {"ferrules", a.ferrules.written, &a.ferrules.source},
            {"spare-ways", a.spare_ways.written, &a.spare_ways.source}};
}

namespace {

std::string cut_text(const Situation& s, const Cut& cut, const Style& style) {
    const std::string where = rules::words(s, rules::at_element(cut.element), rules::Part::cable);
    if (!cut.cut)
        return wrapped(
            harmless(where) + ": choose: its length; measure the route, then add what stands below.", "    ",
            "      ", style);
    std::string out =
        wrapped(harmless(where) + ": " + rules::length_words(s, *cut.cut), "    ", "      ", style);
    for (const Step& step : cut.steps)
        out += wrapped(step.symbol + " = " + step.numbers + " = " + step.result, "      ", "        ", style);
    return out;
}

std::string cable_text(const Situation& s, const CableLine& line, const Style& style) {
    const plan::Stock& stock = s.plan.stocks[line.stock];
    const std::string what = cable_title(s, line);
    std::string out = wrapped(
        harmless(fmt::format(
            "{} [{}]: {}{}", what, stock.path(), rules::length_words(s, line.total),
            line.unmeasured > 0 ? fmt::format(" and {} runs that are not measured", line.unmeasured) : "")),
        "  ", "    ", style);
    for (const Cut& cut : line.cuts) out += cut_text(s, cut, style);
    if (line.packs && !line.packs->packs.empty())
        out += wrapped(
            fmt::format("Buy {}; {} left over. Least bought length, then fewest packs.",
                        rules::length_words(s, line.packs->bought), rules::length_words(s, line.packs->left)),
            "    ", "      ", style);
    for (const std::string& pack : pack_lines(s, line)) out += wrapped(pack, "      ", "        ", style);
    if (const std::string remark = packs_remark(s, line); !remark.empty())
        out += wrapped(remark, "    ", "      ", style);
    return out;
}

std::string places_text(const Situation& s, const PartLine& line) {
    std::vector<std::string> places;
    for (const auto& place : line.places)
        places.push_back(rules::words(s, rules::at_element(place.element), place.part) +
                         (place.detail.empty() ? "" : " (" + place.detail + ")"));
    return rules::list(places);
}

std::string part_text(const Situation& s, const PartLine& line, const Style& style) {
    const std::string margin(8, ' ');
    std::string out = wrapped(harmless(line.what),
                              line.count ? fmt::format("  {:>4}  ", *line.count) : "     ?  ", margin, style);
    if (!line.places.empty())
        out += wrapped(harmless(places_text(s, line)), margin + "for ", margin + "  ", style);
    for (const std::string& choose : line.choose)
        out += wrapped(harmless(choose), margin + "choose: ", margin + "  ", style);
    for (const Step& step : line.steps) {
        if (!step.words.empty()) continue;
        out +=
            wrapped(step.symbol + " = " + step.numbers + " = " + step.result, margin, margin + "  ", style);
    }
    for (const std::string& note : line.notes)
        out += wrapped(harmless(rules::capital(note)) + ".", margin, margin + "  ", style);
    return out;
}

std::string groups_text(const Situation& s, const ShoppingList& list, const Style& style) {
    std::string out;
    std::optional<advice::PartGroup> last;
    for (const PartLine& line : list.parts) {
        if (line.group != last)
            out += "\n" + inked(rules::capital(std::string(advice::words(line.group))), Ink::strong, style) +
                   "\n";
        last = line.group;
        out += part_text(s, line, style);
    }
    return out;
}

std::string there_text(const Situation& s, const ShoppingList& list, const Style& style) {
    std::vector<std::string> names;
    for (const plan::Index i : list.there_already) names.push_back(s.plan[i].words());
    for (const plan::Index i : list.stocks_there) names.push_back(s.plan.stocks[i].path());
    if (names.empty()) return "";
    return "\n" +
           wrapped(
               "Not on the list, since the plan or the house has it: " + harmless(rules::list(names)) + ".",
               "", "  ", style);
}

std::string allowances_text(const ShoppingList& list, const Style& style) {
    std::string out = "\n" + heading("Allowances", style);
    for (const AllowanceLine& one : allowance_lines(list.allowances))
        out += wrapped(harmless(fmt::format("{}{}", one.value, *one.source ? "" : " (yours)")),
                       fmt::format("  {:<14}", one.name), std::string(16, ' '), style);
    for (const tables::Citation& source : list.sources)
        out += wrapped(network::cited(source) + ". --allow NAME=VALUE replaces one.", "  Source: ", "    ",
                       style);
    return out + wrapped(
                     "cut = (length + 2 * free end + bends [+ service loop]) * (1 + waste), rounded up to a "
                     "centimetre, in the US to a tenth of a foot.",
                     "  ", "    ", style);
}

}  // namespace

std::string parts_text(const Situation& s, const ShoppingList& list, const WhatIf& what_if,
                       const Style& style) {
    std::string out;
    if (!list.warning.empty()) out += inked(wrapped(list.warning, "", "", style), Ink::bad, style) + "\n";
    out += wrapped("What to buy for " + harmless(s.plan.head.title.value_or("the bench")) +
                       (s.plan.head.revision.known() ? ", revision " + harmless(*s.plan.head.revision) : "") +
                       ".",
                   "", "", style);
    for (const std::string& change : what_if)
        out += wrapped(harmless("What if: " + change + "; the plan itself says otherwise."), "", "  ", style);
    if (!list.cables.empty()) out += "\n" + heading("Cable", style);
    for (const CableLine& line : list.cables) out += cable_text(s, line, style);
    out += groups_text(s, list, style);
    out += there_text(s, list, style);
    out += allowances_text(list, style);
    return out + "\n" + wrapped(parts_caution(), "", "", style);
}

}  // namespace benchfeed::report
