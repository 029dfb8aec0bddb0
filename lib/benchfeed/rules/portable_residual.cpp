#include <benchfeed/rules/portable_residual.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/thresholds.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::rules {

namespace {

/// A name that no device and no outlet of the plan has, nor a fragment before.
std::string free_name(const Situation& s, std::size_t count) {
    for (std::size_t number = count + 1;; ++number) {
        std::string name = "portable" + (number == 1 ? "" : "-" + std::to_string(number));
        if (s.plan.find(plan::Kind::device, name) == plan::nowhere &&
            s.plan.find(plan::Kind::outlet, name) == plan::nowhere)
            return name;
    }
}

/// Benches that are plugged into an outlet; a load that is plugged in there is none.
std::vector<Index> plugged_in(const Situation& s, Index outlet) {
    std::vector<Index> benches;
    for (const Index child : s.plan[outlet].children)
        if (s.plan[child].kind != plan::Kind::load && s.plan[child].plug.known()) benches.push_back(child);
    return benches;
}

/// The device with the plug of the bench, and an outlet on it like the one at the wall.
std::string lines_of(const Situation& s, Index outlet, Index bench, const std::string& name, Current rating,
                     Current trip) {
    const plan::Element &wall = s.plan[outlet], &plugged = s.plan[bench];
    std::string out =
        fmt::format("[device.{}]\nfrom     = \"{}\"\nplug     = \"{}\"\n", name, wall.path(), *plugged.plug);
    if (plugged.fuse.known()) out += fmt::format("fuse     = \"{}\"\n", to_text(*plugged.fuse, 6));
    out += fmt::format("kind     = \"residual current device\"\nstandard = \"{}\"\n",
                       s.nec() ? "UL 943" : "IEC 61540");
    out += fmt::format("rating   = \"{}\"\npoles    = 2\nresidual = {{ trip = \"{}\"{} }}\n",
                       to_text(rating, 6), to_text(trip, 6), s.nec() ? "" : ", wave = \"A\"");
    const auto& socket = *wall.as<plan::Outlet>();
    out += fmt::format("\n[outlet.{}]\nfrom    = \"device.{}\"\npattern = \"{}\"\n", name, name,
                       *socket.pattern);
    if (socket.earth.known()) out += fmt::format("earth   = \"{}\"\n", socket.earth.word());
    return out;
}

}  // namespace

std::optional<Remedy> portable_residual(const Situation& s, Index outlet, const ResidualPractice& practice) {
    const auto* socket = s.plan[outlet].as<plan::Outlet>();
    using Of = figures::thresholds;
    const Current most =
        (s.nec() ? Of::portable_residual_us(s.tables) : Of::portable_residual(s.tables)).value;
    const auto hold = Of::coil_hold_portable(s.tables);
    const ContactRating rating = outlet_rating(s, outlet);
    const plan::Conductors conductors = s.plan[outlet].conductors.value_or(plan::Conductors{});
    if (!socket || !socket->pattern.known() || is_floating(s, outlet)) return std::nullopt;
    if (conductors.lines() != 1 || conductors.live() != 2) return std::nullopt;
    if (!rating.current || above(*rating.current, most)) return std::nullopt;
    Remedy remedy{Cost::moderate,
                  fmt::format("a portable {} between {} and the plug of the bench: it protects from there on "
                              "only (one that lets go when volts fail drops out below about {} of them)",
                              s.nec() ? "class A ground-fault interrupter"
                                      : "residual current device of " + to_text(practice.trip.value, 6),
                              s.plan[outlet].words(), hold.written)};
    std::size_t count = 0;
    for (const Index bench : plugged_in(s, outlet)) {
        const std::string name = free_name(s, count++);
        remedy.fragment += (remedy.fragment.empty() ? "" : "\n") +
                           lines_of(s, outlet, bench, name, *rating.current, practice.trip.value);
        remedy.changes.push_back({s.plan[bench].path() + ".from", "outlet." + name});
    }
    return remedy.changes.empty() ? std::nullopt : std::optional(std::move(remedy));
}

}  // namespace benchfeed::rules
