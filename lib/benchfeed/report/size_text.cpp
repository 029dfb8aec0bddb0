#include <benchfeed/report/size_text.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using advice::Fault;
using advice::Sized;
using advice::SizedGroup;
using plan::Index;
using rules::Situation;

namespace {

constexpr std::size_t most_reasons = 3;  ///< told of one cable

/// The fault hurts at this cable, or at something that hangs below it.
bool concerns(const Situation& s, const Fault& fault, Index cable) {
    if (fault.at.kind != rules::At::Kind::element) return true;
    return s.network.hangs_below(fault.at.index, cable);
}

/// "volts.running-drop at the saw (Sawing)".
std::string fault_words(const Situation& s, const Fault& fault) {
    std::string text =
        fmt::format("{} at {}", rules::registry()[fault.rule].id, rules::words(s, fault.at, fault.part));
    if (fault.set != rules::no_set) text += " (" + rules::set_words(s, fault.set) + ")";
    return text;
}

/// Why a cable is not smaller.
std::string reasons_text(const Situation& s, const SizedGroup& sized, Index cable) {
    if (sized.smallest) return "the smallest size that the tables and its plug leave";
    std::vector<std::string> words;
    std::size_t count = 0;
    for (const Fault& fault : sized.binds) {
        if (!concerns(s, fault, cable)) continue;
        const std::string text = fault_words(s, fault);
        if (++count <= most_reasons) words.push_back(text);
    }
    if (count == 0) return "nothing of its own: it shares its stock";
    if (count > most_reasons) words.push_back(fmt::format("{} more", count - most_reasons));
    return "one size smaller would cause " + rules::list(words);
}

std::string group_text(const Situation& s, const SizedGroup& sized, const Style& style) {
    const plan::Stock& stock = s.plan.stocks[sized.group.stocks.front()];
    std::vector<std::string> names;
    for (const Index one : sized.group.stocks) names.push_back("stock." + s.plan.stocks[one].name);
    const std::string name = rules::list(names) + (sized.group.protective ? ", protective core" : "");
    if (sized.group.choices.empty()) {
        const std::string section = stock.section.known() ? section_text(*stock.section) : "size unknown";
        return wrapped(harmless(fmt::format("{}: {} kept, {}.", name, section, sized.group.kept)), "  ",
                       "    ", style);
    }
    const std::string change = sized.before == sized.after
                                   ? fmt::format("{}: {} stays", name, section_text(sized.after))
                                   : fmt::format("{}: {} instead of {}", name, section_text(sized.after),
                                                 section_text(sized.before));
    const std::string of = sized.group.protective ? ""
                                                  : fmt::format(" ({}, {} cores)", stock.type.value_or(""),
                                                                stock.cores.value_or(0));
    const Ink ink = sized.before == sized.after ? Ink::plain : Ink::strong;
    std::string out = wrapped(inked(harmless(change), ink, style) + harmless(of), "  ", "    ", style);
    if (sized.at_best)
        out += wrapped(harmless(section_text(*sized.at_best)) +
                           " would do if the plates and tools show the least that they may: look before you "
                           "buy (`questions`).",
                       "    ", "      ", style);
    for (const Index cable : sized.group.cables) {
        const auto& length = s.plan[cable].cable->length;
        const std::string where =
            rules::words(s, rules::at_element(cable), rules::Part::cable) + ", " +
            (length.known() ? rules::length_words(s, *length, 3) : std::string("length unknown"));
        out += wrapped(harmless(where + ": " + reasons_text(s, sized, cable)) + ".", "    ", "      ", style);
    }
    for (const std::string& note : sized.group.notes)
        out += wrapped(harmless(rules::capital(note)) + ".", "    ", "      ", style);
    return out;
}

std::string money(double amount, const std::string& currency) {
    return fmt::format("{:.2f}{}{}", amount, currency.empty() ? "" : " ", currency);
}

std::string longest_text(const Situation& s, const std::vector<LongestOf>& longest, const Style& style) {
    std::string out;
    for (const LongestOf& one : longest) {
        if (one.cords.empty()) continue;
        std::vector<std::string> words;
        for (const auto& cord : one.cords)
            if (cord.length)
                words.push_back(fmt::format("{}{} of {}", cord.at_least ? "more than " : "",
                                            rules::length_words(s, *cord.length, 3),
                                            section_text(cord.section)));
        out += wrapped(
            harmless(rules::capital(rules::words(s, rules::at_element(one.element), rules::Part::cable)) +
                     " may be as long as: " + (words.empty() ? "no length holds" : rules::list(words)) + "."),
            "  ", "    ", style);
    }
    return out.empty() ? out : "\n" + heading("Longest cord, all else as sized", style) + out;
}

/// "1.5 mm2 -> 2.5 mm2 for stock.lead brings 5.58 % to 3.52 %", one line for each change.
std::string otherwise_text(const Situation& s, const advice::OtherCures& others, const char* title,
                           const Style& style) {
    std::string out;
    const Fault* last = nullptr;
    for (const auto& cure : others.cures) {
        if (!last || !(*last == cure.fault))
            out += wrapped(harmless(fault_words(s, cure.fault)) + ":", "  ", "    ", style);
        last = &cure.fault;
        std::string line = (cure.thicker ? "thicker: " : "shorter: ") + cure.text;
        if (cure.before.index() == cure.after.index() && !std::holds_alternative<std::monostate>(cure.before))
            line += fmt::format(" brings {} to {}", to_text(cure.before, 3), to_text(cure.after, 3));
        out += wrapped(harmless(line) + ".", "    ", "      ", style);
    }
    if (!out.empty() && !others.whole)
        out += wrapped("The plan is large: not everything was tried.", "  ", "    ", style);
    return out.empty() ? out : "\n" + heading(title, style) + out;
}

std::string cautions_text(const Situation& s, const Sized& sized, const Style& style) {
    const auto& cautions = sized.cautions;
    if (cautions.left.empty()) return "";
    std::vector<std::string> words;
    for (const Fault& fault : cautions.left) {
        if (words.size() == most_reasons) break;
        words.push_back(fault_words(s, fault));
    }
    if (cautions.left.size() > words.size())
        words.push_back(fmt::format("{} more", cautions.left.size() - words.size()));
    std::string text = "Cautions are left as they are: " + rules::list(words) + ".";
    if (cautions.cured.empty()) {
        if (cautions.asked) text += " No size cures them.";
    } else {
        std::vector<std::string> sizes;
        for (std::size_t g = 0; g < sized.groups.size(); ++g)
            if (!(cautions.sections[g] == sized.groups[g].after))
                sizes.push_back(section_text(cautions.sections[g]) + " for stock." +
                                s.plan.stocks[sized.groups[g].group.stocks.front()].name);
        text += fmt::format(" With {} {} of them would go, for {} of copper: --cautions.", rules::list(sizes),
                            cautions.cured.size(), to_text(cautions.copper, 3));
    }
    return "\n" + wrapped(harmless(text), "", "", style);
}

std::string uncured_text(const Situation& s, const Sized& sized, const Style& style) {
    std::string out;
    for (const rules::Finding& finding : rules::findings(s, sized.judgement)) {
        const rules::Outcome& o = *finding.outcome;
        if (o.verdict != rules::Verdict::fail && !rules::is_grave_question(o)) continue;
        std::string words = rules::explain(s, sized.judgement, o).headline;
        if (!words.empty() && words.back() != '.' && words.back() != '?') words += '.';
        out += wrapped(harmless(fmt::format("{}: {}", rules::registry()[o.rule].id, words)), "  - ", "    ",
                       style);
    }
    return out.empty() ? out : "\n" + heading("No size cures", style) + out;
}

}  // namespace

