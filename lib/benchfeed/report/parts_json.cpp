#include <benchfeed/report/json_parts.hpp>
#include <benchfeed/report/parts_list.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using advice::CableLine;
using advice::PartLine;
using rules::Situation;

namespace {

template <class List, class Write>
Json list_json(const List& list, Write write) {
    Json out = Json::array();
    for (const auto& one : list) out.push_back(write(one));
    return out;
}

Json length_json(const std::optional<Length>& length) {
    return length ? measure_json(Measure(*length)) : Json(nullptr);
}

Json packs_json(const Situation& s, const CableLine& line) {
    if (!line.packs) return nullptr;
    const auto at = [&](std::size_t piece) { return s.plan[line.cuts[line.pieces[piece]].element].path(); };
    return {{"searched", line.packs->searched},
            {"bought", length_json(line.packs->bought)},
            {"left", length_json(line.packs->left)},
            {"packs", list_json(line.packs->packs,
                                [&](const advice::Pack& pack) -> Json {
                                    return {{"sold", length_json(pack.sold)},
                                            {"cuts", list_json(pack.pieces, at)},
                                            {"left", length_json(pack.left)}};
                                })},
            {"too_long", list_json(line.packs->too_long, at)},
            {"remark", words_json(packs_remark(s, line))}};
}

Json cable_json(const Situation& s, const CableLine& line) {
    const plan::Stock& stock = s.plan.stocks[line.stock];
    return {{"stock", stock.path()},
            {"type", words_json(stock.type.value_or(""))},
            {"cores", line.cores},
            {"section", section_text(line.section)},
            {"core", line.core.empty() ? Json(nullptr) : Json(line.core)},
            {"total", length_json(line.total)},
            {"unmeasured", line.unmeasured},
            {"cuts", list_json(line.cuts,
                               [&](const advice::Cut& cut) -> Json {
                                   const std::string words =
                                       rules::words(s, rules::at_element(cut.element), rules::Part::cable);
                                   return {{"at", s.plan[cut.element].path()},
                                           {"words", words_json(words)},
                                           {"length", length_json(cut.length)},
                                           {"cut", length_json(cut.cut)},
                                           {"steps", list_json(cut.steps, step_json)}};
                               })},
            {"sold", list_json(line.sold, [](const Length& length) { return length_json(length); })},
            {"packs", packs_json(s, line)}};
}

Json part_json(const Situation& s, const PartLine& line) {
    return {{"group", advice::words(line.group)},
            {"what", words_json(line.what)},
            {"count", line.count ? Json(*line.count) : Json(nullptr)},
            {"places", list_json(line.places,
                                 [&](const advice::PlaceOfPart& place) -> Json {
                                     return {{"at", s.plan[place.element].path()},
                                             {"part", rules::words(place.part)},
                                             {"words", words_json(rules::words(
                                                           s, rules::at_element(place.element), place.part))},
                                             {"detail", words_json(place.detail)}};
                                 })},
            {"choose", words_list_json(line.choose)},
            {"notes", words_list_json(line.notes)},
            {"steps", list_json(line.steps, step_json)}};
}

}  // namespace

std::string parts_json(const Situation& s, const advice::ShoppingList& list, const WhatIf& what_if,
                       const Tool& tool) {
    const auto path = [&](plan::Index i) { return s.plan[i].path(); };
    Json json{{"format", 1},
              {"tool", tool_json(tool)},
              {"path", words_json(s.plan.path)},
              {"title", words_json(s.plan.head.title.value_or(""))},
              {"revision", s.plan.head.revision.known() ? words_json(*s.plan.head.revision) : Json(nullptr)},
              {"do_not_buy", !list.warning.empty()},
              {"warning", list.warning.empty() ? Json(nullptr) : words_json(list.warning)},
              {"fails", list.fails},
              {"essential_questions", list.essential_questions},
              {"what_if", words_list_json(what_if)},
              {"cables", list_json(list.cables, [&](const CableLine& line) { return cable_json(s, line); })},
              {"parts", list_json(list.parts, [&](const PartLine& line) { return part_json(s, line); })},
              {"there_already", list_json(list.there_already, path)},
              {"stocks_there",
               list_json(list.stocks_there, [&](plan::Index i) { return s.plan.stocks[i].path(); })},
              {"allowances",
               list_json(allowance_lines(list.allowances),
                         [](const AllowanceLine& one) -> Json {
                             return {{"name", one.name},
                                     {"value", words_json(one.value)},
                                     {"source", *one.source ? citation_json(**one.source) : Json(nullptr)}};
                         })},
              {"caution", words_json(parts_caution())}};
    return dumped(json) + "\n";
}

}  // namespace benchfeed::report
