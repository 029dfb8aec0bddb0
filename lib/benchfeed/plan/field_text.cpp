// Fields of whatever type, looked at alike: their text, their place, where they came from.
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/plan/fields.hpp>

namespace benchfeed::plan {

std::string SlotTable::path() const {
    std::string text(kind);
    if (!name.empty()) text.append(".").append(name);
    if (!inner.empty()) text.append(".").append(inner);
    return text;
}

std::vector<Located> all_slots(Plan& plan) {
    std::vector<Located> out;
    each_table(plan, [&](const SlotTable& table) {
        const std::string path = table.path() + ".";
        for (const Slot& slot : table.slots) out.push_back({path + std::string(slot.info.key), slot});
        return true;
    });
    return out;
}

// One list of members serves readers and writers; the const of the plan comes back with the caller's promise.
std::vector<Located> all_slots(const Plan& plan) {
    return all_slots(const_cast<Plan&>(plan));
}

namespace {

template <class T>
std::string shown(const T& value, int significant) {
    if constexpr (std::is_same_v<T, std::string>)
        return value;
    else if constexpr (std::is_same_v<T, bool>)
        return value ? "true" : "false";
    else if constexpr (std::is_integral_v<T>)
        return std::to_string(value);
    else if constexpr (std::is_same_v<T, Section>)
        return section_text(value);
    else if constexpr (std::is_same_v<T, Conductors>)
        return conductors_text(value);
    else if constexpr (std::is_same_v<T, Horsepower>)
        return digits(in(unit::horsepower, value.power), significant) + " hp";
    else if constexpr (std::is_same_v<T, VoltageRange>)
        return value.low == value.high
                   ? to_text(value.low, significant)
                   : to_text(value.low, significant) + " to " + to_text(value.high, significant);
    else if constexpr (std::is_same_v<T, CurrentOrPower> || std::is_same_v<T, MotorRating> ||
                       std::is_same_v<T, SourcePower>)
        return std::visit([&](const auto& one) { return shown(one, significant); }, value);
    else if constexpr (std::is_same_v<T, std::vector<std::string>>) {
        std::string out;
        for (const std::string& word : value) out += (out.empty() ? "" : ", ") + word;
        return out;
    } else
        return to_text(value, significant);
}

/// The field behind a reference, whatever its type.
template <class F>
auto with_field(const FieldRef& ref, F f) {
    return std::visit(
        [&](const auto& field) {
            if constexpr (std::is_same_v<std::decay_t<decltype(field)>, ChoiceRef>)
                return f(*field.field);
            else
                return f(*field);
        },
        ref);
}

}  // namespace

std::string value_text(const FieldRef& ref, int significant) {
    if (const auto* choice = std::get_if<ChoiceRef>(&ref))
        return choice->field->known() ? std::string(choice->words[**choice->field]) : "";
    return with_field(
        ref, [&](const auto& field) { return field.known() ? shown(*field, significant) : std::string{}; });
}
bool same_value(const FieldRef& a, const FieldRef& b) {
    return std::visit(
        [](const auto& one, const auto& other) {
            using A = std::decay_t<decltype(one)>;
            if constexpr (!std::is_same_v<A, std::decay_t<decltype(other)>>)
                return false;
            else if constexpr (std::is_same_v<A, ChoiceRef>)
                return one.field->value == other.field->value;
            else
                return one->value == other->value;
        },
        a, b);
}
Origin origin_of(const FieldRef& ref) {
    return with_field(ref, [](const auto& field) { return field.origin; });
}
bool is_assumed(const FieldRef& ref) {
    return with_field(ref, [](const auto& field) { return field.assumed(); });
}
bool is_stated_unknown(const FieldRef& ref) {
    return with_field(ref, [](const auto& field) { return field.stated_unknown; });
}
Span span_of(const FieldRef& ref) {
    return with_field(ref, [](const auto& field) { return field.span; });
}
bool is_written(const FieldRef& ref) {
    return with_field(ref, [](const auto& field) { return field.written(); });
}
bool is_known(const FieldRef& ref) {
    return with_field(ref, [](const auto& field) { return field.known(); });
}
void set_header(const FieldRef& ref, const Span& header) {
    with_field(ref, [&](auto& field) {
        if (field.span.nowhere()) field.span = header;
    });
}

}  // namespace benchfeed::plan