std::string size_text(const Situation& s, const Sized& sized, const std::vector<LongestOf>& longest,
                      const Otherwise& otherwise, const advice::PriceList* prices, const Style& style) {
    std::string out;
    const bool changed = std::any_of(sized.groups.begin(), sized.groups.end(),
                                     [](const SizedGroup& g) { return !(g.before == g.after); });
    const char* as_they_are =
        sized.proven ? "The sizes of the plan are the least: " : "The sizes of the plan stay: ";
    out += wrapped(std::string(changed ? "Other sizes do: " : as_they_are) +
                       (sized.uncured.empty() ? "every rule holds with them."
                                              : "what they can cure is cured; the rest is listed below."),
                   "", "", style);
    // "63.5 cm3 instead of 40.2 cm3"; one figure where both are printed alike.
    const auto instead = [](const std::string& after, const std::string& before) {
        return after == before ? after + ", as planned" : after + " instead of " + before;
    };
    out += wrapped("Copper of the bench: " +
                       instead(to_text(sized.copper_after, 3), to_text(sized.copper_before, 3)) + ".",
                   "", "", style);
    if (prices && sized.cost_after)
        out += wrapped(harmless("Cost of what may change: " +
                                instead(money(*sized.cost_after, prices->currency),
                                        money(*sized.cost_before, prices->currency)) +
                                "."),
                       "", "", style);
    if (!sized.proven)
        out += wrapped(
            fmt::format(
                "The search ended after {} combinations: nothing is worse with these sizes, but others "
                "may cure more, and less may do.",
                sized.trials),
            "", "", style);
    if (sized.conflict)
        out += wrapped(
            "No combination of sizes cures at once what one by one could be cured: the worst harm came "
            "first.",
            "", "", style);
    for (const Index cable : sized.without_length)
        out += wrapped(harmless("Nobody knows how long " +
                                rules::words(s, rules::at_element(cable), rules::Part::cable) +
                                " is: its copper is not counted."),
                       "", "", style);
    out += "\n" + heading("Stock by stock", style);
    for (const SizedGroup& group : sized.groups) out += group_text(s, group, style);
    out += longest_text(s, longest, style);
    out += uncured_text(s, sized, style);
    out += otherwise_text(s, otherwise.uncured, "What else would cure it", style);
    out += otherwise_text(s, otherwise.instead, "Instead of these sizes", style);
    out += cautions_text(s, sized, style);
    out += "\n" + wrapped(
                      "Plug, outlet, switch and terminals must take the section: the mark on each decides. "
                      "benchfeed advises; local codes and a licensed "
                      "electrician decide.",
                      "", "", style);
    return out;
}

}  // namespace benchfeed::report
