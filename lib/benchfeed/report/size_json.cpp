#include <benchfeed/report/advice_json.hpp>
#include <benchfeed/report/size_text.hpp>

namespace benchfeed::report {

namespace {

Json faults_json(const rules::Situation& s, const std::vector<advice::Fault>& faults) {
    Json list = Json::array();
    for (const auto& fault : faults) {
        Json at = nullptr;
        if (fault.at.kind == rules::At::Kind::element) at = s.plan[fault.at.index].path();
        list.push_back(
            {{"rule", std::string(rules::registry()[fault.rule].id)},
             {"at", std::move(at)},
             {"part", std::string(rules::words(fault.part))},
             {"set", fault.set == rules::no_set ? Json(nullptr) : Json(s.plan.sets[fault.set].name)}});
    }
    return list;
}

Json group_json(const rules::Situation& s, const advice::SizedGroup& sized) {
    Json stocks = Json::array(), choices = Json::array();
    for (const plan::Index stock : sized.group.stocks) stocks.push_back(s.plan.stocks[stock].path());
    for (const Section& section : sized.group.choices) choices.push_back(section_text(section));
    const bool known = s.plan.stocks[sized.group.stocks.front()].section.known();
    return {{"stocks", std::move(stocks)},
            {"cables", paths_json(s, sized.group.cables)},
            {"before", known ? Json(section_text(sized.before)) : Json(nullptr)},
            {"after", known ? Json(section_text(sized.after)) : Json(nullptr)},
            {"at_best", sized.at_best ? Json(section_text(*sized.at_best)) : Json(nullptr)},
            {"choices", std::move(choices)},
            {"protective_core", sized.group.protective},
            {"kept", sized.group.kept.empty() ? Json(nullptr) : Json(sized.group.kept)},
            {"smallest", sized.smallest},
            {"binds", faults_json(s, sized.binds)},
            {"notes", sized.group.notes}};
}

Json otherwise_json(const rules::Situation& s, const advice::OtherCures& others) {
    Json list = Json::array();
    for (const auto& cure : others.cures) {
        Json one = faults_json(s, {cure.fault}).front(), changes = Json::array();
        for (const auto& change : cure.changes)
            changes.push_back({{"path", change.path}, {"value", change.value}});
        one["thicker"] = cure.thicker;
        one["text"] = cure.text;
        one["changes"] = std::move(changes);
        one["value_before"] = measure_json(cure.before);
        one["value_after"] = measure_json(cure.after);
        list.push_back(std::move(one));
    }
    return list;
}

Json cautions_json(const rules::Situation& s, const advice::Sized& sized) {
    const auto& cautions = sized.cautions;
    Json sections = Json::array();
    for (std::size_t g = 0; g < cautions.sections.size(); ++g)
        if (!(cautions.sections[g] == sized.groups[g].after))
            sections.push_back({{"stock", s.plan.stocks[sized.groups[g].group.stocks.front()].path()},
                                {"protective_core", sized.groups[g].group.protective},
                                {"section", section_text(cautions.sections[g])}});
    Json copper = nullptr;
    if (!cautions.cured.empty())
        copper = {{"number", rounded(in(unit::cm3, cautions.copper))}, {"unit", "cm3"}};
    return {{"left", faults_json(s, cautions.left)},
            {"curable", faults_json(s, cautions.cured)},
            {"sections", std::move(sections)},
            {"copper", std::move(copper)}};
}

}  // namespace

std::string size_json(const rules::Situation& s, const advice::Sized& sized,
                      const std::vector<LongestOf>& longest, const Otherwise& otherwise,
                      const advice::PriceList* prices, std::string_view version) {
    Json groups = Json::array(), cords = Json::array();
    for (const auto& group : sized.groups) groups.push_back(group_json(s, group));
    for (const LongestOf& one : longest)
        for (const auto& cord : one.cords)
            cords.push_back({{"at", s.plan[one.element].path()},
                             {"section", section_text(cord.section)},
                             {"longest", optional_json(cord.length)},
                             {"at_least", cord.at_least}});
    const auto cm3 = [](Volume volume) -> Json {
        return {{"number", rounded(in(unit::cm3, volume))}, {"unit", "cm3"}};
    };
    const auto cost = [&](const std::optional<double>& amount) -> Json {
        if (!amount) return nullptr;
        return {{"number", rounded(*amount)}, {"unit", prices ? prices->currency : ""}};
    };
    const Json all{{"format", 1},
                   {"tool", {{"name", "benchfeed"}, {"version", std::string(version)}}},
                   {"path", s.plan.path},
                   {"title", s.plan.head.title.value_or("")},
                   {"proven_least", sized.proven},
                   {"conflict", sized.conflict},
                   {"trials", sized.trials},
                   {"copper_before", cm3(sized.copper_before)},
                   {"copper_after", cm3(sized.copper_after)},
                   {"cost_before", cost(sized.cost_before)},
                   {"cost_after", cost(sized.cost_after)},
                   {"without_length", paths_json(s, sized.without_length)},
                   {"stocks", std::move(groups)},
                   {"longest_cords", std::move(cords)},
                   {"uncured", faults_json(s, sized.uncured)},
                   {"otherwise", otherwise_json(s, otherwise.uncured)},
                   {"instead", otherwise_json(s, otherwise.instead)},
                   {"all_tried", otherwise.uncured.whole && otherwise.instead.whole},
                   {"cautions", cautions_json(s, sized)},
                   {"verdict", std::string(rules::words(sized.judgement.verdict))}};
    return all.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace benchfeed::report
