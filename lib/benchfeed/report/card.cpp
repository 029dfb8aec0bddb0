#include <benchfeed/report/card.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include <benchfeed/advice/together.hpp>
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/report/cable_words.hpp>
#include <benchfeed/report/card_parts.hpp>
#include <benchfeed/report/together_words.hpp>
#include <benchfeed/report/wiring_parts.hpp>
#include <benchfeed/rules/accept.hpp>
#include <benchfeed/rules/circuits.hpp>
#include <benchfeed/rules/ends.hpp>
#include <benchfeed/rules/noted.hpp>
#include <benchfeed/rules/readings.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>
#include <benchfeed/text/beside.hpp>

namespace benchfeed::report {

using plan::Index;
using rules::Judgement;
using rules::Situation;
using rules::Verdict;

namespace {

/// Sets that are looked for; a list that ends before is complete.
constexpr std::size_t most_sets = 400;
constexpr std::size_t largest_on_card = 2;

std::vector<const rules::Outcome*> fails_of(const Situation& s, const Judgement& judgement) {
    std::vector<const rules::Outcome*> fails;
    for (const auto& f : rules::findings(s, judgement))
        if (f.outcome->verdict == Verdict::fail) fails.push_back(f.outcome);
    return fails;
}

std::size_t open_questions(const Judgement& judgement) {
    return static_cast<std::size_t>(
        std::count_if(judgement.outcomes.begin(), judgement.outcomes.end(),
                      [](const rules::Outcome& o) { return rules::is_grave_question(o); }));
}

/// The emergency stops by name; "" where the bench has none.
std::string emergency_stop_words(const Situation& s) {
    std::vector<Index> stops;
    for (const rules::Stop& stop : rules::emergency_stops(s)) stops.push_back(stop.element);
    return rules::list(s, stops);
}

/// "pull plug P1 (...)" for every plug, or the device of a fixed bench.
std::vector<std::string> isolation(const Situation& s) {
    std::vector<std::string> lines, plugs;
    for (const Index i : rules::bench_plugs(s)) {
        const plan::Element& e = s.plan[i];
        plugs.push_back(fmt::format("plug P{} ({} of {} at {})", plugs.size() + 1,
                                    e.plug.known() ? *e.plug : std::string("the plug"), e.words(),
                                    s.plan[e.parent].words()));
    }
    if (!plugs.empty()) {
        const bool one = plugs.size() == 1;
        lines.push_back(fmt::format("Pull {}, keep {} in your pocket, prove dead.", rules::list(plugs),
                                    one ? "it" : "them"));
    } else {
        std::vector<std::string> devices;
        for (Index i = 0; i < s.plan.elements.size(); ++i)
            if (s.plan[i].kind == plan::Kind::device && s.plan[s.plan[i].parent].kind == plan::Kind::supply)
                devices.push_back(s.plan[i].words() + " at " + s.plan[s.plan[i].parent].words());
        for (Index i = 0; i < s.plan.elements.size() && devices.empty(); ++i)
            if (s.plan[i].kind == plan::Kind::supply) devices.push_back(s.plan[i].words());
        lines.push_back("Switch off " + rules::list(devices) + ", lock it off, prove dead.");
    }
    std::string stops = emergency_stop_words(s);
    if (stops.empty()) stops = "an emergency stop";
    lines.push_back("A switch, " + stops +
                    " or a tripped residual device is not isolation. Blades run down.");
    return lines;
}

/// Devices and fuses as they may be replaced: never a larger one.
std::vector<std::string> replacement_fuses(const Situation& s) {
    std::vector<std::string> words;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& e = s.plan[i];
        if (const auto* device = e.as<plan::Device>())
            words.push_back(fmt::format("{}: {}{}", e.words(), device_words(*device),
                                        device->standard.known() && !device->standard.assumed()
                                            ? " (" + std::string(device->standard.word()) + ")"
                                            : ""));
        if (e.fuse.known())
            words.push_back(fmt::format("fuse in the plug of {}: {}", e.words(), to_text(*e.fuse)));
    }
    return words;
}

SheetSection isolate_section(const Situation& s) {
    SheetSection section{"", isolation(s)};
    section.type = Type::strong;
    section.wide = true;
    return section;
}

/// "PULL P1 FIRST", before anything else is read.
std::string first_words(const Situation& s) {
    const auto plugs = rules::bench_plugs(s);
    std::vector<std::string> names;
    for (std::size_t i = 0; i < plugs.size(); ++i) names.push_back(fmt::format("P{}", i + 1));
    return names.empty() ? "ISOLATE FIRST, LOCK IT OFF" : "PULL " + rules::list(names) + " FIRST";
}

/// "Sawing (the saw and the lamp): 12.3 A of 16 A at the bench plug, 3.7 A (848 W) left".
std::string card_set_line(const Situation& s, const Judgement& judgement, const advice::PlanSet& set) {
    std::string line = rules::set_words(s, set.set) + " (" + rules::list(s, s.plan.sets[set.set].loads) + ")";
    if (set.answer == advice::Together::no) return line + ": must not run";
    if (set.answer == advice::Together::cannot_judge) {
        const std::string open = rules::open_words(s, judgement, set.set);
        return line + ": cannot be judged" + (open.empty() ? "" : ", since " + open);
    }
    const std::string figures = figures_words(s, judgement, set);
    return figures.empty() ? line : line + ": " + figures;
}

SheetSection together_section(const Situation& s, const Judgement& judgement,
                              const advice::TogetherAnswer& answer) {
    SheetSection section{"May run together", {}};
    section.panel = true;
    for (const auto& set : answer.sets) section.lines.push_back(card_set_line(s, judgement, set));
    for (const auto& set : answer.largest.sets) {
        // What is never allowed says it, and shorter where there are many.
        if (answer.largest.sets.size() > largest_on_card) break;
        section.lines.push_back("largest set allowed: " + choices_words(s, set) + " (" +
                                rules::amps_words(s, set.running) + not_beside_words(s, set) + ")");
    }
    if (section.lines.empty()) section.lines.emplace_back("the plan names no set");
    for (const auto& together : s.plan.together)
        if (!together.start_indices.empty())
            section.lines.push_back("Start in this order: " + rules::list(s, together.start_indices));
    return section;
}

SheetSection trip_section(const Situation& s) {
    SheetSection section{"After a trip", {}};
    section.lines = {"All tools off. Find the cause. Reset once. Never a larger breaker or fuse."};
    for (const std::string& words : replacement_fuses(s)) section.lines.push_back(words);
    if (const std::string stops = emergency_stop_words(s); !stops.empty())
        section.lines.push_back(
            "After " + stops +
            ": all tools off, look what was wrong, pull it out. Nothing may start before a hand "
            "starts it.");
    section.lines.emplace_back("A plug too hot to hold, a smell, a tingle: pull the plug at the wall.");
    return section;
}

SheetSection supply_section(const Situation& s) {
    SheetSection section{"Supply", {}};
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* supply = s.plan[i].as<plan::Supply>();
        if (!supply) continue;
        std::string line = fmt::format("{}: {}", s.plan[i].words(), supply->system.word());
        if (supply->earthing.known()) line += ", " + std::string(supply->earthing.word());
        if (supply->loop_impedance.known()) line += ", loop " + to_text(*supply->loop_impedance);
        if (supply->fault_current.known()) line += ", at most " + to_text(*supply->fault_current);
        if (const auto hours = rules::amps_for_hours(s, i))
            line += fmt::format(", {} for hours", rules::plate_words(*hours));
        if (rules::is_floating(s, i))
            line +=
                ". Its neutral floats: no residual device sees a first fault, one tool with an earth at a "
                "time";
        section.lines.push_back(line);
    }
    return section;
}

