#include <benchfeed/report/sheet_style.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include <benchfeed/report/markup.hpp>
#include <benchfeed/report/style.hpp>

namespace benchfeed::report {

namespace {

/// Sizes are in em of the body, but what has a least size on paper says so in pt.
constexpr std::string_view common = R"(
*{box-sizing:border-box}
body{margin:0 auto;color:#000;background:#fff;font-family:"Liberation Sans",Arial,Helvetica,sans-serif;overflow-wrap:break-word}
h1,h2,h3,p,ul{margin:0;padding:0}
h1{font-size:2em;line-height:1.15}
h2{font-size:1.2em;line-height:1.15;margin:.5em 0 .2em;border-bottom:.4mm solid;break-after:avoid}
h3{font-size:1em;break-after:avoid}
header p{display:inline-block;margin-right:2em}
.first{font-size:1.8em;font-weight:bold;text-align:center;color:#fff;background:#000;padding:.25em;margin:.3em 0;print-color-adjust:exact;-webkit-print-color-adjust:exact}
.status{font-size:1.2em;font-weight:bold;text-align:center;border:.6mm solid;margin:.3em 0;padding:.3em}
.failed{font-size:1.6em;border-width:1.2mm;background:repeating-linear-gradient(45deg,#fff 0 2mm,#bbb 2mm 3mm);print-color-adjust:exact;-webkit-print-color-adjust:exact}
.failed span{color:#000;background:#fff;padding:0 .5em;box-decoration-break:clone;-webkit-box-decoration-break:clone}
.strong>p,.strong li{font-size:1.5556em;line-height:1.2;font-weight:bold}
.pair{display:flex;gap:5mm;break-inside:avoid}
.panel{flex:1 1 0;min-width:0;border:.25mm solid;padding:0 1.6mm 1.6mm}
.panel:first-child,.panel.strong{border-width:.9mm}main>.panel{margin-top:1.5mm}
.panel h2{border:0;font-size:1.5556em}
ul{list-style:none}
.list>li{padding-left:.9em;text-indent:-.9em}
.list>li::before{content:"\25AA";display:inline-block;width:.9em;text-indent:0}
li,tr,.test,.whole{break-inside:avoid}
table{border-collapse:collapse;width:100%}
caption{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
thead{display:table-header-group;break-after:avoid}
th,td{border:.2mm solid;padding:.1em 1mm;text-align:left;vertical-align:top}
.tick{display:block;width:5mm;height:5mm;border:.35mm solid;margin:1mm auto}
.test{display:flex;gap:2mm;justify-content:space-between;border-bottom:.1mm solid;padding:.6mm 0}
.test p{flex:1 1 30%}
.places{display:flex;flex-wrap:wrap;gap:1mm;justify-content:flex-end;align-content:flex-start;flex:0 1 auto;max-width:66%}
.place{display:flex;align-items:center;gap:.8mm}
.crowd .place{display:block;line-height:1.1}.crowd{max-width:74%}
.box{display:block;width:15mm;height:8mm;border:.25mm solid}
.tree,.tree ul{padding-left:0}
.tree ul{margin-left:2.5mm}
.tree ul>li{padding-left:3.5mm;border-left:.3mm solid;position:relative}
.tree ul>li:last-child{border-left-color:transparent}
.tree ul>li::before{content:"";position:absolute;left:-.3mm;top:0;width:3.5mm;height:3.2mm;border:solid;border-width:0 0 .3mm .3mm}
.tree ul>li.on::before{display:none}
.tree li.on{break-inside:auto}
.row{display:flex;gap:1.5mm;align-items:flex-start;break-inside:avoid;padding:.3mm 0}
.row svg,.legend svg,.swatch{flex:none;vertical-align:middle;overflow:visible}
.words{flex:1 1 0;min-width:0}
.figure{display:flex;gap:2mm;justify-content:flex-end;text-align:right;white-space:nowrap}
.legend{display:flex;flex-wrap:wrap;gap:.2mm 3mm;margin-top:1mm;break-before:avoid}
.patterns{position:absolute}
.circuit{display:block;max-width:100%}
.foot{font-size:.7778em}
section.foot h2{font-size:1em}
.turns{break-before:page}
svg,.box,.tick,.blank{print-color-adjust:exact;-webkit-print-color-adjust:exact}
@media screen{body{font-size:16px;line-height:1.35;padding:1rem;max-width:60rem}.foot{font-size:14px}.bar,.signs{background:#fff}}
@media screen and (max-width:40rem){
.pair,.test,.row{display:block}.panel{margin-top:1em}.figure{justify-content:flex-start;text-align:left;flex-wrap:wrap}
.places{justify-content:flex-start;max-width:none;margin:.4em 0}
table,tbody,tr,td{display:block}td[data-head]{width:auto;min-width:0;height:auto}thead{display:none}
tr{border:1px solid;margin:.5em 0;padding:.3em}td{border:0;padding:.1em 0}
td::before{content:attr(data-head) ": ";font-weight:bold}td.blank{border-bottom:1px solid;min-height:9mm}.tick{display:inline-block;margin:0;vertical-align:middle}
.circuit{max-width:none}.drawing,section:has(.circuit){overflow-x:auto}}
@media screen and (prefers-color-scheme:dark){:root{color-scheme:dark}body{color:#eee;background:#111}.first{color:#000;background:#eee}
.bar,.signs,.circuit{filter:invert(1);background:none}.failed{color:#000}}
)";

/// What is written into by hand is as wide and as high as its table asks, in the browser too.
std::string blank_rules(const Sheet& sheet) {
    std::set<double> rooms, heights;
    for (const auto* sections : {&sheet.before, &sheet.after})
        for (const SheetSection& section : *sections) {
            rooms.insert(section.table.rooms.begin(), section.table.rooms.end());
            heights.insert(section.table.least_height);
        }
    std::string out;
    for (const double room : rooms)
        if (room > 0) out += fmt::format(".w{0}{{min-width:{0}mm;width:{0}mm}}\n", room);
    for (const double height : heights)
        if (height > 0) out += fmt::format(".h{0} td{{height:{0}mm}}\n", height);
    return out;
}

}  // namespace

std::string css_string(const std::string& words) {
    std::string out = "\"";
    for (const char c : harmless(words)) {
        const auto byte = static_cast<unsigned char>(c);
        const bool plain = byte >= 0x80 || c == ' ' || c == ',' || c == '.' || c == '-' ||
                           (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
        out += plain ? std::string(1, c) : fmt::format("\\{:06x}", byte);
    }
    return out + "\"";
}

std::string sheet_style(const Sheet& sheet, const Paper& paper, double points) {
    constexpr double head = 5;  // mm, for the words at the top of each page
    constexpr std::size_t most_of_title = 60;
    const std::string size = paper.name == "half-letter" ? "139.7mm 215.9mm" : std::string(paper.name);
    std::string out = fmt::format(
        "@page{{size:{};margin:{}mm;margin-top:{}mm;@top-left{{content:{};{}}}@top-right{{content:{} \"  \" "
        "counter(page) \" of \" counter(pages);{}}}}}",
        size, coordinate(paper.margin), coordinate(paper.margin + head),
        css_string(shortened(sheet.title, most_of_title)),
        "font:bold 9pt \"Liberation Sans\",Arial,sans-serif;vertical-align:top;padding-top:6mm",
        css_string(sheet.revision),
        "font:9pt \"Liberation Sans\",Arial,sans-serif;vertical-align:top;padding-top:6mm");
    out += "\n" + blank_rules(sheet);
    out += common;
    out += fmt::format(
        "@media print{{body{{font-size:{}pt;line-height:1.25;width:{}mm}}.foot{{font-size:7pt}}}}\n",
        coordinate(points), coordinate(paper.width - 2 * paper.margin - 0.6));
    if (paper.width >= 180)
        out +=
            "@media print{.columns{columns:2;column-gap:5mm}.columns section{break-inside:avoid}"
            ".tests{display:grid;grid-template-columns:1fr 1fr;column-gap:5mm}.many{grid-column:1/3}}\n";
    else
        out +=
            "@media print{th,td{padding:.1em .5mm}th span{display:block;max-width:6em}.row{padding:0}"
            ".eight .place{display:flex}.eight{max-width:70%}}\n";
    // A table that is too wide for its paper would make the browser print all of it smaller.
    return out + "@media print{.tight th,.tight td{overflow-wrap:anywhere}}\n";
}

}  // namespace benchfeed::report
