// Fields that cannot both be true. Both places are shown.
#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/plan/found.hpp>
#include <benchfeed/plan/reading.hpp>

namespace benchfeed::plan {

namespace {

const Words::DeviceFunction* function_of(const Words& words, const Device& device) {
    if (!device.standard.known()) return nullptr;
    for (const auto& f : words.devices)
        if (f.standard == device.standard.get()) return &f;
    return nullptr;
}

Conductors live_part(Conductors opened) {
    opened.mask = static_cast<std::uint8_t>(opened.mask & ~(1u << static_cast<unsigned>(Conductor::pe)));
    return opened;
}
/// A pole opens one conductor, be it the protective one.
int poles_of(Conductors opened) {
    return opened.live() + opened.has(Conductor::pe);
}

class Contradictions {
public:
    Contradictions(Context& context, const Plan& plan) : context_(context), plan_(plan) {}

    void run() {
        for (const Element& e : plan_.elements) {
            look_at_feed(e);
            if (const auto* supply = e.as<Supply>()) look_at(e, *supply);
            if (const auto* device = e.as<Device>()) look_at(e, *device);
            if (const auto* outlet = e.as<Outlet>()) look_at(e, *outlet);
            if (const auto* sw = e.as<Switch>()) look_at(e, *sw);
            if (const auto* load = e.as<Load>()) look_at(e, *load);
        }
        for (const Stock& stock : plan_.stocks) look_at(stock);
        look_at_head();
        for (const Accept& accept : plan_.accepts) look_at(accept);
        for (const MeterReading& reading : plan_.readings) look_at(reading);
    }

private:
    void both(const std::string& path, std::string message, const Span& a, std::string text_a, const Span& b,
              std::string text_b, std::string help = "") {
        context_.fault(path, std::move(message), {{a, std::move(text_a)}, {b, std::move(text_b)}},
                       std::move(help));
    }

    [[nodiscard]] bool is_cord(Index stock) const {
        if (stock == nowhere || !plan_.stocks[stock].type.known()) return false;
        for (const auto& c : context_.words.constructions)
            if (c.name == *plan_.stocks[stock].type) return c.cord;
        return false;
    }

    void look_at_feed(const Element& e) {
        if (e.parent != nowhere && e.plug.written() && plan_[e.parent].kind != Kind::outlet)
            both(e.path() + ".plug",
                 fmt::format("{} has a plug, but {} is no outlet", e.path(), plan_[e.parent].path()),
                 e.plug.span, "a plug", e.from.span, "goes into this", "no plug, or from an outlet");
        if (e.fuse.written() && e.plug.known() && !fused(*e.plug))
            both(e.path() + ".fuse", fmt::format("a plug of pattern {} has no fuse", *e.plug), e.fuse.span,
                 "a fuse", e.plug.span, "in this plug", "no fuse");
        if (e.fuse.written() && !e.plug.written() && e.kind != Kind::load)
            both(e.path() + ".fuse", "a fuse in a plug, but there is no plug", e.fuse.span, "", e.header, "",
                 "plug as well");
        if (e.plug.written() && e.plug.known() && !is_plug(*e.plug))
            context_.fault(e.path() + ".plug", fmt::format("{} is an outlet, not a plug", *e.plug),
                           {{e.plug.span, ""}}, "the plug that goes into it");
        if (e.inlet_rating.written() && !e.inlet.written())
            both(e.path() + ".inlet_rating", "a mark on an inlet, but there is no inlet", e.inlet_rating.span,
                 "", e.header, "", "inlet as well");
        if (!e.cable) return;
        const Cable& c = *e.cable;
        const bool cord = is_cord(c.stock_index);
        // The sheath alone comes off for more than this at both ends: mm was written for m.
        if (c.length.known() && *c.length < 0.05 * unit::metre)
            context_.fault(e.path() + ".cable.length", "a cable this short has no room for its two ends",
                           {{c.length.span, ""}}, "the length in m");
        if (c.method.written() && cord)
            both(e.path() + ".cable.method",
                 fmt::format("a cord has no method of installation: stock {} is a {}", *c.stock,
                             *plan_.stocks[c.stock_index].type),
                 c.method.span, "a method", plan_.stocks[c.stock_index].type.span, "a cord", "no method");
        if (c.ring.is(true) && e.plug.written())
            both(e.path() + ".cable.ring", "a ring has no plug", c.ring.span, "a ring", e.plug.span,
                 "a plug");
        const bool on_reel = c.reel.stated_unknown || c.reel.is(Reel::wound) || c.reel.is(Reel::unwound);
        if (c.wound_limit.written() && !on_reel)
            both(e.path() + ".cable.wound_limit", "a limit of a reel, but there is no reel",
                 c.wound_limit.span, "", c.span, "", "reel = \"wound\" or \"unwound\"");
        if (c.unwound_limit.written() && !on_reel)
            both(e.path() + ".cable.unwound_limit", "a limit of a reel, but there is no reel",
                 c.unwound_limit.span, "", c.span, "", "reel = \"wound\" or \"unwound\"");
        if (on_reel && c.stock_index != nowhere && !cord && c.reel.written())
            both(e.path() + ".cable.reel", "only a cord can be on a reel", c.reel.span, "a reel",
                 plan_.stocks[c.stock_index].type.span, "no cord");
        if (c.own.written() && e.kind != Kind::load)
            context_.fault(e.path() + ".cable.own",
                           "own belongs to the cord of a load: every other cable is the builder's",
                           {{c.own.span, ""}}, "no own");
    }

