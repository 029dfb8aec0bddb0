// Plugs, inlets, outlets, switches and protective devices to buy.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/advice/part_lists.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::advice {

using rules::Situation;

namespace {

PartLine line_of(PartGroup group, std::string what, Index element, std::string detail = "") {
    PartLine line;
    line.group = group;
    line.what = std::move(what);
    line.count = 1;
    line.places.push_back({element, std::move(detail)});
    return line;
}

std::string rated_words(const rules::ContactRating& rating) {
    return rating.current ? ", " + (rating.written.empty() ? to_text(*rating.current, 6) : rating.written)
                          : "";
}

/// "plug BS 1363, 13 A, with a 13 A fuse".
PartLine plug_line(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    if (!e.plug.known()) {
        PartLine line = line_of(PartGroup::plugs, "plug", i);
        line.choose.push_back("pattern: the outlet into which it goes decides");
        return line;
    }
    PartLine line = line_of(PartGroup::plugs, "plug " + *e.plug + rated_words(rules::plug_rating(s, i)), i);
    if (!rules::fused(s, *e.plug)) return line;
    if (e.fuse.known())
        line.what += ", with a " + to_text(*e.fuse, 6) + " fuse";
    else
        line.choose.push_back("fuse in the plug: the cord and what runs behind it decide");
    return line;
}

/// "cable reel as sold: plug CEE 7/7, H07RN-F 3 x 1.5 mm2, 25 m".
PartLine whole_line(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    const bool reel = e.cable->reel.known() && !e.cable->reel.is(plan::Reel::none);
    std::string what = reel ? "cable reel as sold" : "cord set as sold";
    what += e.plug.known() ? ", plug " + *e.plug : "";
    what += ", " + rules::cable_words(stock_of_cable(s, i));
    if (e.cable->length.known()) what += ", " + rules::length_words(s, *e.cable->length);
    if (const auto* outlet = e.as<plan::Outlet>())
        what += fmt::format(", {} outlet{} {}", outlet->ways.value_or(1),
                            outlet->ways.value_or(1) == 1 ? "" : "s", outlet->pattern.value_or(""));
    PartLine line = line_of(PartGroup::plugs, std::move(what), i);
    if (!e.plug.known()) line.choose.push_back("pattern of the plug: the outlet into which it goes decides");
    if (!e.cable->length.known()) line.choose.push_back("length: measure the route on the floor");
    return line;
}

/// What passes through an element at most in a set of the plan.
struct Carried {
    std::optional<Current> amps;
    bool unknown = false;  ///< a load of which nobody knows the current is not in it
};
Carried carried(const Situation& s, Index element, bool motors_only) {
    rules::Limit limit;
    limit.at = rules::at_element(element);
    limit.reach = {rules::Reach::Kind::through, element};
    limit.weight.motors_only = motors_only;
    Carried most;
    for (const plan::RunSet& set : s.plan.sets) {
        const rules::Evaluated found = rules::evaluate(s, limit, set.loads);
        most.unknown = most.unknown || found.unknown != plan::nowhere;
        if (const auto* amps = std::get_if<Current>(&found.value); amps && (!most.amps || *amps > *most.amps))
            most.amps = *amps;
    }
    return most;
}

std::string motor_rating_words(const MotorRating& rating) {
    if (const auto* amps = std::get_if<Current>(&rating)) return to_text(*amps, 6);
    return digits(in(unit::horsepower, std::get<Horsepower>(rating).power), 3) + " hp";
}

std::string switch_words(const plan::Switch& sw) {
    std::string what(sw.kind.word());
    if (what.empty()) what = "any kind of";
    if (what != "contactor" && what != "emergency-stop" && what != "isolator") what += " switch";
    if (what == "emergency-stop") what = "emergency stop";
    if (sw.poles.known()) what += fmt::format(", {} pole{}", *sw.poles, *sw.poles == 1 ? "" : "s");
    if (sw.rating.known()) what += ", " + to_text(*sw.rating, 6);
    if (sw.motor_rating.known()) what += ", motors " + motor_rating_words(*sw.motor_rating);
    if (sw.no_volt.is(true)) what += ", no-volt release";
    if (sw.coil.known()) what += ", coil " + to_text(*sw.coil, 6);
    if (sw.changeover.is(true)) what += ", changeover";
    if (sw.indicator.is(true) && !sw.indicator.assumed()) what += ", with a lamp";
    if (sw.lockable.is(true)) what += ", lockable";
    if (sw.isolating.is(true)) what += ", marked for isolation";
    if (sw.standard.known()) what += ", " + std::string(sw.standard.word());
    return what;
}

std::string at_least(const Carried& carried, std::string_view of_what) {
    if (!carried.amps || carried.unknown)
        return fmt::format("the amps {}, which the plan does not say", of_what);
    return fmt::format("at least {} {}", to_text(*carried.amps, 3), of_what);
}

void choose_of_switch(const Situation& s, Index i, const Carried& all, const Carried& motors,
                      PartLine& line) {
    const auto& sw = *s.plan[i].as<plan::Switch>();
    const bool turns = motors.unknown || (motors.amps && *motors.amps > Current{});
    if (!sw.poles.known())
        line.choose.push_back(fmt::format("poles: {} would open every live conductor",
                                          s.plan[i].conductors.value_or(plan::Conductors{}).live()));
    if (!sw.rating.known()) line.choose.push_back("rated current: " + at_least(all, "that pass through it"));
    if (!sw.motor_rating.known() && turns)
        line.choose.push_back("motor rating, the figure in brackets or in hp: " +
                              at_least(motors, "of motors that pass through it"));
    const bool coil = sw.no_volt.is(true) || sw.kind.is(plan::SwitchKind::contactor);
    if (coil && !sw.coil.known())
        line.choose.push_back("volts of the coil: those of the conductors that feed it");
    if (sw.no_volt.stated_unknown)
        line.choose.push_back("no-volt release: what restarts by itself behind it");
    if (!sw.standard.known()) line.choose.push_back("mark of the product standard: it has to carry one");
}

std::string device_words(const plan::Device& device) {
    std::string what(device.kind.word());
    if (device.standard.known()) what += " " + std::string(device.standard.word());
    std::string rating(device.curve.word());
    if (device.rating.known()) rating += (rating.empty() ? "" : " ") + to_text(*device.rating, 6);
    if (!rating.empty()) what += ", " + rating;
    if (device.poles.known())
        what += fmt::format(", {} pole{}", *device.poles, *device.poles == 1 ? "" : "s");
    if (device.breaking.known()) what += ", breaks " + to_text(*device.breaking, 6);
    if (!device.residual) return what;
    what += ", residual current";
    if (device.residual->trip.known()) what += " " + to_text(*device.residual->trip, 6);
    if (device.residual->wave.known()) what += fmt::format(", type {}", device.residual->wave.word());
    if (device.residual->delay.is(plan::Delay::s)) what += ", delayed (S)";
    return what;
}

void choose_of_device(const Situation& s, Index i, PartLine& line) {
    const auto& device = *s.plan[i].as<plan::Device>();
    const bool overcurrent = !device.kind.is(plan::DeviceKind::residual_current_device);
    if (!device.rating.known())
        line.choose.push_back("rating: the weakest cable and outlet behind it decide");
    if (overcurrent && device.curve.stated_unknown)
        line.choose.push_back("letter B, C or D: the start currents decide");
    const auto& fault = s.plan.supply_of(i).fault_current;
    if (overcurrent && !device.breaking.known())
        line.choose.push_back("short-circuit capacity: " +
                              (fault.known()
                                   ? "at least the " + to_text(*fault, 3) + " of the supply"
                                   : std::string("at least the highest fault current of the supply")));
    if (device.residual && !device.residual->trip.known())
        line.choose.push_back("residual current: the rooms and outlets behind it decide");
    if (device.residual && !device.residual->wave.known() && !s.nec())
        line.choose.push_back("type of residual current: electronics behind it decide");
}

}  // namespace

