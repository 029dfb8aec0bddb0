#include "report/cable_words.hpp"

#include <fmt/format.h>

#include "base/quantity_text.hpp"
#include "rules/upstream.hpp"

namespace benchfeed::report {

std::string length_words(const rules::Situation& s, Length length) {
    return s.nec() ? to_text_us(length) : to_text(length);
}

std::string stock_words(const plan::Stock& stock) {
    const std::string cores = stock.cores.known() ? std::to_string(*stock.cores) : "?";
    return fmt::format("{} {}x{}", stock.type.value_or("cable"), cores,
                       stock.section.known() ? section_text(*stock.section) : "?");
}

std::string feed_words(const rules::Situation& s, plan::Index element) {
    const plan::Element& e = s.plan[element];
    std::string out;
    const auto add = [&](const std::string& words) { out += (out.empty() ? "" : ", ") + words; };
    const bool own = e.kind == plan::Kind::load && !(e.cable && e.cable->own.value_or(false));
    if (e.plug.known() && !own) add("plug " + *e.plug);
    if (e.fuse.known()) add("fuse " + to_text(*e.fuse));
    if (const plan::Stock* stock = rules::stock_of(s, element); stock && !own) {
        const auto& length = e.cable->length;
        add((length.known() ? length_words(s, *length) : std::string("? m")) + " " + stock_words(*stock));
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
