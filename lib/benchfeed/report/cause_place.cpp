#include <benchfeed/report/cause_place.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/plan/fields.hpp>
#include <benchfeed/rules/drop.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::report {

namespace {

/// A field that the text of the plan or of a common file writes.
std::optional<plan::Located> written_field(const plan::Plan& plan, const std::string& path) {
    std::optional<plan::Located> found;
    plan::each_table(plan, [&](const plan::SlotTable& table) {
        const std::string owner = table.path() + ".";
        if (!path.starts_with(owner)) return true;
        for (const plan::Slot& slot : table.slots)
            if (!found && path.substr(owner.size()) == slot.info.key && plan::is_written(slot.ref) &&
                !plan::span_of(slot.ref).nowhere() && plan::origin_of(slot.ref) != plan::Origin::option)
                found.emplace(plan::Located{path, slot});
        return !found;
    });
    return found;
}

/// Part of the value by which it changes; 1 for what is no quantity.
double relative(const plan::FieldRef& now, const std::string& then) {
    const auto of = [&](double before, double after) {
        return before > 0 && after > 0 ? std::abs(after / before - 1) : 1;
    };
    if (const auto* length = std::get_if<plan::Field<Length>*>(&now); length && (*length)->known()) {
        const auto read = read_quantity<Length>(then, "length");
        if (const auto* value = std::get_if<Length>(&read))
            return of((*length)->value->value(), value->value());
    }
    if (const auto* section = std::get_if<plan::Field<Section>*>(&now); section && (*section)->known()) {
        const auto read = read_quantity<Section>(then, "section");
        if (const auto* value = std::get_if<Section>(&read))
            return of((*section)->value->area.value(), value->area.value());
    }
    return 1;
}

Span length_of_worst_cable(const rules::Situation& s, const rules::Outcome& o) {
    if (rules::registry()[o.rule].id != "volts.running-drop" || o.at.kind != rules::At::Kind::element)
        return {};
    const rules::Index element = rules::worst_cable(s, o.at.index);
    if (element == plan::nowhere || !s.plan[element].cable) return {};
    const auto& length = s.plan[element].cable->length;
    return length.written() && length.origin != plan::Origin::option ? length.span : Span{};
}

}  // namespace

Span cause_place(const rules::Situation& s, const rules::Outcome& o,
                 const std::vector<rules::Remedy>& tried) {
    Span place;
    double least = std::numeric_limits<double>::infinity();
    for (const rules::Remedy& remedy : tried) {
        if (remedy.changes.size() != 1 || !remedy.fragment.empty()) continue;
        const auto field = written_field(s.plan, remedy.changes.front().path);
        if (!field) continue;
        const double change = relative(field->slot.ref, remedy.changes.front().value);
        if (change >= least) continue;
        least = change;
        place = plan::span_of(field->slot.ref);
    }
    // Thicker copper by half and more is no smaller change than a shorter cord that nobody tried.
    if (const Span length = length_of_worst_cable(s, o);
        !length.nowhere() && (place.nowhere() || least > 0.5))
        return length;
    return place;
}

std::vector<Replacement> replacements(const rules::Situation& s, const rules::Remedy& tried) {
    std::vector<Replacement> list;
    if (!tried.fragment.empty()) return list;
    for (const rules::Change& change : tried.changes) {
        const auto field = written_field(s.plan, change.path);
        // What stands in a common file is not for one plan to change.
        if (!field || change.value.empty() || stands_beside(plan::span_of(field->slot.ref)) ||
            plan::origin_of(field->slot.ref) != plan::Origin::plan)
            return {};
        const bool bare = std::holds_alternative<plan::Field<bool>*>(field->slot.ref) ||
                          std::holds_alternative<plan::Field<int>*>(field->slot.ref);
        if (std::holds_alternative<plan::Field<std::vector<std::string>>*>(field->slot.ref)) return {};
        list.push_back({plan::span_of(field->slot.ref), bare ? change.value : "\"" + change.value + "\""});
    }
    return list;
}

}  // namespace benchfeed::report