    /// What a generator gives is no fact of a public supply: its kind was forgotten.
    void look_at(const Element& e, const Supply& supply) {
        const auto of_a_generator = [&](const auto& field, std::string_view key) {
            if (!field.written() || !supply.source.is(SupplySource::public_network)) return;
            both(fmt::format("{}.{}", e.path(), key),
                 fmt::format("{} belongs to a generator or an inverter", key), field.span, "", e.header,
                 "a public supply", "source = \"generator\" or \"inverter\"");
        };
        of_a_generator(supply.power, "power");
        of_a_generator(supply.current, "current");
        of_a_generator(supply.start_power, "start_power");
        if (!supply.power.known() || !supply.start_power.known()) return;
        const bool less = std::visit(
            [](const auto& hours, const auto& start) {
                if constexpr (!std::is_same_v<decltype(hours), decltype(start)>)
                    return false;  // W and VA cannot be compared
                else if constexpr (std::is_same_v<decltype(hours), const Power&>)
                    return start < hours;
                else
                    return start.size < hours.size;
            },
            *supply.power, *supply.start_power);
        if (less)
            both(e.path() + ".start_power", "it gives less for a start than for hours",
                 supply.start_power.span, "", supply.power.span, "");
    }

    [[nodiscard]] bool fused(const std::string& pattern) const {
        return std::any_of(context_.words.patterns.begin(), context_.words.patterns.end(),
                           [&](const auto& p) { return p.name == pattern && p.fused; });
    }
    [[nodiscard]] bool is_plug(const std::string& pattern) const {
        return std::any_of(context_.words.patterns.begin(), context_.words.patterns.end(),
                           [&](const auto& p) { return p.name == pattern && p.plug; });
    }
    [[nodiscard]] bool is_outlet(const std::string& pattern) const {
        return std::any_of(context_.words.patterns.begin(), context_.words.patterns.end(),
                           [&](const auto& p) { return p.name == pattern && p.outlet; });
    }

    void look_at(const Element& e, const Device& device) {
        const auto* function = function_of(context_.words, device);
        if (function && device.kind.written() && function->kind != device.kind.get())
            both(e.path() + ".standard",
                 fmt::format("{} is no standard of a {}", device.standard.word(), device.kind.word()),
                 device.standard.span, "", device.kind.span, "",
                 fmt::format("kind = \"{}\"",
                             words_of<DeviceKind>()[static_cast<std::size_t>(function->kind)]));
        if (function && device.curve.written() && !function->curve)
            both(e.path() + ".curve", fmt::format("{} has no curve letter", device.standard.word()),
                 device.curve.span, "", device.standard.known() ? device.standard.span : e.header, "",
                 "no curve");
        if (device.opens.known() && e.conductors.known() && !live_part(*device.opens).within(*e.conductors))
            both(e.path() + ".opens",
                 fmt::format("{} cannot open {}: it has {}", e.path(), conductors_text(*device.opens),
                             conductors_text(*e.conductors)),
                 device.opens.span, "", e.header, "");
        if (device.poles.written() && e.conductors.known() && *device.poles > e.conductors->live())
            both(e.path() + ".poles",
                 fmt::format("{} poles for {} live conductors", *device.poles, e.conductors->live()),
                 device.poles.span, "", e.header, "");
        if (e.plug.written() && device.kind.is(DeviceKind::fuse) && device.rating.known() &&
            *device.rating <= 0.0 * unit::ampere)
            context_.fault(e.path() + ".rating", "a fuse of 0 A", {{device.rating.span, ""}});
    }

