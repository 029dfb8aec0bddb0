#include <benchfeed/report/plan_schema.hpp>

#include <algorithm>
#include <array>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/plan/fields.hpp>
#include <benchfeed/plan/found.hpp>
#include <benchfeed/report/json_parts.hpp>
#include <benchfeed/rules/rule.hpp>

namespace benchfeed::report {

namespace {

using plan::Absent;
using plan::FieldInfo;
using plan::Kind;
using plan::Slot;
using plan::Vocabulary;

constexpr std::string_view name_pattern = "[A-Za-z0-9_-]{1,40}";

std::string whole(const std::string& pattern) {
    return "^" + pattern + "$";
}

Json texts() {
    return {{"type", "string"}, {"maxLength", 500}};
}

Json text_with(const std::string& pattern) {
    return {{"type", "string"}, {"pattern", pattern}};
}

/// What a text field may hold, by what it names.
Json text_schema(const FieldInfo& info, const plan::Words& words) {
    Json list = Json::array();
    const std::string name(name_pattern);
    switch (info.vocabulary) {
        case Vocabulary::plug:
        case Vocabulary::outlet:
        case Vocabulary::pattern:
            for (const auto& p : words.patterns)
                if (info.vocabulary == Vocabulary::pattern ||
                    (info.vocabulary == Vocabulary::plug ? p.plug : p.outlet))
                    list.push_back(p.name);
            break;
        case Vocabulary::construction:
            for (const auto& c : words.constructions) list.push_back(c.name);
            break;
        case Vocabulary::region:
            for (const auto& r : words.regions) list.push_back(r.name);
            break;
        case Vocabulary::feeder:
            return text_with(whole("(supply|device|outlet|box|switch|load)\\." + name));
        case Vocabulary::like:  // narrowed to the kind by element_schema()
            return text_with(whole("[a-z]+\\." + name));
        case Vocabulary::stock_like:
            return text_with(whole("(stock\\.)?" + name));
        case Vocabulary::name:
            return text_with(whole(name));
        case Vocabulary::end:
            return text_with(whole("(no|[a-z]+\\." + name + ")"));
        case Vocabulary::date:
            return text_with(whole("[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])"));
        case Vocabulary::code_letter:
            return text_with(whole("[A-HJ-NPR-V]"));
        case Vocabulary::none:
            return texts();
    }
    Json json = Json::object();
    json["enum"] = std::move(list);
    return json;
}

/// The visitor of FieldRef: what a value of that type looks like.
struct TypeSchema {
    const FieldInfo& info;
    const plan::Words& words;

