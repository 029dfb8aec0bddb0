#pragma once
// The one list of every field of the plan format: reader, options (--set), schema, comparison and the
// lists of assumed and unknown values all walk it.
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <benchfeed/plan/plan.hpp>

namespace benchfeed::plan {

/// What the absence of a field means.
enum class Absent : std::uint8_t {
    error,    ///< the plan cannot be read without it
    ask,      ///< the same as "unknown": a question
    assume,   ///< a value is assumed and printed
    plain,    ///< a plain default, not worth a word
    nothing,  ///< none: simply not there
};

/// What a text names: words that come from data, or something else of the plan.
enum class Vocabulary : std::uint8_t {
    none,
    pattern,
    plug,    ///< a pattern of plugs
    outlet,  ///< a pattern of outlets
    construction,
    region,
    feeder,      ///< kind.NAME of what an element is fed from
    like,        ///< kind.NAME of an element of the same kind
    stock_like,  ///< NAME of a stock, "stock." before it or not
    name,        ///< NAME of a load, a stock or a set
    end,         ///< kind.NAME of an element, or "no"
    date,        ///< YYYY-MM-DD
    code_letter
};
/// Words of these are looked up in data.
[[nodiscard]] constexpr bool from_data(Vocabulary vocabulary) {
    return vocabulary >= Vocabulary::pattern && vocabulary <= Vocabulary::region;
}

/// What a field is called, what stands for it where it is absent, and what it means.
struct FieldInfo {
    std::string_view key;
    Absent absent = Absent::nothing;
    std::string_view fallback;  ///< what is assumed or the default, in words: "30 degC"
    bool may_be_unknown = false;
    std::string_view meaning;  ///< one line for schema and documents
    std::string_view look;     ///< where to find the fact, for the question: "printed on the handle"
    Vocabulary vocabulary = Vocabulary::none;
};

/// A choice of any enumeration, with its words.
struct ChoiceRef {
    ChoiceField* field;
    std::span<const std::string_view> words;
};

/// A field of whatever type, by pointer.
using FieldRef =
    std::variant<Field<std::string>*, Field<bool>*, Field<int>*, Field<std::int64_t>*, Field<Length>*,
                 Field<Section>*, Field<Current>*, Field<Voltage>*, Field<Power>*, Field<Horsepower>*,
                 Field<Impedance>*, Field<Temperature>*, Field<Volume>*, Field<Frequency>*, Field<Ratio>*,
                 Field<VoltageRange>*, Field<CurrentOrPower>*, Field<MotorRating>*, Field<SourcePower>*,
                 Field<Conductors>*, Field<std::vector<std::string>>*, ChoiceRef>;

/// A field of one element: where to read it to, or from.
struct Slot {
    const FieldInfo& info;  ///< a row of the list, which is there as long as the program
    FieldRef ref;
};

// One overload per table of the format. An element's slots include what feeds it (plug, fuse, inlet,
// conductors ...) but not its inner tables; those have slots of their own.
[[nodiscard]] std::vector<Slot> slots(Head& head);
[[nodiscard]] std::vector<Slot> slots(Site& site);
[[nodiscard]] std::vector<Slot> slots(Local& local);
[[nodiscard]] std::vector<Slot> slots(Element& element);
[[nodiscard]] std::vector<Slot> slots(Cable& cable);
[[nodiscard]] std::vector<Slot> slots(Residual& residual);
[[nodiscard]] std::vector<Slot> slots(Measured& measured);
[[nodiscard]] std::vector<Slot> slots(Plate& plate);
[[nodiscard]] std::vector<Slot> slots(Stock& stock);
[[nodiscard]] std::vector<Slot> slots(MetalPart& metal);
[[nodiscard]] std::vector<Slot> slots(Together& together);
[[nodiscard]] std::vector<Slot> slots(Accept& accept);
[[nodiscard]] std::vector<Slot> slots(MeterReading& reading);
[[nodiscard]] std::vector<Slot> slots(Change& change);

/// Power factor and efficiency are plain numbers; every other ratio is a percentage.
[[nodiscard]] inline bool is_plain_number(const FieldInfo& info) {
    return info.key == "power_factor" || info.key == "efficiency";
}

/// One table of a plan, named by parts so that its path is made only where somebody reads it.
struct SlotTable {
    std::string_view kind, name = {}, inner = {};  ///< "box", "junction", "cable"
    Index element = nowhere;                       ///< of an element and its inner tables
    std::vector<Slot> slots = {};
    [[nodiscard]] std::string path() const;  ///< "box.junction.cable"
};
/// Every table in the order of the lists of what is assumed, unknown, missing, until `visit` returns false.
template <class Visit>
void each_table(Plan& plan, Visit visit) {
    bool more = visit(SlotTable{.kind = "plan", .slots = slots(plan.head)}) &&
                visit(SlotTable{.kind = "site", .slots = slots(plan.site)});
    if (more && plan.local.present) more = visit(SlotTable{.kind = "local", .slots = slots(plan.local)});
    for (std::size_t i = 0; more && i < plan.stocks.size(); ++i)
        more = visit(SlotTable{.kind = "stock", .name = plan.stocks[i].name, .slots = slots(plan.stocks[i])});
    for (Index i = 0; more && i < plan.elements.size(); ++i) {
        Element& e = plan.elements[i];
        const auto table = [&](std::string_view inner, std::vector<Slot> slots) {
            more = more && visit(SlotTable{word(e.kind), e.name, inner, i, std::move(slots)});
        };
        table("", slots(e));
        if (e.cable) table("cable", slots(*e.cable));
        if (auto* device = std::get_if<Device>(&e.what); device && device->residual)
            table("residual", slots(*device->residual));
        if (auto* outlet = std::get_if<Outlet>(&e.what); outlet && outlet->measured)
            table("measured", slots(*outlet->measured));
        if (auto* load = std::get_if<Load>(&e.what); load && load->plate) table("plate", slots(*load->plate));
    }
    for (std::size_t i = 0; more && i < plan.metals.size(); ++i)
        more = visit(SlotTable{.kind = "metal", .name = plan.metals[i].name, .slots = slots(plan.metals[i])});
    for (std::size_t i = 0; more && i < plan.together.size(); ++i) {
        const auto& name = plan.together[i].name.value;
        more = visit(SlotTable{.kind = "together",
                               .name = name ? std::string_view(*name) : std::string_view{},
                               .slots = slots(plan.together[i])});
    }
}
/// The same for reading only: nothing may be written through these slots.
template <class Visit>
void each_table(const Plan& plan, Visit visit) {
    each_table(const_cast<Plan&>(plan), std::move(visit));
}

/// A slot with its full path, "box.junction.cable.length".
struct Located {
    std::string path;
    Slot slot;
};
/// Every field of a plan in the same order.
[[nodiscard]] std::vector<Located> all_slots(Plan& plan);
/// The same for reading only: nothing may be written through these slots.
[[nodiscard]] std::vector<Located> all_slots(const Plan& plan);

/// Value of a field as a plan would write it; "" where there is none.
[[nodiscard]] std::string value_text(const FieldRef& ref, int significant = 3);
/// The same type and the same value, or both without one.
[[nodiscard]] bool same_value(const FieldRef& a, const FieldRef& b);
[[nodiscard]] Origin origin_of(const FieldRef& ref);
[[nodiscard]] bool is_assumed(const FieldRef& ref);
[[nodiscard]] bool is_stated_unknown(const FieldRef& ref);

/// Span of a field of whatever type, and whether somebody wrote it.
[[nodiscard]] Span span_of(const FieldRef& ref);
[[nodiscard]] bool is_written(const FieldRef& ref);
[[nodiscard]] bool is_known(const FieldRef& ref);
void set_header(const FieldRef& ref, const Span& header);  ///< place of a field that nobody wrote

}  // namespace benchfeed::plan