    void look_at(const Element& e, const Outlet& outlet) {
        if (outlet.pattern.known() && !is_outlet(*outlet.pattern))
            context_.fault(e.path() + ".pattern", fmt::format("{} is a plug, not an outlet", *outlet.pattern),
                           {{outlet.pattern.span, ""}}, "the outlet that takes it");
        std::size_t others = 0;
        const Element* last = nullptr;
        for (const Index child : e.children) {
            const Element& c = plan_[child];
            if (c.kind == Kind::load || !c.plug.written()) continue;
            ++others;
            last = &c;
        }
        // Loads take turns; what is plugged in for good does not.
        if (last && others > static_cast<std::size_t>(outlet.ways.value_or(1)))
            both(e.path() + ".ways",
                 fmt::format("{} plugs in {} way{} of {}", others, outlet.ways.value_or(1),
                             outlet.ways.value_or(1) == 1 ? "" : "s", e.path()),
                 outlet.ways.written() ? outlet.ways.span : e.header, "", last->plug.span, "one too many",
                 "more ways, or another outlet");
    }

    void look_at(const Element& e, const Switch& sw) {
        if (sw.opens.known() && sw.poles.known() && poles_of(*sw.opens) != *sw.poles && sw.opens.written() &&
            sw.poles.written())
            both(e.path() + ".opens",
                 fmt::format("it opens {}, which is {} and not {} poles", conductors_text(*sw.opens),
                             poles_of(*sw.opens), *sw.poles),
                 sw.opens.span, "", sw.poles.span, "");
        if (sw.opens.known() && e.conductors.known() && !live_part(*sw.opens).within(*e.conductors))
            both(e.path() + ".opens",
                 fmt::format("{} cannot open {}: it has {}", e.path(), conductors_text(*sw.opens),
                             conductors_text(*e.conductors)),
                 sw.opens.span, "", e.header, "");
        if (sw.poles.written() && sw.poles.known() && e.conductors.known() &&
            *sw.poles > e.conductors->live() + (sw.opens.known() && sw.opens->has(Conductor::pe)) &&
            !sw.changeover.is(true))
            both(e.path() + ".poles",
                 fmt::format("{} poles for {} live conductors", *sw.poles, e.conductors->live()),
                 sw.poles.span, "", e.header, "");
        const auto* amps = sw.motor_rating.known() ? std::get_if<Current>(&*sw.motor_rating) : nullptr;
        if (amps && sw.rating.known() && *amps > *sw.rating)
            both(e.path() + ".motor_rating",
                 fmt::format("motor_rating ({}) is above rating ({})", to_text(*amps), to_text(*sw.rating)),
                 sw.motor_rating.span, "", sw.rating.span, "", "16(4) A is rating 16 A, motor_rating 4 A");
        if (sw.wiring.is(Wiring::loop) && sw.wiring.written() && !e.cable)
            both(e.path() + ".wiring", "out and back needs a cable to the switch", sw.wiring.span, "",
                 e.header, "no cable");
    }

    void look_at(const Element& e, const Load& load) {
        if (e.parent != nowhere && plan_[e.parent].kind == Kind::outlet && !e.plug.known() &&
            e.plug.written())
            return;
        if (!load.plate) return;
        const Plate& p = *load.plate;
        if (p.horsepower_kind.written() && !p.horsepower.known())
            context_.fault(e.path() + ".plate.horsepower_kind", "a kind of horsepower without a horsepower",
                           {{p.horsepower_kind.span, ""}}, "horsepower as well");
        if (p.power_in.known() && p.power_out.known() && *p.power_out > *p.power_in)
            both(e.path() + ".plate.power_out", "more comes out at the shaft than goes in", p.power_out.span,
                 to_text(*p.power_out), p.power_in.span, to_text(*p.power_in));
        if (p.current.known() && p.start_current.known() && *p.start_current < *p.current)
            both(e.path() + ".plate.start_current", "it starts with less than it runs with",
                 p.start_current.span, "", p.current.span, "");
        if (p.current.known() && p.power_in.known() && p.voltage.known() && e.conductors.known() &&
            e.conductors->live() == 2) {
            const Power apparent = *p.current * p.voltage->high;
            if (*p.power_in > apparent * 1.1)
                both(e.path() + ".plate.power_in",
                     fmt::format("{} is more than {} times {}", to_text(*p.power_in), to_text(*p.current),
                                 to_text(p.voltage->high)),
                     p.power_in.span, "", p.current.span, "", "the figures as the plate prints them");
        }
        if (load.starts_with_index != nowhere && &plan_[load.starts_with_index] == &e)
            context_.fault(e.path() + ".starts_with", "a load cannot start itself",
                           {{load.starts_with.span, ""}}, "self_starting = true");
        if (p.code_letter.known() &&
            (p.code_letter->size() != 1 ||
             std::string_view("ABCDEFGHJKLMNPRSTUV").find(*p.code_letter) == std::string_view::npos))
            context_.fault(e.path() + ".plate.code_letter",
                           fmt::format("there is no code letter \"{}\"", *p.code_letter),
                           {{p.code_letter.span, ""}}, "one letter from A to V");
    }

