#include <benchfeed/report/plan_schema.hpp>

#include <algorithm>
#include <array>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/plan/fields.hpp>
#include <benchfeed/report/json_parts.hpp>

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

Json field_schema(const Slot& slot, const plan::Words& words) {
    Json value = std::visit(TypeSchema{slot.info, words}, slot.ref), json = Json::object();
    json["description"] = described(slot.info);
    if (slot.info.may_be_unknown && value.contains("enum")) {
        value["enum"].push_back("unknown");
    } else if (slot.info.may_be_unknown) {
        json["anyOf"] = Json::array();
        json["anyOf"].push_back(std::move(value));
        json["anyOf"].push_back(Json::object());
        json["anyOf"][1]["const"] = "unknown";
        return json;
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

std::string plan_schema(const plan::Words& words) {
    Json json = Json::object();
    json["$schema"] = "https://json-schema.org/draft/2020-12/schema";
    json["title"] = "benchfeed plan, format 1";
    json["description"] =
        "The electrics of a workbench. Quantities are texts with a unit; \"unknown\" is a value where it "
        "stands.";
    json["type"] = "object";
    json["required"] = Json::array({"format", "plan", "supply", "load"});
    Json& properties = json["properties"];
    properties["format"] = {{"description", "version of the format"}, {"const", 1}};
    properties["plan"] = table_of<plan::Head>(words, "what the plan is about");
    properties["site"] = table_of<plan::Site>(words, "where the bench stands");
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
    properties["change"] =
        list_of(table_of<plan::Change>(words, "a change of the bench"), "the log of the bench");
    properties["reading"] = list_of(table_of<plan::MeterReading>(words, "what a meter showed"),
                                    "readings of the assembled bench");
    json["additionalProperties"] = false;
    return json.dump(2) + "\n";
}

}  // namespace benchfeed::report
