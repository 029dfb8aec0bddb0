#include <benchfeed/network/protection.hpp>

#include <benchfeed/figures/plug_patterns.hpp>

namespace benchfeed::network {

using plan::Device;
using plan::Element;
using plan::Kind;
using plan::Plan;

namespace {

void take_functions(Guard& guard, const tables::Catalogue& tables, std::string_view standard) {
    const tables::Table* functions = tables.table("device-functions");
    const auto row = functions ? functions->row_of("standard", standard) : std::nullopt;
    if (!row) {
        guard.known = false;
        return;
    }
    guard.overload = functions->flag(*row, "overload").value_or(false);
    guard.short_circuit = functions->flag(*row, "short_circuit").value_or(false);
    guard.cable_rule = functions->text(*row, "cable_rule");
}

Guard guard_of(const Device& device, const tables::Catalogue& tables, Index element) {
    Guard guard;
    guard.element = element;
    guard.rating = device.rating.value;
    if (!device.standard.known()) {
        guard.known = false;
        // A residual current device without a standard might be one with an overcurrent part or not.
        guard.overload = guard.short_circuit = !device.kind.is(plan::DeviceKind::residual_current_device);
        return guard;
    }
    guard.standard = device.standard.get();
    take_functions(guard, tables, device.standard.word());
    return guard;
}

bool has_plug_fuse(const tables::Catalogue& tables, const Element& element) {
    if (!element.plug.known()) return element.fuse.known();
    const auto pattern = figures::plug_patterns::at(tables, *element.plug);
    return pattern && pattern->fused();
}

/// A plug that nobody names, in an outlet that takes fused ones.
bool may_have_plug_fuse(const Plan& plan, const tables::Catalogue& tables, const Element& element) {
    if (!element.plug.stated_unknown || element.parent == plan::nowhere) return false;
    const auto* outlet = plan[element.parent].as<plan::Outlet>();
    if (!outlet || !outlet->pattern.known()) return false;
    const auto pattern = figures::plug_patterns::at(tables, *outlet->pattern);
    return pattern && pattern->fused();
}

Guard fuse_of(const Element& element, const tables::Catalogue& tables, Index index) {
    Guard guard;
    guard.element = index;
    guard.plug_fuse = true;
    guard.rating = element.fuse.value;
    guard.standard = plan::DeviceStandard::bs_1362;
    take_functions(guard, tables, "BS 1362");
    return guard;
}

}  // namespace

std::vector<Guard> guards_above(const Plan& plan, const tables::Catalogue& tables, Index element,
                                Place place) {
    std::vector<Guard> guards;
    for (Index up = element; up != plan::nowhere; up = plan[up].parent) {
        const Element& here = plan[up];
        const Device* device = here.as<Device>();
        if (device && up != element) guards.push_back(guard_of(*device, tables, up));
        const bool fuse_is_above = up != element || place > Place::fuse;
        if (fuse_is_above && (has_plug_fuse(tables, here) || may_have_plug_fuse(plan, tables, here)))
            guards.push_back(fuse_of(here, tables, up));
    }
    return guards;
}

Search overload_guard(const Plan& plan, const tables::Catalogue& tables, Index element, Place place) {
    Search search;
    for (Guard& guard : guards_above(plan, tables, element, place)) {
        if (guard.known && !guard.overload) continue;
        if (!guard.known || !guard.rating) {
            if (!search.undecided) {
                search.asked = guard.element;
                search.asked_fuse = guard.plug_fuse;
            }
            search.undecided = true;
            continue;
        }
        if (!search.found || *guard.rating < *search.found->rating) search.found = std::move(guard);
    }
    return search;
}

std::optional<Guard> guard_at_far_end(const Plan& plan, const tables::Catalogue& tables, Index element,
                                      Place place) {
    if (place == Place::plug && has_plug_fuse(tables, plan[element]))
        return fuse_of(plan[element], tables, element);
    for (Index down = element;;) {
        if (const Device* device = plan[down].as<Device>()) {
            Guard guard = guard_of(*device, tables, down);
            if (guard.overload && guard.rating) return guard;
        }
        // An outlet or a box with one child is where something may be plugged in or wired on later: it
        // branches.
        const bool passes_all_on = plan[down].kind == Kind::device || plan[down].kind == Kind::switch_;
        if (!passes_all_on || plan[down].children.size() != 1) return std::nullopt;
        down = plan[down].children.front();
        if (has_plug_fuse(tables, plan[down])) return fuse_of(plan[down], tables, down);
    }
}

}  // namespace benchfeed::network
