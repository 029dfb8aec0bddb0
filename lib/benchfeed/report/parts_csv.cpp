#include <fmt/format.h>

#include <array>

#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/report/parts_list.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using advice::CableLine;
using advice::PartLine;
using rules::Situation;

namespace {

/// What a spreadsheet takes for the beginning of a formula.
bool begins_a_formula(char c) {
    return c == '=' || c == '+' || c == '-' || c == '@';
}

/// Text of a cell. Control characters are gone (tab and CR would begin a formula too). An apostrophe goes
/// before what would be a formula: at the beginning, behind spaces, and behind a semicolon or tab-like
/// separator, since some spreadsheets split there instead of at the comma. Quotes are doubled, as RFC 4180
/// has it.
std::string csv_cell(std::string_view text) {
    std::string out = "\"";
    bool at_start = true;
    for (const char c : harmless(text)) {
        if (at_start && begins_a_formula(c)) out += '\'';
        if (c != ' ') at_start = c == ';' || c == '|' || c == ',' || c == '"';
        out += c == '"' ? "\"\"" : std::string(1, c);
    }
    return out + "\"";
}

struct CsvRow {
    std::string kind, group, what, count, unit, places, choose, notes, worked;
};

std::string line_of(const CsvRow& row) {
    const std::array texts{
        csv_cell(row.kind),  csv_cell(row.group),  csv_cell(row.what),   row.count,
        csv_cell(row.unit),  csv_cell(row.places), csv_cell(row.choose), csv_cell(row.notes),
        csv_cell(row.worked)};
    std::string line;
    for (const std::string& text : texts) line += (line.empty() ? "" : ",") + text;
    return line + "\r\n";
}

std::string one_cell_of(const std::vector<std::string>& texts) {
    std::string out;
    for (const std::string& text : texts) out += (out.empty() ? "" : " / ") + text;
    return out;
}

std::string worked(const std::vector<Step>& steps) {
    std::vector<std::string> lines;
    for (const Step& step : steps)
        if (step.words.empty()) lines.push_back(step.symbol + " = " + step.numbers + " = " + step.result);
    return one_cell_of(lines);
}

/// "6.27" of "6.27 m": the unit has a column of its own.
std::string number_of(const Situation& s, Length length) {
    const std::string text = rules::length_words(s, length);
    return text.substr(0, text.find(' '));
}

std::string cable_rows(const Situation& s, const CableLine& line) {
    const plan::Stock& stock = s.plan.stocks[line.stock];
    const std::string unit = s.nec() ? "ft" : "m", group(advice::words(advice::PartGroup::cable));
    const std::string what = cable_title(s, line);
    CsvRow whole{"part", group, what, number_of(s, line.total), unit, stock.path(), "", packs_remark(s, line),
                 ""};
    if (line.unmeasured > 0)
        whole.choose = fmt::format("length of {} runs that are not measured", line.unmeasured);
    std::string out = line_of(whole);
    for (const advice::Cut& cut : line.cuts) {
        CsvRow row{
            "cut", group, what, cut.cut ? number_of(s, *cut.cut) : "", unit, "", "", "", worked(cut.steps)};
        row.places = rules::words(s, rules::at_element(cut.element), rules::Part::cable);
        if (!cut.cut) row.choose = "length: measure the route";
        out += line_of(row);
    }
    const auto packs = pack_lines(s, line);
    for (std::size_t i = 0; i < packs.size(); ++i)
        out += line_of({"pack", group, what, number_of(s, line.packs->packs[i].sold), unit, stock.path(), "",
                        packs[i], ""});
    return out;
}

std::string part_row(const Situation& s, const PartLine& line) {
    std::vector<std::string> places;
    for (const auto& place : line.places)
        places.push_back(rules::words(s, rules::at_element(place.element), place.part) +
                         (place.detail.empty() ? "" : " (" + place.detail + ")"));
    return line_of({"part", std::string(advice::words(line.group)), line.what,
                    line.count ? std::to_string(*line.count) : "", "pieces", one_cell_of(places),
                    one_cell_of(line.choose), one_cell_of(line.notes), worked(line.steps)});
}

}  // namespace

std::string parts_csv(const Situation& s, const advice::ShoppingList& list, const WhatIf& what_if) {
    std::string out = "kind,group,what,count,unit,for,choose,notes,worked\r\n";
    if (!list.warning.empty()) out += line_of({"warning", "", list.warning, "", "", "", "", "", ""});
    for (const std::string& change : what_if)
        out += line_of({"what if", "", change, "", "", "", "", "the plan itself says otherwise", ""});
    for (const CableLine& line : list.cables) out += cable_rows(s, line);
    for (const PartLine& line : list.parts) out += part_row(s, line);
    for (const AllowanceLine& one : allowance_lines(list.allowances))
        out += line_of({"allowance", "", one.name + " " + one.value, "", "", "", "",
                        *one.source ? network::cited(**one.source) : "yours", ""});
    return out + line_of({"caution", "", std::string(parts_caution()), "", "", "", "", "", ""});
}

}  // namespace benchfeed::report
