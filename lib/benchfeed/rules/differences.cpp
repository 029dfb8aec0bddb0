#include <benchfeed/rules/differences.hpp>

#include <algorithm>
#include <initializer_list>
#include <map>
#include <set>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/plan/fields.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

using plan::Located;
namespace {

/// Fields of one plan by their table, in file order.
struct Tables {
    std::vector<std::string> order;
    std::map<std::string, std::vector<Located>> fields;

    explicit Tables(const plan::Plan& plan) {
        for (const Located& field : plan::all_slots(plan)) {
            const std::string table = field.path.substr(0, field.path.rfind('.'));
            auto& list = fields[table];
            if (list.empty()) order.push_back(table);
            list.push_back(field);
        }
    }
    [[nodiscard]] const Located* find(const std::string& table, std::string_view key) const {
        const auto it = fields.find(table);
        if (it == fields.end()) return nullptr;
        for (const Located& field : it->second)
            if (field.slot.info.key == key) return &field;
        return nullptr;
    }
};

/// "box.junction" of "box.junction.cable".
std::string element_path(const std::string& table) {
    const auto first = table.find('.');
    return first == std::string::npos ? table : table.substr(0, table.find('.', first + 1));
}

Index element_of(const plan::Plan& plan, const std::string& table) {
    const std::string path = element_path(table);
    for (Index i = 0; i < plan.elements.size(); ++i)
        if (plan[i].path() == path) return i;
    return plan::nowhere;
}

std::string table_words(const Situation& s, const std::string& table) {
    const Index element = element_of(s.plan, table);
    if (element == plan::nowhere) {
        if (table.starts_with("stock.")) return "stock " + table.substr(6);
        if (table.starts_with("metal.")) return "the metal part " + table.substr(6);
        if (table.starts_with("together.")) return "set " + table.substr(9);
        return table == "plan" ? "the plan" : table == "site" ? "the site" : "the local limits";
    }
    if (table.ends_with(".cable") && s.plan[element].cable) return words(s, at_element(element), Part::cable);
    if (table.ends_with(".plate")) return "the plate of " + s.plan[element].words();
    if (table.ends_with(".residual")) return "the residual part of " + s.plan[element].words();
    if (table.ends_with(".measured")) return "the readings at " + s.plan[element].words();
    return s.plan[element].words();
}

bool said(const Located& field) {
    return plan::is_written(field.slot.ref);
}

/// As a plan writes it: "unknown", a value, or nothing. Two values that are not the same never look alike.
std::string said_text(const Located* field, int digits) {
    if (!field) return "";
    if (plan::is_stated_unknown(field->slot.ref)) return "unknown";
    return plan::is_known(field->slot.ref) ? plan::value_text(field->slot.ref, digits) : "";
}

/// The same names in whatever order. Only a start order is one.
bool same_names(const Located& before, const Located& after) {
    const auto* one = std::get_if<plan::Field<std::vector<std::string>>*>(&before.slot.ref);
    const auto* other = std::get_if<plan::Field<std::vector<std::string>>*>(&after.slot.ref);
    if (!one || !other || before.slot.info.key == "start_order" || !(*one)->known() || !(*other)->known())
        return false;
    return std::set<std::string>((**one)->begin(), (**one)->end()) ==
           std::set<std::string>((**other)->begin(), (**other)->end());
}

bool differ(const Located* before, const Located* after) {
    const bool one = before && said(*before), other = after && said(*after);
    if (!one && !other) return false;  // what follows from other fields is no difference of its own
    if (!before || !after) return true;
    return plan::is_stated_unknown(before->slot.ref) != plan::is_stated_unknown(after->slot.ref) ||
           !(plan::same_value(before->slot.ref, after->slot.ref) || same_names(*before, *after));
}

/// Taken over from the same element on both sides: the difference is told there. A pattern of a common file
/// is no element of the plan and tells nothing.
bool told_elsewhere(const Located* before, const Located* after) {
    if (after && stands_beside(plan::span_of(after->slot.ref))) return false;
    return before && after && plan::origin_of(before->slot.ref) == plan::Origin::like &&
           plan::origin_of(after->slot.ref) == plan::Origin::like;
}

Difference::Field field_difference(const Located* before, const Located* after) {
    const auto& info = (after ? after : before)->slot.info;
    Difference::Field field{std::string(info.key), {}, {}};
    if (after && said(*after)) field.place = plan::span_of(after->slot.ref);
    for (int digits = 3; digits < 16; ++digits) {
        field.before = said_text(before, digits);
        field.after = said_text(after, digits);
        if (field.before != field.after) break;
    }
    return field;
}

void add_unchanged(const Situation& s, Difference& difference) {
    const Index element = element_of(s.plan, difference.path);
    if (!difference.path.ends_with(".cable") || element == plan::nowhere || !s.plan[element].cable) return;
    const auto changed = [&](std::string_view key) {
        return std::any_of(difference.fields.begin(), difference.fields.end(),
                           [&](const auto& f) { return f.key == key; });
    };
    const plan::Cable& cable = *s.plan[element].cable;
    if (!changed("length") && cable.length.known()) difference.unchanged.push_back(to_text(*cable.length));
    if (!changed("stock") && cable.stock_index != plan::nowhere &&
        s.plan.stocks[cable.stock_index].section.known())
        difference.unchanged.push_back(section_text(*s.plan.stocks[cable.stock_index].section));
}

}  // namespace