    Json operator()(plan::Field<std::string>*) const { return text_schema(info, words); }
    Json operator()(plan::Field<bool>*) const { return type("boolean"); }
    Json operator()(plan::Field<int>*) const {
        return {{"type", "integer"}, {"minimum", 1}, {"maximum", 1000}};
    }
    Json operator()(plan::Field<std::int64_t>*) const { return type("integer"); }
    Json operator()(const plan::ChoiceRef& choice) const {
        Json json = Json::object();
        json["enum"] = Json::array();
        for (const auto word : choice.words) json["enum"].push_back(word);
        return json;
    }
    Json operator()(plan::Field<plan::Conductors>*) const {
        Json json = Json::object();
        json["enum"] = Json::array();
        for (const auto word : plan::conductor_words()) json["enum"].push_back(word);
        if (info.key == "opens")  // the protective conductor may be among what a switch opens
            for (const auto word : plan::conductor_words()) json["enum"].push_back(std::string(word) + "-PE");
        return json;
    }
    Json operator()(plan::Field<std::vector<std::string>>*) const {
        Json json = type("array");
        json["items"] = text_schema(info, words);
        json["maxItems"] = 1000;
        return json;
    }
    Json operator()(plan::Field<Ratio>*) const {
        if (!plan::is_plain_number(info)) return text_with(pattern_of<Ratio>());
        return {{"type", "number"}, {"exclusiveMinimum", 0.05}, {"maximum", 1}};
    }
    template <class Q>
    Json operator()(plan::Field<Q>*) const {
        return text_with(pattern_of<Q>());
    }
    static Json type(std::string_view name) {
        Json json = Json::object();
        json["type"] = name;
        return json;
    }
};

std::string described(const FieldInfo& info) {
    std::string out(info.meaning);
    switch (info.absent) {
        case Absent::error:
            break;
        case Absent::ask:
            out += ". Absent: a question";
            break;
        case Absent::assume:
            out += ". Absent: assumed, " + std::string(info.fallback);
            break;
        case Absent::plain:
            out += ". Absent: " + std::string(info.fallback);
            break;
        case Absent::nothing:
            break;
    }
    if (!info.look.empty()) out += ". Look: " + std::string(info.look);
    return out;
}

/// "unknown" is a value too: within one pattern, list or type, so that an editor says one thing and not that
/// none of two schemas fits.
void allow_unknown(Json& value) {
    if (value.contains("enum")) {
        value["enum"].push_back("unknown");
    } else if (value.contains("pattern")) {
        const std::string pattern = value["pattern"];
        value["pattern"] = whole("(unknown|" + pattern.substr(1, pattern.size() - 2) + ")");
    } else if (value["type"] == "boolean") {
        value.erase("type");
        value["enum"] = Json::array({true, false, "unknown"});
    } else if (value["type"] != "string") {
        value["type"] = Json::array({value["type"], "string"});
        value["pattern"] = whole("unknown");  // of a text alone
    }
}

/// What stands for an absent field, where that is a value which a plan could write.
Json default_of(const FieldInfo& info, const Json& value) {
    const std::string word(info.fallback);
    if (word.empty()) return nullptr;
    if (word == "true" || word == "false") return word == "true";
    if (value.contains("enum"))
        return std::find(value["enum"].begin(), value["enum"].end(), Json(word)) != value["enum"].end()
                   ? Json(word)
                   : Json(nullptr);
    if (value.contains("minimum") && word.find_first_not_of("0123456789") == std::string::npos)
        return std::stoi(word);
    const bool quantity = value.contains("pattern") && word.front() >= '0' && word.front() <= '9';
    return quantity ? Json(word) : Json(nullptr);
}

/// The visitor of FieldRef: what somebody might write there.
struct ExampleOf {
    std::string_view operator()(plan::Field<Length>*) const { return "3 m"; }
    std::string_view operator()(plan::Field<Section>*) const { return "1.5 mm2"; }
    std::string_view operator()(plan::Field<Current>*) const { return "16 A"; }
    std::string_view operator()(plan::Field<Voltage>*) const { return "230 V"; }
    std::string_view operator()(plan::Field<Power>*) const { return "1600 W"; }
    std::string_view operator()(plan::Field<Horsepower>*) const { return "1.5 hp"; }
    std::string_view operator()(plan::Field<Impedance>*) const { return "0.5 ohm"; }
    std::string_view operator()(plan::Field<Temperature>*) const { return "30 degC"; }
    std::string_view operator()(plan::Field<Volume>*) const { return "130 cm3"; }
    std::string_view operator()(plan::Field<Frequency>*) const { return "50 Hz"; }
    std::string_view operator()(plan::Field<Ratio>*) const { return "4 %"; }
    std::string_view operator()(plan::Field<VoltageRange>*) const { return "220-240 V"; }
    std::string_view operator()(plan::Field<CurrentOrPower>*) const { return "10 A"; }
    std::string_view operator()(plan::Field<MotorRating>*) const { return "8 A"; }
    std::string_view operator()(plan::Field<SourcePower>*) const { return "2 kW"; }
    std::string_view operator()(const auto&) const { return ""; }
};

Json field_schema(const Slot& slot, const plan::Words& words) {
    Json value = std::visit(TypeSchema{slot.info, words}, slot.ref), json = Json::object();
    json["description"] = described(slot.info);
    if (const Json otherwise = default_of(slot.info, value); !otherwise.is_null())
        json["default"] = otherwise;
    const std::string_view example = std::visit(ExampleOf{}, slot.ref);
    if (!example.empty() && value.contains("pattern")) json["examples"] = Json::array({example});
    if (slot.info.vocabulary == Vocabulary::date) json["examples"] = Json::array({"2026-05-02"});
    if (slot.info.vocabulary == Vocabulary::feeder && value["type"] == "string")
        json["examples"] = Json::array({"outlet.wall"});
    if (slot.info.may_be_unknown) {
        allow_unknown(value);
    } else if (value.contains("type") && value["type"] == "string") {
        value["not"]["const"] = "unknown";
    }
    json.update(value);
    return json;
}

/// A table with these fields and no other. What `like` may supply is required only without it.
Json table_schema(const std::vector<Slot>& slots, const plan::Words& words, std::string_view description) {
    Json json = Json::object(), always = Json::array(), alone = Json::array();
    const bool may_be_like =
        std::any_of(slots.begin(), slots.end(), [](const Slot& s) { return s.info.key == "like"; });
    json["description"] = description;
    json["type"] = "object";
    json["properties"] = Json::object();
    for (const Slot& slot : slots) {
        json["properties"][std::string(slot.info.key)] = field_schema(slot, words);
        if (slot.info.absent == Absent::error)
            (may_be_like && slot.info.key != "from" ? alone : always).push_back(slot.info.key);
    }
    if (!always.empty()) json["required"] = std::move(always);
    if (!alone.empty()) {
        json["anyOf"] = Json::array({Json::object(), Json::object()});
        json["anyOf"][0]["required"] = Json::array({"like"});
        json["anyOf"][1]["required"] = std::move(alone);
    }
    json["additionalProperties"] = false;
    return json;
}

Json element_schema(Kind kind, const plan::Words& words) {
    plan::Element element;
    element.kind = kind;
    element.what = plan::empty_of(kind);
    Json json = table_schema(plan::slots(element), words, plan::kind_meaning(kind));
    Json& properties = json["properties"];
    if (properties.contains("like"))
        properties["like"]["pattern"] =
            whole(std::string(plan::word(kind)) + "\\." + std::string(name_pattern));
    if (kind != Kind::outlet && properties.contains("from"))  // a load feeds outlets only
        properties["from"]["pattern"] =
            whole("(supply|device|outlet|box|switch)\\." + std::string(name_pattern));
    const auto inner = [&](const char* key, std::vector<Slot> slots, std::string_view description) {
        properties[key] = table_schema(slots, words, description);
    };
    plan::Cable cable;
    plan::Residual residual;
    plan::Measured measured;
    plan::Plate plate;
    if (kind != Kind::supply) inner("cable", plan::slots(cable), "the cable that feeds it");
    if (kind == Kind::device) inner("residual", plan::slots(residual), "its residual part");
    if (kind == Kind::outlet) inner("measured", plan::slots(measured), "readings at the outlet");
    if (kind == Kind::load) {
        Json table = table_schema(plan::slots(plate), words, "what is printed on its plate"),
             unknown = Json::object();
        unknown["const"] = "unknown";
        properties["plate"] = Json::object();
        properties["plate"]["anyOf"] = Json::array({std::move(table), std::move(unknown)});
    }
    return json;
}

/// What a meter showed: each test has its places and its units.
Json reading_schema(const plan::Words& words) {
    plan::MeterReading reading;
    Json json = table_schema(plan::slots(reading), words, "what a meter showed");
    json["allOf"] = Json::array();
    const auto tests = plan::words_of<plan::Test>();
    for (std::size_t i = 0; i < tests.size(); ++i) {
        const auto test = static_cast<plan::Test>(i);
        const std::string kind = test == plan::Test::insulation     ? "(supply|device|outlet|box|switch|load)"
                                 : plan::of_a_residual_device(test) ? "device"
                                 : test == plan::Test::protective   ? "(outlet|metal)"
                                                                    : "outlet";
        Json rule = Json::object();
        rule["if"]["properties"]["test"]["const"] = tests[i];
        rule["if"]["required"] = Json::array({"test"});
        Json& then = rule["then"]["properties"];
        then["at"]["pattern"] = whole(kind + "\\." + std::string(name_pattern));
        then["found"]["pattern"] = plan::pattern_of(test);
        if (test != plan::Test::loop) then["cold"]["const"] = true;
        json["allOf"].push_back(std::move(rule));
    }
    return json;
}

/// Tables of one kind by their names.
Json named(Json table, std::string_view description, bool at_least_one) {
    Json json = Json::object();
    json["description"] = description;
    json["type"] = "object";
    json["propertyNames"]["pattern"] = whole(std::string(name_pattern));
    if (at_least_one) json["minProperties"] = 1;
    json["additionalProperties"] = std::move(table);
    return json;
}

Json list_of(Json table, std::string_view description) {
    Json json = Json::object();
    json["description"] = description;
    json["type"] = "array";
    json["items"] = std::move(table);
    return json;
}

template <class T>
Json table_of(const plan::Words& words, std::string_view description) {
    T table;
    return table_schema(plan::slots(table), words, description);
}

}  // namespace

namespace {

Json headed(const char* id) {
    Json json = Json::object();
    json["$schema"] = "https://json-schema.org/draft/2020-12/schema";
    json["$id"] = id;
    return json;
}

/// Of a pattern in a common file nothing is required: it is copied, and the copy is judged.
Json without_required(Json table) {
    table.erase("required");
    table.erase("anyOf");
    return table;
}

}  // namespace

std::string common_schema(const plan::Words& words) {
    Json json = headed("urn:benchfeed:common:1");
    json["title"] = "benchfeed common file, format 1";
    json["description"] = "What many plans share: tools, cables, house circuits, limits.";
    json["type"] = "object";
    json["required"] = Json::array({"format", "common"});
    Json& properties = json["properties"];
    properties["format"] = {{"description", "version of the format"}, {"const", 1}};
    Json& common = properties["common"];
    common = {
        {"description", "what makes it a common file"}, {"type", "object"}, {"additionalProperties", false}};
    common["properties"]["title"] = {
        {"description", "what it holds"}, {"type", "string"}, {"maxLength", 500}};
    common["properties"]["common"] = {{"description", "paths of further common files"}, {"type", "array"}};
    common["properties"]["common"]["items"] = texts();
    properties["local"] = table_of<plan::Local>(words, "limits of the house: of two the tighter holds");
    for (const Kind kind : plan::element_kinds)
        properties[std::string(plan::word(kind))] =
            named(without_required(element_schema(kind, words)), plan::kind_meaning(kind), false);
    properties["stock"] = named(without_required(table_of<plan::Stock>(words, "a kind of cable")),
                                "kinds of cable, by name", false);
    json["additionalProperties"] = false;
    return json.dump(2) + "\n";
}

std::string plan_schema(const plan::Words& words) {
    Json json = headed("urn:benchfeed:plan:1");
    json["title"] = "benchfeed plan, format 1";
    json["description"] =
        "The electrics of a workbench. Quantities are texts with a unit; \"unknown\" is a value where it "
        "stands.";
    json["type"] = "object";
    json["required"] = Json::array({"format", "plan", "supply", "load"});
    Json& properties = json["properties"];
    properties["format"] = {{"description", "version of the format"}, {"const", 1}};
    properties["plan"] = table_of<plan::Head>(words, "what the plan is about");
    properties["site"] = table_of<plan::Site>(words, "where the bench is");
    properties["local"] = table_of<plan::Local>(words, "limits that a local code or an owner tightens");
    for (const Kind kind : plan::element_kinds)
        properties[std::string(plan::word(kind))] =
            named(element_schema(kind, words), plan::kind_meaning(kind),
                  kind == Kind::supply || kind == Kind::load);
    properties["stock"] =
        named(table_of<plan::Stock>(words, "a kind of cable"), "kinds of cable, by name", false);
    properties["metal"] =
        named(table_of<plan::MetalPart>(words, "a metal part"), "metal parts of the bench, by name", false);
    Json together = table_of<plan::Together>(words, "loads that run at the same time");
    together["properties"]["name"]["not"] = Json::object();
    together["properties"]["name"]["not"]["enum"] = Json::array({"everything", "unknown"});
    together["properties"]["loads"]["minItems"] = 1;
    properties["together"] = list_of(std::move(together), "sets of loads");
    properties["together"]["maxItems"] = plan::most_sets;
    properties["accept"] =
        list_of(table_of<plan::Accept>(words, "a caution that is accepted"), "accepted cautions");
    Json& rule = properties["accept"]["items"]["properties"]["rule"];
    rule = {{"description", "rule id"}, {"enum", Json::array()}};
    for (const rules::Rule& one : rules::registry()) rule["enum"].push_back(one.id);
    properties["change"] =
        list_of(table_of<plan::Change>(words, "a change of the bench"), "the log of the bench");
    properties["reading"] = list_of(reading_schema(words), "readings of the assembled bench");
    json["additionalProperties"] = false;
    return json.dump(2) + "\n";
}

}  // namespace benchfeed::report