void add_plugs(const Situation& s, PartLines& lines) {
    std::vector<Current> fuses;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& e = s.plan[i];
        const bool own_load = e.kind == plan::Kind::load && !rules::as_sold(s, i) && !s.network.house[i];
        if (!is_bought(s, i) && !own_load) continue;
        if (comes_whole(s, i)) {
            lines.add(whole_line(s, i));
        } else if (e.plug.written()) {
            lines.add(plug_line(s, i));
        }
        if (e.plug.written() && e.fuse.known() &&
            std::find(fuses.begin(), fuses.end(), *e.fuse) == fuses.end())
            fuses.push_back(*e.fuse);
        if (e.inlet.written()) {
            PartLine line =
                line_of(PartGroup::plugs,
                        "inlet " + e.inlet.value_or("") + rated_words(rules::inlet_rating(s, i)), i);
            line.choose.push_back("connector on the lead: the one that fits this inlet");
            if (!e.inlet.known()) line.choose.push_back("pattern of the inlet: the amps through it decide");
            lines.add(std::move(line));
        }
    }
    for (const Current& fuse : fuses) {
        PartLine line;
        line.group = PartGroup::plugs;
        line.what = "spare fuse of " + to_text(fuse, 6) + " for a plug";
        line.count = 1;
        lines.add(std::move(line));
    }
}