SheetSection accepted_section(const Situation& s, const Judgement& judgement) {
    SheetSection section{"Accepted", {}};
    for (const auto& f : rules::accepted(s, judgement)) {
        const plan::Accept& accept = s.plan.accepts[f.outcome->accepted];
        section.lines.push_back(fmt::format("{}: {} ({})", rules::explain(s, judgement, *f.outcome).headline,
                                            *accept.reason, rules::age_words(s.plan, accept)));
    }
    return section;
}

/// What the check still says, in one line each: fails first.
SheetSection findings_section(const Situation& s, const Judgement& judgement) {
    SheetSection section{"Open findings", {}};
    for (const auto& f : rules::findings(s, judgement)) {
        if (rules::registry()[f.outcome->rule].harm == rules::Harm::plan) continue;
        section.lines.push_back(fmt::format("{}: {}", rules::words(f.outcome->verdict),
                                            rules::explain(s, judgement, *f.outcome).headline));
    }
    return section;
}

std::string group_line(const rules::Group& group, bool with_value) {
    const std::string value = with_value ? " = " + group.value : "";
    return fmt::format("{}{}{}", group.key, value,
                       group.count > 1 ? fmt::format(" ({} places)", group.count) : " at " + group.paths);
}

SheetSection unknown_section(const Situation& s) {
    SheetSection section{"Unknown and assumed", {}};
    const rules::Noted noted = rules::noted(s);
    std::vector<std::string> asked, assumed;
    for (const auto& group : noted.asked) asked.push_back(group_line(group, false));
    for (const auto& group : noted.assumed) assumed.push_back(group_line(group, true));
    if (!asked.empty()) section.lines.push_back("unknown: " + joined(asked, "; "));
    if (!assumed.empty()) section.lines.push_back("assumed: " + joined(assumed, "; "));
    return section;
}

