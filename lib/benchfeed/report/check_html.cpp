#include <benchfeed/report/check_html.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <numeric>

#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/pictures_svg.hpp>
#include <benchfeed/report/place.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/report/told.hpp>
#include <benchfeed/rules/accept.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using advice::LoadBar;
using advice::StartPicture;
using advice::VoltPicture;
using rules::Explanation;
using rules::Finding;
using rules::Judgement;
using rules::Situation;
using rules::Verdict;

namespace {

constexpr std::string_view style_sheet = R"(
:root{color-scheme:light}
body{font:1rem/1.45 sans-serif;color:#000;background:#fff;max-width:62rem;margin:0 auto;padding:1rem;overflow-wrap:anywhere}
h1{font-size:1.5rem;margin:.2em 0}h2{font-size:1.2rem;border-bottom:2px solid #000;margin:2em 0 .6em}
h3{font-size:1rem;margin:.5em 0 .2em}p{margin:.4em 0}
.answer{font-size:1.25rem;font-weight:bold;border:2px solid #000;padding:.5em .7em}
.answer.fail{border-width:6px}
article{border-left:2px solid #000;padding:.2em 0 .2em .9em;margin:1.1em 0}
article.fail{border-left-width:8px}article.open{border-left-style:dashed}
pre{font:.8rem/1.3 monospace;white-space:pre;overflow-x:auto;margin:.4em 0}
ul.steps{list-style:none;padding-left:1em;font:.85rem/1.4 monospace;margin:.3em 0}
ul.steps small{display:block;padding-left:1.5em;font-family:sans-serif}
.picture{display:flex;flex-wrap:wrap;gap:1rem;align-items:flex-start;margin:1em 0}
.picture svg{break-inside:avoid}
nav ul{columns:2 14rem;list-style:none;padding:0}nav a{color:inherit;display:inline-block;min-height:1.5rem;padding:.2rem 0}
.picture svg{flex:1 1 20rem;max-width:32rem;min-width:0;width:100%;height:auto}
.picture>div{flex:1 1 20rem;min-width:0;overflow-x:auto;padding-right:1px}
table{border-collapse:collapse;font-size:.85rem;width:100%}
caption{text-align:left;font-weight:bold}
th,td{border:1px solid #000;padding:.15em .45em;text-align:left;vertical-align:top;overflow-wrap:break-word}
td:first-child,tbody th{overflow-wrap:anywhere}tbody th{font-weight:400}
td.n{text-align:right;white-space:nowrap}
tr.weakest td{border-top:4px double #000;border-bottom:4px double #000}
@media print{html{font-size:10.5pt}body{max-width:none;padding:0}@page{margin:14mm;@bottom-right{content:counter(page) " of " counter(pages);font:9pt sans-serif}}.picture{display:block}pre{white-space:pre-wrap}
table{font-size:.75rem}article p,li,tr,pre{break-inside:avoid}h2,h3,section>p{break-after:avoid}h2{margin-top:1.2em}}
)";

std::string element(std::string_view name, std::string_view words) {
    return fmt::format("<{0}>{1}</{0}>\n", name, markup(words));
}

/// A figure with its unit, and six digits of it for whoever reads by program.
std::string figure(const Measure& measure, int significant = 3) {
    std::string value = digits(number(measure), 6);
    return fmt::format("<td class=\"n\"><data value=\"{}\">{}</data></td>", value,
                       markup(to_text(measure, significant)));
}
std::string cell(std::string_view words) {
    return fmt::format("<td>{}</td>", markup(words));
}

// ---- pictures -------------------------------------------------------------------------------------------

std::string beside(const std::string& drawing, const std::string& table) {
    return "<div class=\"picture\">\n" + drawing + "\n<div>\n" + table + "</div>\n</div>\n";
}

/// Bars of one page: nobody reads more, and each is a line of the table and of the drawing.
constexpr std::size_t most_bars = 200;

/// Those that carry the greatest share, in the order in which they came; and what is said of the others.
std::vector<LoadBar> greatest_bars(const std::vector<LoadBar>& bars, std::string& of_the_others) {
    if (bars.size() <= most_bars) return bars;
    std::vector<std::size_t> places(bars.size());
    std::iota(places.begin(), places.end(), std::size_t{0});
    std::stable_sort(places.begin(), places.end(), [&](std::size_t a, std::size_t b) {
        return bars[a].weakest != bars[b].weakest ? bars[a].weakest : bars[a].share > bars[b].share;
    });
    of_the_others = fmt::format(
        "Shown are the {} of {} parts that carry the greatest share of their rating; of the others none "
        "carries more than {} %.",
        most_bars, bars.size(), digits(100 * in(unit::one, bars[places[most_bars]].share), 3));
    places.resize(most_bars);
    std::sort(places.begin(), places.end());
    std::vector<LoadBar> kept;
    for (const std::size_t place : places) kept.push_back(bars[place]);
    return kept;
}

std::string loads_html(const Situation& s, const std::vector<LoadBar>& all_bars) {
    if (all_bars.empty()) return "";
    std::string of_the_others;
    const std::vector<LoadBar> bars = greatest_bars(all_bars, of_the_others);
    std::string table =
        "<table class=\"loads\"><caption>Each at the set that loads it "
        "most</caption><thead><tr><th scope=\"col\">element</th>"
        "<th scope=\"col\">carries</th><th scope=\"col\">rating</th><th scope=\"col\">share</th><th "
        "scope=\"col\">set</th></tr></thead><tbody>\n";
    bool unknown = false;
    for (const LoadBar& bar : bars) {
        unknown = unknown || bar.unknown_load;
        table +=
            fmt::format("<tr{} data-at=\"{}\" data-part=\"{}\">", bar.weakest ? " class=\"weakest\"" : "",
                        markup(rules::path_of(s.plan, bar.at)), rules::words(bar.part));
        table += cell(rules::words(s, bar.at, bar.part) + (bar.motors_only ? ", motors" : "") +
                      (bar.weakest ? " (weakest)" : "") + (bar.unknown_load ? " *" : ""));
        table += figure(bar.drawn) + figure(bar.rated) + figure(bar.share) +
                 cell(rules::set_words(s, bar.set)) + "</tr>\n";
    }
    table += "</tbody></table>\n";
    if (unknown) table += element("p", "* A load without a known current is not in it.");
    return element("p",
                   "Hatched: what it carries; the upright line is its rating. Close hatching lies beyond it. "
                   "The weakest "
                   "is framed twice.") +
           (of_the_others.empty() ? "" : element("p", of_the_others)) +
           beside(load_svg(s, bars, "load-"), table);
}

std::string place_words(const Situation& s, const advice::VoltPlace& place) {
    std::string words = s.plan[place.element].words();
    if (s.plan[place.element].kind == plan::Kind::supply && !s.plan[place.element].label.known())
        words += " (" + rules::source_place(s, place.element).substr(4) + ")";
    if (s.plan.supply_of(place.element).system.is(plan::System::v120_240) ||
        s.plan.supply_of(place.element).system.is(plan::System::v120_208) ||
        s.plan.supply_of(place.element).system.is(plan::System::v230_400))
        words += ", " + plan::conductors_text(place.between);
    return words;
}

std::string volts_html(const Situation& s, const VoltPicture& picture, std::size_t number_of_picture) {
    std::string table = fmt::format(
        "<table class=\"volts\" data-set=\"{}\"><caption>{}, {} "
        "nominal</caption><thead><tr><th scope=\"col\">place</th><th scope=\"col\">volts</th>"
        "<th scope=\"col\">lost</th></tr></thead><tbody>\n",
        markup(rules::set_name(s.plan, picture.set)), markup(rules::set_words(s, picture.set)),
        markup(to_text(picture.nominal)));
    for (const advice::VoltPlace& place : picture.places)
        table += fmt::format("<tr data-at=\"{}\">", markup(s.plan[place.element].path())) +
                 cell(place_words(s, place)) + figure(place.volts, 4) + figure(place.lost) + "</tr>\n";
    table += "</tbody></table>\n";
    if (picture.edge)
        table += element(
            "p", fmt::format("{}: {} lost, {} left ({}).", picture.edge->fails ? "Limit" : "Caution beyond",
                             to_text(picture.edge->lost), to_text(picture.edge->volts, 4),
                             s.plan[picture.edge->load].words()));
    if (picture.shortest) table += element("p", "A length that is not known is counted at its shortest.");
    return beside(volts_svg(s, picture, fmt::format("volts-{}-", number_of_picture)), table);
}

std::string all_volts_html(const Situation& s, const std::vector<VoltPicture>& pictures) {
    if (pictures.empty()) return "";
    std::string out =
        element("p",
                "The lowest voltage at each place, whichever of the set run; counted from the supply. "
                "The axis does not begin "
                "at zero.");
    for (std::size_t i = 0; i < pictures.size(); ++i) out += volts_html(s, pictures[i], i + 1);
    return out;
}

std::string start_html(const Situation& s, const StartPicture& picture, std::size_t number_of_picture) {
    const std::string device = rules::words(s, picture.at, picture.part),
                      motor = s.plan[picture.motor].words();
    std::string table = fmt::format(
        "<table class=\"start\" data-at=\"{}\" data-set=\"{}\"><caption>{} while {} starts "
        "({})</caption><tbody>\n",
        markup(rules::path_of(s.plan, picture.at)), markup(rules::set_name(s.plan, picture.set)),
        markup(rules::capital(device)), markup(motor), markup(rules::set_words(s, picture.set)));
    const auto row = [&](std::string_view what, Current amps) {
        table += fmt::format("<tr><th scope=\"row\">{}</th>", markup(what)) + figure(amps) + "</tr>\n";
    };
    row("at the start, high end, with what else runs", picture.high);
    if (picture.low) row("the same, low end (dashed)", *picture.low);
    row("published current that it carries, of a short start", picture.carries);
    if (picture.carries_long) row("and that of a start of more than a second", *picture.carries_long);
    if (picture.trips) row("published current from which it trips at once", *picture.trips);
    row("when all of the set runs", picture.running);
    table += "</tbody></table>\n";
    table += element("p", picture.longer_than_a_second
                              ? "Such a motor may take longer than a second to come up: drawn for two."
                              : "Such a motor is up within a second; the whole second is drawn.");
    if (!picture.trips) table += element("p", "From where on it trips is not published for its kind.");
    return beside(start_svg(s, picture, fmt::format("start-{}-", number_of_picture)), table);
}

std::string starts_html(const Situation& s, const advice::StartPictures& starts) {
    if (starts.pictures.empty() && starts.without.empty()) return "";
    std::string out;
    if (!starts.pictures.empty())
        out += element(
            "p",
            "The greatest start through each device, amps over the first two seconds. Wide hatching: it may "
            "trip; close hatching: it trips.");
    for (std::size_t i = 0; i < starts.pictures.size(); ++i) out += start_html(s, starts.pictures[i], i + 1);
    for (const plan::Index device : starts.without)
        out += element("p", "No picture of " + s.plan[device].words() +
                                ": from how many amps on it trips at once is not published or not known.");
    return out;
}

// ---- findings -------------------------------------------------------------------------------------------

std::string step_html(const Step& step) {
    if (!step.words.empty()) return "<li>" + markup(step.words) + "</li>\n";
    const std::string line =
        step.result.empty() ? step.numbers
                            : step.symbol + " = " + step.formula + " = " + step.numbers + " = " + step.result;
    std::string out = "<li>" + markup(line);
    for (const std::string& source : step.sources) out += "<small>by " + markup(source) + "</small>";
    return out + "</li>\n";
}

/// Line by line, as it is.
std::string as_written(std::string_view text) {
    std::string lines;
    for (const std::string_view line : lines_of(text)) lines += markup(line) + "\n";
    return "<pre>" + lines + "</pre>\n";
}

/// Places of the plan in words.
std::string places_html(const text::Document& document, const Explanation& e) {
    constexpr Style wide{10000, false};
    std::string out;
    const auto add = [&](const Label& label) {
        if (const std::string words = place_words(document, label, "", wide); !words.empty())
            out += element("p", words.substr(0, words.size() - 1));
    };
    add(e.place);
    for (const Label& label : e.related) add(label);
    return out;
}

std::string rest_html(const Explanation& e) {
    std::string out;
    if (!e.steps.empty()) {
        out += "<h3>Worked</h3>\n<ul class=\"steps\">\n";
        for (const Step& step : e.steps) out += step_html(step);
        out += "</ul>\n";
    }
    std::vector<std::string> told;
    for (const Step& step : e.steps) told.insert(told.end(), step.sources.begin(), step.sources.end());
    for (const tables::Citation& source : e.sources) {
        const std::string text = network::cited(source);
        const bool known = std::any_of(told.begin(), told.end(), [&](const std::string& one) {
            return one.find(text) != std::string::npos;
        });
        if (known) continue;
        out += element("p", "Source: " + text + ".");
        told.push_back(text);
    }
    for (const rules::Question& q : e.questions)
        out += element("p", "Question: " + q.ask + (q.path.empty() ? "" : " [" + q.path + "]") +
                                (q.look.empty() ? "" : " Look: " + q.look + "."));
    for (const rules::Remedy& remedy : e.remedies) {
        out += element("p", fmt::format("Cure ({}): {}.", rules::words(remedy.cost), remedy.text));
        if (!remedy.fragment.empty()) out += element("p", "Add to the plan:") + as_written(remedy.fragment);
    }
    return out;
}

std::string finding_html(const text::Document& document, const Situation& s, const Judgement& judgement,
                         const Finding& f, const CheckHtmlOptions& options) {
    const rules::Outcome& o = *f.outcome;
    Explanation e = rules::explain(s, judgement, o);
    if (options.remedies) e.remedies = options.remedies(o);
    const char* kind = o.verdict == Verdict::fail      ? "fail"
                       : o.verdict == Verdict::caution ? "caution"
                                                       : "open";
    std::string out = fmt::format("<article class=\"{}\">\n", kind);
    out += element(
        "h3",
        fmt::format("{}: {}{}", rules::words(o.verdict), rules::registry()[o.rule].id,
                    o.verdict == Verdict::cannot_judge ? "" : fmt::format(" ({})", rules::words(o.basis))));
    out += element("p", sentence(e.headline));
    std::string also;
    for (const plan::Index set : f.also)
        if (set != rules::no_set) also += (also.empty() ? "" : ", ") + rules::set_words(s, set);
    if (!also.empty()) out += element("p", "The same in: " + also + ".");
    for (const std::string& sentence : rules::told_under(s, f)) out += element("p", sentence);
    if (!e.consequence.empty()) out += element("p", "What happens: " + e.consequence);
    return out + places_html(document, e) + rest_html(e) + "</article>\n";
}

void write_findings(const text::Document& document, const Situation& s, const Judgement& judgement,
                    const CheckHtmlOptions& options, const Sink& sink) {
    const auto found = rules::findings(s, judgement);
    const Told told = what_is_told(s, judgement, found);
    if (found.empty()) sink(element("p", "None."));
    for (const Finding* f : told.plain) sink(finding_html(document, s, judgement, *f, options));
    if (!told.practice.empty()) sink(element("h3", "Common practice only; no standard requires it"));
    for (const Finding* f : told.practice) sink(finding_html(document, s, judgement, *f, options));
    if (told.same_question > 0)
        sink(element("p", fmt::format("The same questions keep {} more outcome{} open.", told.same_question,
                                      told.same_question == 1 ? "" : "s")));
}

std::string accepted_html(const Situation& s, const Judgement& judgement) {
    const auto found = rules::accepted(s, judgement);
    if (found.empty()) return "";
    std::string out = "<ul>\n";
    for (const Finding& f : found) {
        const plan::Accept& accept = s.plan.accepts[f.outcome->accepted];
        const Explanation e = rules::explain(s, judgement, *f.outcome);
        out += element("li", fmt::format("{} {}: {} {}: {}", rules::words(f.outcome->verdict),
                                         rules::registry()[f.outcome->rule].id, sentence(e.headline),
                                         rules::age_words(s.plan, accept), sentence(*accept.reason)));
    }
    return out + "</ul>\n";
}

/// Every table on which a finding or a figure of one rests, with its grade, once.
std::string sources_html(const Situation& s, const Judgement& judgement) {
    std::vector<std::string> cited;
    const auto note = [&](const std::string& text) {
        if (std::find(cited.begin(), cited.end(), text) == cited.end()) cited.push_back(text);
    };
    for (const rules::Outcome& o : judgement.outcomes) {
        const Explanation e = rules::explain(s, judgement, o);
        for (tables::Citation source : e.sources) {
            source.row = source.column = {};
            note(network::cited(source));
        }
    }
    std::sort(cited.begin(), cited.end());
    if (cited.empty()) return "";
    std::string out = "<ul>\n";
    for (const std::string& text : cited) out += element("li", text);
    return out + "</ul>\n";
}

std::string not_checked_html(const Situation& s) {
    std::string out = "<ul>\n";
    for (const auto& item : rules::not_checked(s)) out += element("li", item.what + ": " + item.why + ".");
    return out + "</ul>\n";
}

/// A heading, its place in the page, and what is below it; nothing: it is left out.
struct PagePart {
    std::string_view id, heading;
    std::string content;
    std::function<void()> write = {};  ///< in place of the content, what is too long to be held
    [[nodiscard]] bool there() const { return write || !content.empty(); }
};

/// What there is, to jump to, and the sections themselves.
void write_sections(const std::vector<PagePart>& sections, const Sink& sink) {
    sink("<nav aria-label=\"Contents\">\n<ul>\n");
    for (const PagePart& part : sections)
        if (part.there()) sink(fmt::format("<li><a href=\"#{}\">{}</a></li>\n", part.id, part.heading));
    sink("</ul>\n</nav>\n");
    for (const PagePart& part : sections) {
        if (!part.there()) continue;
        sink(fmt::format("<section id=\"{}\">\n<h2>{}</h2>\n", part.id, part.heading));
        if (part.write)
            part.write();
        else
            sink(part.content);
        sink("</section>\n");
    }
}

std::string head_html(const Situation& s, const Judgement& judgement, const CheckHtmlOptions& options) {
    std::string out = element("h1", s.plan.head.title.value_or("Bench"));
    std::string of = s.plan.path;
    if (s.plan.head.revision.known()) of += ", revision " + *s.plan.head.revision;
    if (s.plan.head.date.known()) of += ", " + *s.plan.head.date;
    out += element("p", of);
    for (const std::string& change : options.what_if)
        out += element("p", "What if: " + change + "; the plan itself says otherwise.");
    const bool fails = judgement.verdict == Verdict::fail;
    out += fmt::format("<p class=\"answer{}\">{}</p>\n<ul>\n", fails ? " fail" : "",
                       markup(rules::headline(s, judgement)));
    for (const std::string& line : rules::set_lines(s, judgement)) out += element("li", line);
    return out + "</ul>\n";
}

}  // namespace

void write_check_html(const text::Document& document, const Situation& s, const Judgement& judgement,
                      const Pictures& pictures, const Tool& tool, const CheckHtmlOptions& options,
                      const Sink& sink) {
    // Paper of the region.
    sink(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
        "'unsafe-inline'\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n" +
        element("title", s.plan.head.title.value_or("Bench") + ": what was found") +
        fmt::format("<style>{}@page{{size:{}}}\n</style>\n</head>\n<body>\n", style_sheet,
                    s.nec() ? "letter" : "A4"));
    sink("<main>\n" + head_html(s, judgement, options));
    write_sections(
        {{"loads", "Load of every element", loads_html(s, pictures.loads)},
         {"volts", "Volts along the chain", all_volts_html(s, pictures.volts)},
         {"starts", "Starts against protective devices", starts_html(s, pictures.starts)},
         {"findings", "Findings", "", [&] { write_findings(document, s, judgement, options, sink); }},
         {"accepted", "Accepted", accepted_html(s, judgement)},
         {"not-checked", "Not checked", not_checked_html(s)},
         {"sources", "Sources", sources_html(s, judgement)}},
        sink);
    sink("</main>\n<footer>\n" + element("p", closing_words) +
         element("p", fmt::format("{} {}", tool.name, tool.version)) + "</footer>\n</body>\n</html>\n");
}

std::string check_html(const text::Document& document, const Situation& s, const Judgement& judgement,
                       const Pictures& pictures, const Tool& tool, const CheckHtmlOptions& options) {
    std::string page;
    write_check_html(document, s, judgement, pictures, tool, options,
                     [&](std::string_view piece) { page += piece; });
    return page;
}

}  // namespace benchfeed::report