void add_outlets(const Situation& s, PartLines& lines) {
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* outlet = s.plan[i].as<plan::Outlet>();
        if (!outlet || !is_bought(s, i) || comes_whole(s, i)) continue;
        const rules::ContactRating rating = rules::outlet_rating(s, i);
        const bool portable = s.plan[i].plug.written();
        std::string what = fmt::format("{}outlet {}{}", portable ? "portable " : "",
                                       outlet->pattern.value_or("of unknown pattern"), rated_words(rating));
        const int ways = outlet->ways.value_or(1);
        if (ways > 1) what += fmt::format(", {} ways", ways);
        if (outlet->ip.known()) what += ", " + *outlet->ip;
        PartLine line = line_of(PartGroup::outlets, std::move(what), i);
        if (!rating.current) line.choose.push_back("rated current: what is plugged in decides");
        if (!outlet->ip.known() && s.plan.site.dust.is(true))
            line.choose.push_back("flap or cover: wood dust gets into an open outlet (IP4X keeps it out)");
        lines.add(std::move(line));
    }
}

void add_switches(const Situation& s, PartLines& lines) {
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* sw = s.plan[i].as<plan::Switch>();
        if (!sw || !is_bought(s, i)) continue;
        const Carried all = carried(s, i, false), motors = carried(s, i, true);
        std::string detail;
        if (all.amps && !all.unknown) detail = to_text(*all.amps, 3) + " pass";
        if (!detail.empty() && motors.amps && *motors.amps > Current{})
            detail += ", " + to_text(*motors.amps, 3) + " of motors";
        PartLine line = line_of(PartGroup::switches, switch_words(*sw), i, std::move(detail));
        choose_of_switch(s, i, all, motors, line);
        lines.add(std::move(line));
    }
}

void add_devices(const Situation& s, PartLines& lines) {
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* device = s.plan[i].as<plan::Device>();
        if (!device || !is_bought(s, i)) continue;
        PartLine line = line_of(PartGroup::devices, device_words(*device), i);
        choose_of_device(s, i, line);
        const Index parent = s.plan[i].parent;
        if (parent != plan::nowhere && s.plan[parent].kind == plan::Kind::supply)
            line.notes.push_back(
                "at the panel: of a make that the panel is listed for, fitted by a licensed electrician");
        lines.add(std::move(line));
    }
}

}  // namespace benchfeed::advice
