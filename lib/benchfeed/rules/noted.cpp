#include <benchfeed/rules/noted.hpp>

#include <algorithm>

#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/plan/fields.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

namespace {

using plan::Slot;
using plan::SlotTable;

/// An emergency stop in a control circuit of which nobody says what it drops out.
bool drops_out_what_nobody_said(const Situation& s, Index element) {
    const auto* sw = s.plan[element].as<plan::Switch>();
    return sw && sw->kind.is(plan::SwitchKind::emergency_stop) && in_control_circuit(*sw) &&
           s.plan[element].children.empty();
}

/// Questions that hang on something else in the plan: a method on a fixed cable, a letter on a breaker.
bool asked_here(const Situation& s, const SlotTable& table, std::string_view key) {
    const Index index = table.element;
    const plan::Element& e = s.plan[index];
    const bool house = s.network.house[index];
    if (table.inner == "cable") {
        if (key == "method")
            return !house && !as_sold(s, index) && network::ampacity_needs_method(s.plan, s.tables, index);
        if (key == "cutout") return e.cable->reel.stated_unknown || e.cable->reel.is(plan::Reel::wound);
        if (key == "grip") return e.plug.known() && e.kind != plan::Kind::load;
        return false;
    }
    if (table.inner == "residual") return key == "wave" && !s.nec();
    if (table.inner == "plate") {
        const auto* load = e.as<plan::Load>();
        if (key == "horsepower_kind") return load->plate->horsepower.known();
        return key == "current" && !s.network.loads[s.network.load_of[index]].known();
    }
    if (key == "separate_from") {
        const auto pairs = supply_pairs(s);
        return std::any_of(pairs.begin(), pairs.end(), [&](const SupplyPair& pair) {
            return pair.second == index && pair.separate == Known::open;
        });
    }
    if (key == "curve") {
        const auto* device = e.as<plan::Device>();
        return device && (device->standard.is(plan::DeviceStandard::iec_60898) ||
                          device->standard.is(plan::DeviceStandard::iec_61009));
    }
    if (key == "fuse") return e.kind != plan::Kind::load && e.plug.known() && fused(s, *e.plug);
    if (key == "volume" || key == "clamps") return s.nec();
    if (key == "coil") {
        const auto* sw = e.as<plan::Switch>();
        return sw && (sw->no_volt.is(true) || sw->kind.is(plan::SwitchKind::contactor));
    }
    if (key == "stops") return drops_out_what_nobody_said(s, index);
    if (key == "brake") {
        const auto* load = e.as<plan::Load>();
        return load && load->form.is(plan::Form::standing) && load->cutter.is(true);
    }
    if (key == "isolating" || key == "lockable") return s.plan.head.mounting.is(plan::Mounting::fixed);
    return key == "overload" && e.kind == plan::Kind::load && !e.plug.known();
}

/// Nobody reads these of a generator or an inverter: they change with what it carries.
bool is_of_a_network(std::string_view key) {
    return key == "loop_impedance" || key == "line_impedance" || key == "fault_current";
}

/// A field without a value that the plan has to answer.
bool is_asked(const Situation& s, const SlotTable& table, const Slot& slot) {
    if (plan::is_assumed(slot.ref) || plan::is_known(slot.ref)) return false;
    const std::string_view key = slot.info.key;
    if (s.nec() && key == "loop_impedance") return false;  // the NEC sets no limit to it
    const bool element = table.element != plan::nowhere;
    if (element && is_of_a_network(key) && is_own_source(s, table.element)) return false;
    if (element && table.inner == "cable" && s.network.house[table.element]) return false;  // as found
    return plan::is_stated_unknown(slot.ref) || slot.info.absent == plan::Absent::ask ||
           (element && asked_here(s, table, key));
}

/// Where a fact is found: of a generator not at the distributor's.
std::string look_for(const Situation& s, const SlotTable& table, const Slot& slot) {
    const bool own = table.element != plan::nowhere && is_own_source(s, table.element);
    return own && slot.info.key == "earthing" ? std::string(earthing_of_a_source)
                                              : std::string(slot.info.look);
}

void add(std::vector<Group>& groups, const SlotTable& table, const Slot& slot, const std::string& value,
         const std::string& look) {
    const auto it = std::find_if(groups.begin(), groups.end(), [&](const Group& g) {
        return g.key == slot.info.key && g.meaning == slot.info.meaning && g.value == value;
    });
    if (it != groups.end()) {
        it->paths += ", " + table.path();
        ++it->count;
        return;
    }
    groups.push_back(
        {table.path(), std::string(slot.info.key), std::string(slot.info.meaning), value, look, 1});
}

/// A load of which nobody has read the plate.
bool lacks_plate(const plan::Element& element) {
    const auto* load = element.as<plan::Load>();
    return load && !load->plate;
}

/// True when any field of the plan is one of those looked for.
template <class Wanted>
bool any_slot(const plan::Plan& plan, Wanted wanted) {
    bool found = false;
    plan::each_table(plan, [&](const SlotTable& table) {
        found = std::any_of(table.slots.begin(), table.slots.end(),
                            [&](const Slot& slot) { return wanted(table, slot); });
        return !found;
    });
    return found;
}

}  // namespace

Noted noted(const Situation& s) {
    Noted result;
    plan::each_table(s.plan, [&](const SlotTable& table) {
        for (const Slot& slot : table.slots) {
            if (plan::is_assumed(slot.ref))
                add(result.assumed, table, slot, plan::value_text(slot.ref), look_for(s, table, slot));
            else if (is_asked(s, table, slot))
                add(result.asked, table, slot, "", look_for(s, table, slot));
        }
        return true;
    });
    for (const plan::Element& element : s.plan.elements)
        if (lacks_plate(element))
            result.asked.push_back({element.path(), "plate", "what is printed on the plate", "",
                                    "underneath or at the back of the tool", 1});
    return result;
}

bool anything_assumed(const Situation& s) {
    return any_slot(s.plan, [](const SlotTable&, const Slot& slot) { return plan::is_assumed(slot.ref); });
}

bool anything_asked(const Situation& s) {
    return std::any_of(s.plan.elements.begin(), s.plan.elements.end(), lacks_plate) ||
           any_slot(s.plan,
                    [&](const SlotTable& table, const Slot& slot) { return is_asked(s, table, slot); });
}

std::vector<AssumedField> assumed_fields(const plan::Plan& plan) {
    std::vector<AssumedField> list;
    plan::each_table(plan, [&](const plan::SlotTable& table) {
        for (const plan::Slot& slot : table.slots)
            if (plan::is_assumed(slot.ref))
                list.push_back({table.path() + "." + std::string(slot.info.key), plan::value_text(slot.ref),
                                "the plan is silent; usual: " + std::string(slot.info.fallback)});
        return true;
    });
    return list;
}

Yield caution_if(bool anything) {
    Yield yield;
    if (!anything) return yield;
    Outcome o;
    o.verdict = Verdict::caution;
    o.basis = Basis::practice;
    yield.outcomes.push_back(o);
    return yield;
}

std::size_t count_of(const std::vector<Group>& groups) {
    std::size_t count = 0;
    for (const Group& group : groups) count += group.count;
    return count;
}

}  // namespace benchfeed::rules
