// --set PATH=VALUE: one value of the plan replaced for a what-if.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/plan/reading.hpp>

namespace benchfeed::plan {

namespace {

/// Columns of a place in the option's own text; line 0 tells that it is no line of the plan.
Span in_option(std::size_t from, std::size_t to) {
    return {0, static_cast<std::uint32_t>(from + 1), 0,
            static_cast<std::uint32_t>(std::max(to, from + 1) + 1)};
}

struct Target {
    std::vector<Slot> slots;
    std::string path;  ///< of the table
    Span header;
};

/// The inner table of an element, made if it is not there yet.
template <class Inner>
std::vector<Slot> inner_slots(Inner& inner, const Span& header) {
    if (!inner) {
        inner.emplace();
        inner->span = header;
    }
    return slots(*inner);
}

std::vector<Slot> inner_of(Element& e, std::string_view table) {
    if (table == "cable" && e.kind != Kind::supply) return inner_slots(e.cable, e.header);
    if (auto* device = std::get_if<Device>(&e.what); device && table == "residual")
        return inner_slots(device->residual, e.header);
    if (auto* outlet = std::get_if<Outlet>(&e.what); outlet && table == "measured")
        return inner_slots(outlet->measured, e.header);
    if (auto* load = std::get_if<Load>(&e.what); load && table == "plate")
        return inner_slots(load->plate, e.header);
    return {};
}

std::vector<std::string> split(std::string_view text, char at) {
    std::vector<std::string> parts;
    for (std::size_t from = 0; from <= text.size();) {
        const std::size_t to = std::min(text.find(at, from), text.size());
        parts.emplace_back(text.substr(from, to - from));
        from = to + 1;
    }
    return parts;
}

std::optional<Target> find_target(Plan& plan, const std::vector<std::string>& parts) {
    if (parts.size() == 2) {
        if (parts[0] == "plan") return Target{slots(plan.head), "plan", plan.head.header};
        if (parts[0] == "site") return Target{slots(plan.site), "site", plan.site.header};
        if (parts[0] == "local") {
            plan.local.present = true;
            return Target{slots(plan.local), "local", plan.local.header};
        }
        return std::nullopt;
    }
    if (parts.size() != 3 && parts.size() != 4) return std::nullopt;
    const std::string head = parts[0] + "." + parts[1];
    if (parts.size() == 3) {
        for (Stock& stock : plan.stocks)
            if (stock.path() == head) return Target{slots(stock), head, stock.header};
        for (Together& t : plan.together)
            if ("together." + t.name.value_or("") == head) return Target{slots(t), head, t.header};
        for (MetalPart& m : plan.metals)
            if ("metal." + m.name == head) return Target{slots(m), head, m.header};
    }
    for (Element& e : plan.elements) {
        if (e.path() != head) continue;
        if (parts.size() == 3) return Target{slots(e), head, e.header};
        auto inner = inner_of(e, parts[2]);
        if (inner.empty()) return std::nullopt;
        return Target{std::move(inner), head + "." + parts[2], e.header};
    }
    return std::nullopt;
}

/// The text after the first =, as the TOML value that the field would have.
text::Node node_of(std::string value, const FieldRef& ref) {
    text::Node node;
    if (value.size() >= 2 && value.front() == '"' && value.back() == '"')
        value = value.substr(1, value.size() - 2);
    const bool plain_number = !value.empty() && value.find_first_not_of("0123456789.") == std::string::npos;
    if (std::holds_alternative<Field<bool>*>(ref) && (value == "true" || value == "false")) {
        node.value = value == "true";
    } else if ((std::holds_alternative<Field<int>*>(ref) ||
                std::holds_alternative<Field<std::int64_t>*>(ref)) &&
               plain_number && value.find('.') == std::string::npos && value.size() <= 18) {  // fit 64 bits
        node.value = static_cast<std::int64_t>(std::stol(value));
    } else if (std::holds_alternative<Field<Ratio>*>(ref) && plain_number &&
               std::count(value.begin(), value.end(), '.') <= 1 && value.size() < 10 && value != ".") {
        node.value = std::stod(value);
    } else if (std::holds_alternative<Field<std::vector<std::string>>*>(ref) && value != "unknown") {
        // As the plan writes it, ["saw", "router"], or the names alone: saw, router.
        if (value.size() >= 2 && value.front() == '[' && value.back() == ']')
            value = value.substr(1, value.size() - 2);
        std::erase(value, '"');
        text::Array array;
        for (std::string& name : split(value, ',')) {
            name.erase(0, name.find_first_not_of(' '));
            if (!name.empty()) name.erase(name.find_last_not_of(' ') + 1);
            text::Node item;
            item.value = std::move(name);
            array.items.push_back(std::move(item));
        }
        node.value = std::move(array);
    } else {
        node.value = std::move(value);
    }
    return node;
}

void remove_value(const FieldRef& ref) {
    std::visit(
        [](const auto& field) {
            if constexpr (std::is_same_v<std::decay_t<decltype(field)>, ChoiceRef>)
                *static_cast<Field<std::uint8_t>*>(field.field) = {};
            else
                *field = {};
        },
        ref);
}

void mark_as_option(const FieldRef& ref, const Span& header) {
    std::visit(
        [&](const auto& field) {
            if constexpr (std::is_same_v<std::decay_t<decltype(field)>, ChoiceRef>) {
                field.field->origin = Origin::option;
                field.field->span = header;
            } else {
                field->origin = Origin::option;
                field->span = header;
            }
        },
        ref);
}

void apply_one(Context& context, Plan& plan, const std::string& text) {
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos || equals == 0)
        return context.fault("--set", fmt::format("\"{}\" is not PATH=VALUE", text),
                             {{in_option(0, text.size()), ""}}, "box.junction.cable.length=\"3 m\"");
    const std::string path = text.substr(0, equals);
    const auto parts = split(path, '.');
    auto target = find_target(plan, parts);
    if (!target)
        return context.fault("--set", fmt::format("the plan has no {}", path), {{in_option(0, equals), ""}},
                             "kind.NAME.field, as in the plan");
    const auto slot = std::find_if(target->slots.begin(), target->slots.end(),
                                   [&](const Slot& s) { return s.info.key == parts.back(); });
    if (slot == target->slots.end()) {
        std::vector<std::string> known;
        for (const Slot& s : target->slots) known.emplace_back(s.info.key);
        const std::string near = nearest(parts.back(), known);
        return context.fault("--set", fmt::format("{} has no field {}", target->path, parts.back()),
                             {{in_option(equals - parts.back().size(), equals), ""}}, near);
    }
    const std::string value = text.substr(equals + 1);
    if (value.empty()) return remove_value(slot->ref);
    text::Node node = node_of(value, slot->ref);
    node.span = in_option(equals + 1, text.size());
    const std::size_t before = context.problems.size();
    read_value(context, node, *slot, "--set");
    if (context.problems.size() == before) mark_as_option(slot->ref, target->header);
}

}  // namespace

void apply_overrides(Context& context, Plan& plan, std::span<const Override> overrides) {
    for (const Override& one : overrides) apply_one(context, plan, one.text);
}

}  // namespace benchfeed::plan
