#include <benchfeed/network/ampacity.hpp>

#include <algorithm>

#include <benchfeed/figures/cable_constructions.hpp>
#include <benchfeed/network/conductor.hpp>

namespace benchfeed::network {

using plan::Element;
using plan::Plan;
using Cables = figures::cable_constructions;
using Lacks = Ampacity::Lacks;

namespace {

const plan::Field<Temperature>& ambient_of(const Plan& plan, const plan::Cable& cable) {
    return cable.ambient.known() ? cable.ambient : plan.head.ambient;
}

/// The field of a plan that tells what is lacking.
std::string path_of(const Plan& plan, Index element, Lacks lacks) {
    const plan::Cable& cable = *plan[element].cable;
    const plan::Stock& stock = plan.stocks[cable.stock_index];
    const std::string at_cable = plan[element].path() + ".cable.";
    switch (lacks) {
        case Lacks::nothing:
            break;
        case Lacks::construction:
            return stock.path() + ".type";
        case Lacks::section:
            return stock.path() + ".section";
        case Lacks::metal:
            return stock.path() + ".conductor";
        case Lacks::method:
            return at_cable + "method";
        case Lacks::ambient:
            return ambient_of(plan, cable).known() || cable.ambient.stated_unknown ? at_cable + "ambient"
                                                                                   : "plan.ambient";
        case Lacks::grouping:
            return at_cable + "grouped";
    }
    return "";
}

electrical::Installation installation_of(const Plan& plan, const Network& network, Index element,
                                         electrical::Wire wire) {
    const plan::Cable& cable = *plan[element].cable;
    electrical::Installation found;
    found.wire = std::move(wire);
    found.loaded = loaded_conductors(plan, element);
    if (cable.method.known()) found.method = cable.method.get();
    found.ambient = ambient_of(plan, cable).value;
    found.circuits = cable.grouped.value_or(1);
    found.ambient_credit = plan.local.ambient_credit.is(true);
    found.four_loaded = network.practice.four_loaded;
    return found;
}

Ampacity refused(std::string path, std::string why) {
    Ampacity found;
    found.missing = std::move(path);
    found.why = std::move(why);
    return found;
}

}  // namespace

bool ampacity_needs_method(const Plan& plan, const tables::Catalogue& tables, Index element) {
    const auto& cable = plan[element].cable;
    if (!cable || cable->stock_index == plan::nowhere) return false;
    const auto row = Cables::at(tables, plan.stocks[cable->stock_index].type.value_or(""));
    return row && row->use() == Cables::Use::fixed && row->family() == Cables::Family::iec;
}

int loaded_conductors(const Plan& plan, Index index) {
    const Element& element = plan[index];
    const plan::Conductors used = element.conductors.value_or(plan::Conductors{});
    const auto* sw = element.as<plan::Switch>();
    if (sw && sw->wiring.is(plan::Wiring::loop)) return 2 * sw->poles.value_or(1);
    // Two lines and neutral: the neutral counts unless it carries only the difference, which nobody promises.
    return std::clamp(used.live(), 2, 3);
}

Ampacity ampacity(const Plan& plan, const tables::Catalogue& tables, const Network& network, Index element) {
    const Element& e = plan[element];
    if (!e.cable || e.cable->stock_index == plan::nowhere)
        return refused(e.path() + ".cable", "nobody said what cable it is");
    const plan::Stock& stock = plan.stocks[e.cable->stock_index];
    if (!stock.type.known() || !stock.section.known())
        return refused(stock.path() + ".type", "its type or section is not known");
    const auto wire = wire_of(stock);
    if (!wire) {
        Ampacity found = refused(stock.path() + ".conductor", "its metal is not known");
        if (const auto row = Cables::at(tables, *stock.type)) found.cord = row->use() == Cables::Use::cord;
        return found;
    }
    Ampacity found = electrical::ampacity(installation_of(plan, network, element, *wire),
                                          {tables, network.practice.family});
    if (found.lacks != Lacks::nothing) found.missing = path_of(plan, element, found.lacks);
    found.ambient_assumed = ambient_of(plan, *e.cable).assumed();
    return found;
}

}  // namespace benchfeed::network
