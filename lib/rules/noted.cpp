#include "rules/noted.hpp"

#include <algorithm>
#include <unordered_map>

#include "network/ampacity.hpp"
#include "plan/fields.hpp"
#include "rules/supplies.hpp"
#include "rules/support.hpp"

namespace benchfeed::rules {

namespace {

using plan::Located;

bool ends_with(std::string_view path, std::string_view end) {
    return path.size() > end.size() && path.ends_with(end);
}

/// Elements by path, so that a large plan is walked once.
using ByPath = std::unordered_map<std::string, Index>;

ByPath elements_by_path(const Situation& s) {
    ByPath map;
    for (Index i = 0; i < s.plan.elements.size(); ++i) map.emplace(s.plan[i].path(), i);
    return map;
}

/// The element of a path "kind.NAME....", or nullptr.
const plan::Element* element_of(const Situation& s, const ByPath& elements, const std::string& path,
                                Index* index) {
    const auto found = elements.find(path.substr(0, path.find('.', path.find('.') + 1)));
    if (found == elements.end()) return nullptr;
    *index = found->second;
    return &s.plan[found->second];
}

/// Questions that hang on something else in the plan: a method on a fixed cable, a letter on a breaker.
bool asked_here(const Situation& s, const Located& field, const plan::Element& e, Index index) {
    const std::string_view path = field.path;
    const bool house = s.network.house[index];
    if (ends_with(path, ".cable.method"))
        return e.cable && !house && !as_sold(s, index) &&
               network::ampacity_needs_method(s.plan, s.tables, index);
    if (ends_with(path, ".separate_from")) {
        const auto pairs = supply_pairs(s);
        return std::any_of(pairs.begin(), pairs.end(), [&](const SupplyPair& pair) {
            return pair.second == index && pair.separate == Known::open;
        });
    }
    if (ends_with(path, ".cable.cutout"))
        return e.cable && (e.cable->reel.stated_unknown || e.cable->reel.is(plan::Reel::wound));
    if (ends_with(path, ".cable.grip")) return e.cable && e.plug.known() && e.kind != plan::Kind::load;
    if (ends_with(path, ".curve")) {
        const auto* device = e.as<plan::Device>();
        return device && (device->standard.is(plan::DeviceStandard::iec_60898) ||
                          device->standard.is(plan::DeviceStandard::iec_61009));
    }
    if (ends_with(path, ".residual.wave")) return !s.nec();
    if (ends_with(path, ".fuse")) return e.kind != plan::Kind::load && e.plug.known() && fused(s, *e.plug);
    if (ends_with(path, ".volume") || ends_with(path, ".clamps")) return s.nec();
    if (ends_with(path, ".coil")) {
        const auto* sw = e.as<plan::Switch>();
        return sw && (sw->no_volt.is(true) || sw->kind.is(plan::SwitchKind::contactor));
    }
    if (ends_with(path, ".isolating") || ends_with(path, ".lockable"))
        return s.plan.head.mounting.is(plan::Mounting::fixed);
    if (ends_with(path, ".overload")) return e.kind == plan::Kind::load && !e.plug.known();
    if (ends_with(path, ".horsepower_kind")) {
        const auto* load = e.as<plan::Load>();
        return load && load->plate && load->plate->horsepower.known();
    }
    if (ends_with(path, ".plate.current")) return !s.network.loads[s.network.load_of[index]].known();
    return false;
}

std::string without_key(const std::string& path) {
    return path.substr(0, path.rfind('.'));
}

void add(std::vector<Group>& groups, const Located& field, const std::string& value) {
    const auto it = std::find_if(groups.begin(), groups.end(), [&](const Group& g) {
        return g.key == field.slot.info.key && g.meaning == field.slot.info.meaning && g.value == value;
    });
    if (it != groups.end()) {
        it->paths += ", " + without_key(field.path);
        ++it->count;
        return;
    }
    groups.push_back({without_key(field.path), std::string(field.slot.info.key),
                      std::string(field.slot.info.meaning), value, std::string(field.slot.info.look), 1});
}

}  // namespace

Noted noted(const Situation& s) {
    Noted result;
    const ByPath elements = elements_by_path(s);
    for (const Located& field : plan::all_slots(s.plan)) {
        if (plan::is_assumed(field.slot.ref)) {
            add(result.assumed, field, plan::value_text(field.slot.ref));
            continue;
        }
        if (plan::is_known(field.slot.ref)) continue;
        Index index = plan::nowhere;
        const plan::Element* e = element_of(s, elements, field.path, &index);
        const bool us_loop =
            s.nec() && ends_with(field.path, ".loop_impedance");  // the NEC sets no limit to it
        const bool as_found =
            us_loop || (e && s.network.house[index] && field.path.find(".cable.") != std::string::npos);
        const bool asked = plan::is_stated_unknown(field.slot.ref) ||
                           field.slot.info.absent == plan::Absent::ask ||
                           (e && asked_here(s, field, *e, index));
        if (asked && !as_found) add(result.asked, field, "");
    }
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* load = s.plan[i].as<plan::Load>();
        if (load && !load->plate)
            result.asked.push_back({s.plan[i].path(), "plate", "what is printed on the plate", "",
                                    "underneath or at the back of the tool", 1});
    }
    return result;
}

std::vector<AssumedField> assumed_fields(const plan::Plan& plan) {
    std::vector<AssumedField> list;
    for (const Located& field : plan::all_slots(plan))
        if (plan::is_assumed(field.slot.ref))
            list.push_back({field.path, plan::value_text(field.slot.ref),
                            "the plan is silent; usual: " + std::string(field.slot.info.fallback)});
    return list;
}

Yield caution_for(const std::vector<Group>& groups) {
    Yield yield;
    if (groups.empty()) return yield;
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