/// Every source behind an outcome, each once, with its edition.
SheetSection basis_section(const Situation& s, const Judgement& judgement) {
    std::set<std::string> sources;
    for (const rules::Outcome& o : judgement.outcomes)
        for (const auto& source : rules::explain(s, judgement, o).sources)
            sources.insert(
                fmt::format("{}{}{}", source.source, source.edition.empty() ? "" : ":", source.edition));
    SheetSection section{"Sources of the figures", {}};
    section.type = Type::foot;
    section.lines.emplace_back("Figures from secondary prints; no standard was read in the original.");
    section.lines.push_back(
        fmt::format("Region {}. {}.", s.practice().region, rules::list({sources.begin(), sources.end()})));
    if (!s.practice().not_read.empty())
        section.lines.push_back("Not read for this version: " + s.practice().not_read + ".");
    return section;
}

SheetSection change_section(const Situation& s) {
    constexpr std::size_t rows = 6;
    SheetSection section{"Changes", {}};
    section.table.head = {"revision", "date", "what", "re-checked"};
    section.table.columns = {Column::blank, Column::blank, Column::blank, Column::blank};
    section.table.rooms = {15, 20, 28, 18};
    section.table.least_height = 7;
    for (const plan::Change& change : s.plan.changes)
        section.table.rows.push_back({*change.revision, *change.date, *change.what, ""});
    for (std::size_t blank = 0; blank < rows; ++blank) section.table.rows.push_back({"", "", "", ""});
    return section;
}

SheetSection rules_of_use(const Situation& s) {
    SheetSection section{"Always", {}};
    section.lines = {"No extension lead, no second strip behind this bench; a reel fully unwound.",
                     "Dust out of box, switches and outlets with the plug pulled."};
    const bool residual =
        std::any_of(s.plan.elements.begin(), s.plan.elements.end(), [](const plan::Element& e) {
            const auto* device = e.as<plan::Device>();
            return device && device->residual;
        });
    if (residual)
        section.lines.emplace_back(
            "Press the test button of the residual device every month (common practice).");
    return section;
}

SheetSection signatures() {
    SheetSection section{"Tested", {}};
    section.wide = true;
    section.table.head = {"by", "sign", "date", "meter used", "next test due"};
    section.table.columns = {Column::words, Column::blank, Column::blank, Column::blank, Column::blank};
    section.table.rooms = {0, 45, 18, 18, 18};
    section.table.least_height = 12;
    section.table.rows = {{"dead: builder", "", "", "", ""}, {"live: electrician", "", "", "", ""}};
    return section;
}

/// "; 2 cautions, 1 open question below"
std::string also_found(const Situation& s, const Judgement& judgement) {
    std::size_t cautions = 0, questions = 0;
    for (const auto& f : rules::findings(s, judgement)) {
        if (rules::registry()[f.outcome->rule].harm == rules::Harm::plan) continue;
        cautions += f.outcome->verdict == Verdict::caution ? 1 : 0;
        questions += f.outcome->verdict == Verdict::cannot_judge ? 1 : 0;
    }
    std::vector<std::string> words;
    const auto add = [&](std::size_t count, std::string_view what) {
        if (count > 0) words.push_back(fmt::format("{} {}{}", count, what, count == 1 ? "" : "S"));
    };
    add(cautions, "CAUTION");
    add(questions, "OPEN QUESTION");
    return joined(words, ", ");
}

void set_status(Sheet& sheet, const Situation& s, const Judgement& judgement, bool what_if) {
    const std::size_t fails = fails_of(s, judgement).size(), open = open_questions(judgement);
    const std::string also = also_found(s, judgement);
    if (fails > 0) {
        sheet.strip = Strip::failed;
        sheet.status = fmt::format("{} FAIL{}: DO NOT USE UNTIL CURED", fails, fails == 1 ? "" : "S");
    } else if (judgement.essential_undecided) {
        sheet.strip = Strip::open;
        sheet.status = fmt::format("CHECKED ON PAPER, NOT INSPECTED. {} OPEN QUESTION{}: NOT DECIDED YET",
                                   open, open == 1 ? "" : "S");
    } else {
        sheet.status = "CHECKED ON PAPER, NOT INSPECTED";
        if (!also.empty()) sheet.status += ". " + also;
    }
    if (what_if) sheet.status = std::string(what_if_words) + sheet.status;
}