    void look_at(const Stock& stock) {
        if (stock.cores.known() && stock.protective.is(true) && stock.protective.written() &&
            *stock.cores < 2)
            both(stock.path() + ".cores", "one core cannot be line and protective conductor",
                 stock.cores.span, "", stock.protective.span, "");
        if (stock.section.known() && stock.protective_section.known() && stock.protective_section.written() &&
            stock.protective.is(false))
            both(stock.path() + ".protective_section", "a section for a protective core that is not there",
                 stock.protective_section.span, "", stock.protective.span, "");
    }

    void look_at_head() {
        for (const auto* date : {&plan_.head.date})
            if (date->known() && !is_date(**date))
                context_.fault("plan.date", fmt::format("\"{}\" is no date", **date), {{date->span, ""}},
                               "\"2026-05-02\"");
        for (const Accept& accept : plan_.accepts)
            if (accept.until.known() && !is_date(*accept.until))
                context_.fault("accept.until", fmt::format("\"{}\" is no date", *accept.until),
                               {{accept.until.span, ""}}, "\"2027-06-01\"");
        for (const Change& change : plan_.changes)
            if (change.date.known() && !is_date(*change.date))
                context_.fault("change.date", fmt::format("\"{}\" is no date", *change.date),
                               {{change.date.span, ""}}, "\"2026-05-02\"");
        const auto& drop = plan_.local.voltage_drop_limit;
        if (drop.known() && *drop > 0.08 * unit::one)
            context_.fault("local.voltage_drop_limit", "a local drop limit goes up to 8 %", {{drop.span, ""}},
                           "\"8 %\" or less");
    }

    void look_at(const Accept& accept) {
        if (!accept.at.known()) return;
        const bool there = *accept.at == "plan" ||
                           std::any_of(plan_.elements.begin(), plan_.elements.end(),
                                       [&](const Element& e) { return e.path() == *accept.at; }) ||
                           std::any_of(plan_.stocks.begin(), plan_.stocks.end(),
                                       [&](const Stock& s) { return s.path() == *accept.at; }) ||
                           std::any_of(plan_.metals.begin(), plan_.metals.end(),
                                       [&](const MetalPart& m) { return "metal." + m.name == *accept.at; }) ||
                           accept.at->starts_with("together.");
        if (!there)
            context_.fault("accept.at", fmt::format("there is no \"{}\" in the plan", *accept.at),
                           {{accept.at.span, ""}}, "kind.NAME");
    }

    [[nodiscard]] bool has_residual_part(const Device& device) const {
        const auto* function = function_of(context_.words, device);
        return device.residual || device.kind.is(DeviceKind::residual_current_device) ||
               (function && function->residual);
    }

    void look_at(const MeterReading& reading) {
        if (reading.date.known() && !is_date(*reading.date))
            context_.fault("reading.date", fmt::format("\"{}\" is no date", *reading.date),
                           {{reading.date.span, ""}}, "\"2026-05-02\"");
        if (!reading.test.known()) return;
        const Test test = reading.test.get();
        if (reading.element != nowhere && of_a_residual_device(test) &&
            !has_residual_part(*plan_[reading.element].as<Device>()))
            context_.fault("reading.at",
                           fmt::format("{} has no residual part that could be tested", *reading.at),
                           {{reading.at.span, ""}}, "a device with residual = { trip = \"30 mA\" }");
        // Only of a loop are both limits known: that of cold conductors, and that of warm ones.
        if (reading.cold.is(false) && test != Test::loop)
            context_.fault("reading.cold", fmt::format("\"{}\" is always read cold", reading.test.word()),
                           {{reading.cold.span, ""}}, "cold = false is for \"loop\" alone");
        if (!reading.found.known()) return;
        const auto found = read_found(*reading.found);
        if (found && fits(test, *found)) return;
        context_.fault("reading.found",
                       fmt::format("\"{}\" is no reading of \"{}\"", *reading.found, reading.test.word()),
                       {{reading.found.span, ""}}, std::string(such_as(test)));
    }

    Context& context_;
    const Plan& plan_;
};

}  // namespace

bool is_date(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    for (const std::size_t i : {0u, 1u, 2u, 3u, 5u, 6u, 8u, 9u})
        if (text[i] < '0' || text[i] > '9') return false;
    const int month = (text[5] - '0') * 10 + (text[6] - '0'), day = (text[8] - '0') * 10 + (text[9] - '0');
    return month >= 1 && month <= 12 && day >= 1 && day <= 31;
}

void find_contradictions(Context& context, Plan& plan) {
    Contradictions(context, plan).run();
}

}  // namespace benchfeed::plan