std::vector<Difference> find_differences(const Situation& before, const Situation& after) {
    const Tables old_tables(before.plan), new_tables(after.plan);
    std::vector<Difference> list;
    for (const std::string& table : new_tables.order) {
        Difference d{Difference::Kind::changed, table, table_words(after, table), {}, {}};
        if (!old_tables.fields.contains(table)) d.kind = Difference::Kind::added;
        std::set<std::string> keys;
        for (const Located& field : new_tables.fields.at(table)) {
            const Located* old = old_tables.find(table, field.slot.info.key);
            keys.insert(std::string(field.slot.info.key));
            if (differ(old, &field) && !told_elsewhere(old, &field))
                d.fields.push_back(field_difference(old, &field));
        }
        if (d.kind == Difference::Kind::changed && d.fields.empty()) continue;
        if (d.kind == Difference::Kind::changed) add_unchanged(after, d);
        list.push_back(std::move(d));
    }
    for (const std::string& table : old_tables.order) {
        if (new_tables.fields.contains(table)) continue;
        Difference d{Difference::Kind::removed, table, table_words(before, table), {}, {}};
        for (const Located& field : old_tables.fields.at(table))
            if (said(field)) d.fields.push_back(field_difference(&field, nullptr));
        list.push_back(std::move(d));
    }
    return list;
}

std::vector<Index> touched(const plan::Plan& plan, const Difference& d) {
    std::vector<Index> list;
    if (d.path.starts_with("stock.")) {
        for (Index i = 0; i < plan.elements.size(); ++i)
            if (plan[i].cable && plan[i].cable->stock.known() && "stock." + *plan[i].cable->stock == d.path)
                list.push_back(i);
        return list;
    }
    if (d.path.starts_with("together.")) {
        for (const auto& t : plan.together)
            if ("together." + t.name.value_or("") == d.path) list = t.load_indices;
        return list;
    }
    const Index element = element_of(plan, d.path);
    if (element != plan::nowhere) list.push_back(element);
    return list;
}

bool concerns_everything(const Difference& d) {
    return d.path == "plan" || d.path == "site" || d.path == "local";
}

bool only_words(const Difference& d) {
    static const std::set<std::string_view> words{"title", "place", "contact", "revision",
                                                  "date",  "label", "existing"};
    return d.kind == Difference::Kind::changed &&
           std::all_of(d.fields.begin(), d.fields.end(),
                       [&](const auto& f) { return words.contains(f.key); });
}

namespace {

bool has_field(const Difference& d, std::initializer_list<std::string_view> keys) {
    return std::any_of(d.fields.begin(), d.fields.end(), [&](const auto& f) {
        return std::find(keys.begin(), keys.end(), f.key) != keys.end();
    });
}

}  // namespace

bool rewired(const Difference& d) {
    if (only_words(d) || d.path.ends_with(".plate") || d.path.ends_with(".measured")) return false;
    if (d.path.starts_with("load.") && !d.path.ends_with(".cable"))
        return has_field(d, {"from", "plug", "fuse"}) && d.kind == Difference::Kind::changed;
    return d.path.starts_with("stock.") || d.path.starts_with("metal.") || d.path.starts_with("device.") ||
           d.path.starts_with("outlet.") || d.path.starts_with("box.") || d.path.starts_with("switch.") ||
           d.path.ends_with(".cable");
}

}  // namespace benchfeed::rules
