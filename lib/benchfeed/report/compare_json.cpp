#include <benchfeed/report/compare_text.hpp>
#include <benchfeed/report/json_parts.hpp>
#include <benchfeed/rules/held_against.hpp>

namespace benchfeed::report {

using rules::Difference;
using rules::Moved;

namespace {

Json texts_json(const std::vector<std::string>& texts) {
    Json list = Json::array();
    for (const std::string& text : texts) list.push_back(words_json(text));
    return list;
}

Json difference_json(const Difference& d) {
    constexpr std::string_view kinds[] = {"added", "removed", "changed"};
    Json fields = Json::array();
    for (const auto& field : d.fields)
        fields.push_back({{"key", field.key},
                          {"before", field.before.empty() ? Json(nullptr) : words_json(field.before)},
                          {"after", field.after.empty() ? Json(nullptr) : words_json(field.after)}});
    return {{"path", d.path},
            {"kind", kinds[static_cast<std::size_t>(d.kind)]},
            {"words", words_json(d.words)},
            {"fields", std::move(fields)},
            {"unchanged", texts_json(d.unchanged)}};
}

Json side_json(const std::optional<Moved::Side>& side) {
    if (!side) return nullptr;
    return {{"outcome", rules::words(side->verdict)},
            {"accepted", side->accepted},
            {"set", side->set.empty() ? Json(nullptr) : Json(side->set)},
            {"value", measure_json(side->value)},
            {"limit", measure_json(side->limit)}};
}

Json moved_json(const Moved& m) {
    return {{"rule", rules::registry()[m.rule].id},
            {"at", m.at},
            {"part", rules::words(m.part)},
            {"direction", direction_words(m)},
            {"carried_from", m.carried_from.empty() ? Json(nullptr) : Json(m.carried_from)},
            {"before", side_json(m.before)},
            {"after", side_json(m.after)},
            {"headline", words_json(m.headline)},
            {"because", texts_json(m.because)}};
}

Json figure_json(const Measure& measure) {
    return measure.index() == 0 ? Json(nullptr) : words_json(rules::shown(measure));
}

}  // namespace

void add_comparison(Json& json, const rules::Comparison& c) {
    json["worse"] = c.worse();
    json["better"] = c.better();
    for (const char* list : {"differences", "moved", "tests", "stale"}) json[list] = Json::array();
    for (const Difference& d : c.differences) json["differences"].push_back(difference_json(d));
    for (const Moved& m : c.moved) json["moved"].push_back(moved_json(m));
    for (const auto& test : c.tests)
        json["tests"].push_back(
            {{"test", test.test}, {"where", texts_json(test.where)}, {"because", texts_json(test.because)}});
    for (const auto& r : c.stale)
        json["stale"].push_back({{"test", plan::words_of<plan::Test>()[static_cast<std::size_t>(r.test)]},
                                 {"at", r.at},
                                 {"found", words_json(r.found)},
                                 {"date", words_json(r.date)},
                                 {"before", figure_json(r.before)},
                                 {"after", figure_json(r.after)},
                                 {"because", texts_json(r.because)}});
}

std::string compare_json(const Tool& tool, const ComparedPaths& paths, const rules::Comparison& c) {
    Json json{{"format", 1}, {"tool", tool_json(tool)}, {"old", paths.before}, {"new", paths.after}};
    add_comparison(json, c);
    return dumped(json) + "\n";
}

}  // namespace benchfeed::report
