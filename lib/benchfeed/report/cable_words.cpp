#include <benchfeed/report/cable_words.hpp>

#include <fmt/format.h>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::report {

std::string feed_words(const rules::Situation& s, plan::Index element) {
    const plan::Element& e = s.plan[element];
    std::string out;
    const auto add = [&](const std::string& words) { out += (out.empty() ? "" : ", ") + words; };
    const bool own = rules::as_sold(s, element);
    if (e.plug.known() && !own) add("plug " + *e.plug);
    if (e.fuse.known()) add("fuse " + to_text(*e.fuse));
    if (const plan::Stock* stock = rules::stock_of(s, element); stock && !own) {
        const auto& length = e.cable->length;
        add((length.known() ? rules::length_words(s, *length) : std::string("? m")) + " " +
            rules::cable_words(*stock));
        const auto* sw = e.as<plan::Switch>();
        if (sw && sw->wiring.is(plan::Wiring::loop)) out += ", out and back";
        if (sw && sw->wiring.is(plan::Wiring::control)) out += ", control";
    }
    if (e.inlet.known()) add("inlet " + *e.inlet);
    return out;
}

std::string device_words(const plan::Device& device) {
    std::string out(device.kind.word());
    if (device.curve.known()) out += " " + std::string(device.curve.word());
    if (device.rating.known()) out += " " + to_text(*device.rating);
    if (device.residual)
        out += ", " +
               (device.residual->trip.known() ? to_text(*device.residual->trip) : std::string("? mA")) +
               " residual";
    return out;
}

}  // namespace benchfeed::report