void add_unless_empty(std::vector<SheetSection>& sections, SheetSection section) {
    if (!section.lines.empty() || !section.table.rows.empty()) sections.push_back(std::move(section));
}

}  // namespace

std::string digest(std::string_view text) {
    std::uint64_t hash = 0xcbf29ce484222325u;
    for (const char c : text) {
        hash ^= static_cast<unsigned char>(c);
        hash *= 0x100000001b3u;
    }
    return fmt::format("{:016x}", hash);
}

Sheet started_sheet(const text::Document& document, const Situation& s, const Judgement& judgement,
                    const Tool& tool, const CardOptions& options) {
    Sheet sheet;
    const plan::Head& head = s.plan.head;
    const std::string& path = document.path();
    const std::string file = path.substr(path.find_last_of('/') + 1);
    sheet.title = head.title.value_or(file);
    std::vector<std::string> where;
    for (const auto* words : {&head.place, &head.contact})
        if (words->known()) where.push_back(**words);
    sheet.place = joined(where, "; ");
    sheet.revision = fmt::format("Revision {}", head.revision.value_or("not stated"));
    if (head.date.known()) {
        sheet.revision += " of " + *head.date;
        sheet.date = *head.date;
    }
    sheet.about = fmt::format("{}, digest {}. {} {}.", file, digest(text::whole_text(document)), tool.name,
                              tool.version);
    sheet.first = first_words(s);
    set_status(sheet, s, judgement, options.what_if);
    sheet.foot =
        "Advice, not approval: local codes and a licensed electrician decide. No plan shows a loose "
        "terminal, a "
        "damaged cord, a worn outlet or a swapped core.";
    return sheet;
}

Sheet card_sheet(const text::Document& document, const Situation& s, const Judgement& judgement,
                 const Tool& tool, const CardOptions& options) {
    Sheet sheet = started_sheet(document, s, judgement, tool, options);
    const auto answer = advice::together(s, judgement, {.most_sets = most_sets});
    const auto schedule = advice::schedule(s);
    const auto read = rules::readings(s);
    sheet.before.push_back(isolate_section(s));
    if (sheet.strip == Strip::failed) {
        add_unless_empty(sheet.before, findings_section(s, judgement));
    } else {
        sheet.before.push_back(never_section(s, judgement, answer));
        sheet.before.push_back(together_section(s, judgement, answer));
    }
    sheet.diagram = diagram_of(s, judgement, schedule);
    sheet.after.push_back(trip_section(s));
    sheet.after.push_back(rules_of_use(s));
    add_unless_empty(sheet.after, outlet_section(s));
    int number = 0;
    sheet.after.push_back(dead_tests(s, read, schedule, number));
    sheet.after.back().turns = true;
    sheet.after.push_back(live_tests(s, read, number));
    sheet.after.push_back(signatures());
    sheet.after.push_back(change_section(s));
    sheet.after.push_back(supply_section(s));
    if (sheet.strip != Strip::failed) add_unless_empty(sheet.after, findings_section(s, judgement));
    add_unless_empty(sheet.after, accepted_section(s, judgement));
    add_unless_empty(sheet.after, unknown_section(s));
    sheet.after.push_back(basis_section(s, judgement));
    return sheet;
}

Sheet diagram_sheet(const text::Document& document, const Situation& s, const Judgement& judgement,
                    const Tool& tool, const CardOptions& options) {
    Sheet sheet = started_sheet(document, s, judgement, tool, options);
    sheet.before.push_back(isolate_section(s));
    sheet.diagram = diagram_of(s, judgement, advice::schedule(s));
    return sheet;
}

Sheet wiring_sheet(const text::Document& document, const Situation& s, const Judgement& judgement,
                   const Tool& tool, const CardOptions& options) {
    Sheet sheet = started_sheet(document, s, judgement, tool, options);
    const auto schedule = advice::schedule(s);
    sheet.title += ": core by core";
    sheet.before.push_back(isolate_section(s));
    sheet.diagram = diagram_of(s, judgement, schedule);
    name_runs(sheet.diagram, schedule);
    sheet.after = core_sections(s, schedule);
    add_unless_empty(sheet.after, cable_section(s));
    return sheet;
}

}  // namespace benchfeed::report
