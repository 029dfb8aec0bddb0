// Every row of the format's field table, once.
#include "plan/fields.hpp"

#include "base/quantity_text.hpp"

namespace benchfeed::plan {

namespace {

using enum Absent;

/// Short hand for a row: key, absent, fallback, unknown accepted, meaning, where to look.
FieldInfo row(std::string_view key, Absent absent, std::string_view fallback, bool unknown,
              std::string_view meaning, std::string_view look = "",
              Vocabulary vocabulary = Vocabulary::none) {
    return {key, absent, fallback, unknown, meaning, look, vocabulary};
}

template <class E>
FieldRef choice(Choice<E>& field) {
    return ChoiceRef{&field, words_of<E>()};
}

void add_feed(std::vector<Slot>& s, Element& e) {
    if (e.kind != Kind::supply)
        s.push_back(
            {row("from", error, "", false, "where the power comes from", "", Vocabulary::feeder), &e.from});
    s.push_back({row("label", plain, "name", false, "any words"), &e.label});
    s.push_back({row("like", nothing, "", false,
                     "take every field that is not written here from this element", "", Vocabulary::like),
                 &e.like});
    if (e.kind == Kind::supply) return;
    s.push_back({row("conductors", plain, "those that fit", false, "live conductors used"), &e.conductors});
    s.push_back({row("plug", e.kind == Kind::load ? assume : nothing, "what fits", true,
                     "pattern of the plug at the supply end", "moulded into the plug", Vocabulary::plug),
                 &e.plug});
    s.push_back(
        {row("fuse", nothing, "", true, "fuse in that plug", "printed on the fuse: open the plug"), &e.fuse});
    s.push_back({row("inlet", nothing, "", true, "pattern of the inlet where a loose lead ends",
                     "the shape of its pins", Vocabulary::pattern),
                 &e.inlet});
    s.push_back(
        {row("existing", plain, "false", false, "already there: not bought, not resized"), &e.existing});
}

void add(std::vector<Slot>& s, Supply& v) {
    s.push_back({row("system", error, "", false, "conductors and nominal voltage"), choice(v.system)});
    s.push_back({row("frequency", plain, "of the region", false, "frequency"), &v.frequency});
    s.push_back(
        {row("source", plain, "public", false, "public supply, generator or inverter"), choice(v.source)});
    s.push_back({row("circuit", assume, "shared", true, "one outlet alone on its circuit, or several",
                     "switch it off and walk round"),
                 choice(v.circuit)});
    s.push_back({row("separate_from", nothing, "", true, "supplies with a device and a neutral of their own",
                     "switch one off: is the other still live?"),
                 &v.separate_from});
    s.push_back(
        {row("voltage", assume, "nominal", true, "line to neutral, measured", "a meter at the outlet"),
         &v.voltage});
    s.push_back({row("earthing", ask, "", true, "earthing system",
                     "the supply bill, the distributor or an electrician"),
                 choice(v.earthing)});
    s.push_back({row("loop_impedance", ask, "", true, "line to protective conductor at the panel",
                     "an electrician's meter"),
                 &v.loop_impedance});
    s.push_back(
        {row("line_impedance", ask, "", true, "line to neutral at the panel", "an electrician's meter"),
         &v.line_impedance});
    s.push_back({row("fault_current", ask, "", true, "highest at the panel",
                     "an electrician's meter, or the distributor"),
                 &v.fault_current});
}

void add(std::vector<Slot>& s, Device& v) {
    s.push_back({row("kind", error, "", false, "kind of device"), choice(v.kind)});
    s.push_back({row("standard", assume, "by region, kind and residual part", true, "product standard",
                     "printed on its front or side"),
                 choice(v.standard)});
    s.push_back({row("curve", nothing, "", true, "letter before the amps",
                     "printed before the amps on its handle: B16"),
                 choice(v.curve)});
    s.push_back({row("rating", ask, "", true, "rated current", "printed on its handle or front"), &v.rating});
    s.push_back(
        {row("breaking", ask, "", true, "short-circuit capacity", "printed in a frame: 6000"), &v.breaking});
    s.push_back({row("poles", plain, "lines used", false, "poles"), &v.poles});
    s.push_back({row("tied", plain, "true", true, "poles open together", "one common handle?"), &v.tied});
    s.push_back({row("reset", plain, "hand", true, "closes again by hand or by itself", "the manual"),
                 choice(v.reset)});
    s.push_back({row("opens", plain, "the first poles", true, "conductors that open", "count the terminals"),
                 &v.opens});
    s.push_back({row("other_load", assume, "0 A", true, "through it, besides what the plan shows",
                     "switch it off and walk round"),
                 &v.other_load});
}

void add(std::vector<Slot>& s, Outlet& v) {
    s.push_back({row("pattern", error, "", false, "pattern", "", Vocabulary::outlet), &v.pattern});
    s.push_back({row("ways", plain, "1", false, "plugs that fit"), &v.ways});
    s.push_back({row("rating", plain, "of the pattern", false, "rated current, only lower"), &v.rating});
    s.push_back({row("limit", nothing, "", true, "printed at the socket of a load: what may be plugged in",
                     "beside the socket, or in the manual"),
                 &v.limit});
    s.push_back(
        {row("earth", ask, "", true, "protective contact", "a tester at the outlet"), choice(v.earth)});
    s.push_back({row("faces", assume, "side", true, "which way it faces", "the sketch"), choice(v.faces)});
    s.push_back({row("ip", nothing, "", true, "IP code", "printed on it"), &v.ip});
}

void add(std::vector<Slot>& s, Box& v) {
    s.push_back({row("ip", nothing, "", true, "IP code", "printed on it"), &v.ip});
    s.push_back({row("material", ask, "", true, "plastic or metal", "the box"), choice(v.material)});
    s.push_back({row("volume", nothing, "", true, "volume", "stamped inside the box"), &v.volume});
    s.push_back({row("terminals", ask, "", true, "kind of terminal", "the pack"), choice(v.terminals)});
    s.push_back(
        {row("clamps", nothing, "", true, "cable clamps inside or outside", "the box"), choice(v.clamps)});
    s.push_back({row("ways", nothing, "", true, "ways of one terminal bank", "the pack"), &v.ways});
}

void add(std::vector<Slot>& s, Switch& v) {
    s.push_back({row("rating", ask, "", true, "rated current", "stamped on its side"), &v.rating});
    s.push_back({row("motor_rating", nothing, "", true, "motor current or horsepower as printed",
                     "the figure in brackets, or hp"),
                 &v.motor_rating});
    s.push_back({row("poles", ask, "", true, "poles", "count the terminals: two for each pole"), &v.poles});
    s.push_back({row("no_volt", plain, "false", true, "drops out when supply fails and stays out",
                     "pull the plug while it is on: does it come back?"),
                 &v.no_volt});
    s.push_back({row("changeover", plain, "false", true, "each element fed by it is one of its positions",
                     "its front"),
                 &v.changeover});
    s.push_back(
        {row("kind", assume, "rocker; US snap", true, "kind of switch", "its front"), choice(v.kind)});
    s.push_back({row("coil", nothing, "", true, "volts of the coil", "printed at the coil"), &v.coil});
    s.push_back({row("indicator", assume, "false", true, "has a lamp, which needs a neutral", "its front"),
                 &v.indicator});
    s.push_back(
        {row("isolating", nothing, "", true, "contact gap marked for isolation", "its plate"), &v.isolating});
    s.push_back({row("lockable", nothing, "", true, "can be locked off", "its handle"), &v.lockable});
    s.push_back(
        {row("standard", ask, "", true, "product standard", "printed on its side"), choice(v.standard)});
    s.push_back({row("opens", plain, "the first poles", true, "conductors that open", "count the terminals"),
                 &v.opens});
    s.push_back({row("wiring", plain, "in line", false, "how it is wired"), choice(v.wiring)});
}

void add(std::vector<Slot>& s, Load& v) {
    s.push_back({row("kind", plain, "tool", false, "kind of load"), choice(v.kind)});
    s.push_back({row("motor", ask, "", true, "kind of motor",
                     "brushes and whine: universal; hum, heavy, a hump for the capacitor: induction"),
                 choice(v.motor)});
    s.push_back({row("soft_start", assume, "false", true, "starts softly", "it ramps up; the manual"),
                 &v.soft_start});
    s.push_back(
        {row("latched", assume, "true", true, "its switch stays on by itself", "let go of it and look"),
         &v.latched});
    s.push_back({row("no_volt", plain, "false", true, "its own switch drops out and stays out",
                     "pull the plug while it is on"),
                 &v.no_volt});
    s.push_back({row("cutter", assume, "true for a tool with a motor", true,
                     "can cut or catch when it restarts", "what turns"),
                 &v.cutter});
    s.push_back({row("starts_with", nothing, "", false, "started by that load", "", Vocabulary::name),
                 &v.starts_with});
    s.push_back({row("overload", nothing, "", true, "own overload protection, how it resets",
                     "the manual; a red button"),
                 choice(v.overload)});
    s.push_back(
        {row("drive", assume, "none", true, "electronics before the motor", "the manual"), choice(v.drive)});
    s.push_back({row("class", assume, "I", true, "protection class", "a double square on the plate: II"),
                 choice(v.protection_class)});
    s.push_back(
        {row("duty", assume, "minutes; light, heater hours", true, "how long it runs at a time", "habit"),
         choice(v.duty)});
    s.push_back({row("self_starting", assume, "true for compressor, heater, charger", true,
                     "starts by itself", "habit"),
                 &v.self_starting});
}

}  // namespace

std::vector<Slot> slots(Head& v) {
    return {
        {row("title", plain, "file name", false, "head of report and card"), &v.title},
        {row("place", nothing, "", false, "free words"), &v.place},
        {row("contact", nothing, "", false, "a role, not a person"), &v.contact},
        {row("revision", nothing, "", false, "compared with accept.revision"), &v.revision},
        {row("date", nothing, "", false, "YYYY-MM-DD, printed only", "", Vocabulary::date), &v.date},
        {row("region", error, "", false, "practice, colours, patterns", "", Vocabulary::region), &v.region},
        {row("edition", plain, "newest in data", false, "pins the rules"), &v.edition},
        {row("mounting", error, "", false, "plug and cord; the same but screwed down; permanently wired"),
         choice(v.mounting)},
        {row("ambient", assume, "30 degC", true, "hottest air at the cables",
             "a thermometer on the hottest day"),
         &v.ambient},
        {row("country", nothing, "", false, "narrows the practice of the region"), &v.country},
    };
}

std::vector<Slot> slots(Site& v) {
    return {
        {row("use", ask, "", true, "dwelling, school or workplace", "who works there"), choice(v.use)},
        {row("room", ask, "", true, "kind of room", "the room"), choice(v.room)},
        {row("wet", assume, "dry", true, "dry, damp or wet", "the walls and the floor"), choice(v.wet)},
        {row("dust", assume, "true", true, "wood dust", "the room"), &v.dust},
        {row("children", assume, "false", true, "children can get at it", "the household"), &v.children},
    };
}

std::vector<Slot> slots(Local& v) {
    return {
        {row("voltage_drop_limit", nothing, "", false, "local limit of the running drop"),
         &v.voltage_drop_limit},
        {row("start_dip_limit", nothing, "", false, "local limit of the start dip"), &v.start_dip_limit},
        {row("long_run_share", nothing, "", false, "local share for long runs"), &v.long_run_share},
        {row("residual_trip", nothing, "", false, "local residual trip"), &v.residual_trip},
        {row("ambient_credit", plain, "false", false, "credit below 30 degC"), &v.ambient_credit},
        {row("source", error, "", false, "who says so"), &v.source},
    };
}

std::vector<Slot> slots(Element& e) {
    std::vector<Slot> s;
    s.reserve(24);
    add_feed(s, e);
    std::visit([&](auto& what) { add(s, what); }, e.what);
    return s;
}

std::vector<Slot> slots(Cable& v) {
    return {
        {row("stock", error, "", false, "name of its [stock]", "", Vocabulary::name), &v.stock},
        {row("length", error, "", true, "one way; ring: all the way round",
             "a tape measure, or the plan of the house"),
         &v.length},
        {row("method", nothing, "", true, "how it is laid",
             "where it lies: in a wall, in conduit, on a wall"),
         choice(v.method)},
        {row("grouped", assume, "1", true, "circuits touching, this one included", "where it lies"),
         &v.grouped},
        {row("ambient", plain, "plan.ambient", true, "hottest stretch", "a thermometer"), &v.ambient},
        {row("ring", plain, "false", false, "a ring circuit"), &v.ring},
        {row("reel", plain, "none", true, "on a reel, wound or not", "the reel"), choice(v.reel)},
        {row("cutout", nothing, "", true, "thermal cut-out of the reel", "a button on the reel"),
         choice(v.cutout)},
        {row("route", nothing, "", true, "where it runs", "the sketch"), choice(v.route)},
        {row("grip", nothing, "", true, "cord grip at the box", "the gland or clamp"), &v.grip},
        {row("ends", nothing, "", true, "what sits on the strands", "the ends"), choice(v.ends)},
        {row("own", plain, "false", false, "on a load: fitted by the builder, then judged"), &v.own},
        {row("wound_limit", nothing, "", true, "limit wound, as printed", "printed on the reel"),
         &v.wound_limit},
        {row("unwound_limit", nothing, "", true, "limit unwound, as printed", "printed on the reel"),
         &v.unwound_limit},
        {row("listed", plain, "false", true, "factory-made cord set with a listing mark", "the tag"),
         &v.listed},
    };
}

std::vector<Slot> slots(Residual& v) {
    return {
        {row("trip", ask, "", true, "residual current", "printed beside the T button"), &v.trip},
        {row("wave", nothing, "", true, "wave form", "a sine in a frame: AC; with a second line: A"),
         choice(v.wave)},
        {row("delay", plain, "none", true, "S: delayed", "an S in a frame"), choice(v.delay)},
    };
}

std::vector<Slot> slots(Measured& v) {
    return {
        {row("loop", nothing, "", false, "line to protective conductor at the outlet"), &v.loop},
        {row("line", nothing, "", false, "line to neutral at the outlet"), &v.line},
        {row("volts", nothing, "", false, "volts at the outlet without load"), &v.volts},
    };
}

std::vector<Slot> slots(Plate& v) {
    return {
        {row("current", nothing, "", true, "amps as printed", "the plate, often underneath"), &v.current},
        {row("power_in", nothing, "", true, "watts taken in", "the plate"), &v.power_in},
        {row("power_out", nothing, "", true, "watts at the shaft", "the motor's plate"), &v.power_out},
        {row("horsepower", nothing, "", true, "horsepower", "the motor's plate"), &v.horsepower},
        {row("horsepower_kind", nothing, "", true, "rated at the shaft, or a peak",
             "the motor's plate; adverts print peaks"),
         choice(v.horsepower_kind)},
        {row("frequency", nothing, "", true, "hertz as printed", "the plate"), &v.frequency},
        {row("voltage", assume, "supply", true, "volts as wired", "the plate"), &v.voltage},
        {row("power_factor", nothing, "", true, "power factor", "the motor's plate: cos phi"),
         &v.power_factor},
        {row("efficiency", nothing, "", true, "efficiency", "the motor's plate"), &v.efficiency},
        {row("start_current", nothing, "", true, "start current", "the manual"), &v.start_current},
        {row("code_letter", nothing, "", true, "locked-rotor letter", "the motor's plate: CODE",
             Vocabulary::code_letter),
         &v.code_letter},
    };
}

std::vector<Slot> slots(Stock& v) {
    return {
        {row("like", nothing, "", false, "take every field that is not written here from this stock", "",
             Vocabulary::stock_like),
         &v.like},
        {row("type", error, "", false, "construction", "", Vocabulary::construction), &v.type},
        {row("section", error, "", false, "section of the live cores"), &v.section},
        {row("cores", error, "", false, "all cores, the protective one included"), &v.cores},
        {row("protective", plain, "true", false, "one core is green-yellow, green or bare"), &v.protective},
        {row("protective_section", plain, "section", true, "section of the protective core",
             "printed along the sheath"),
         &v.protective_section},
        {row("conductor", assume, "copper", true, "metal", "the cut end: red or silver"),
         choice(v.conductor)},
        {row("strands", plain, "by type", true, "solid, stranded or fine", "the stripped end"),
         choice(v.strands)},
        {row("diameter", nothing, "", true, "over the sheath", "a caliper"), &v.diameter},
        {row("existing", plain, "false", false, "already there"), &v.existing},
        {row("label", plain, "name", false, "any words"), &v.label},
    };
}

std::vector<Slot> slots(MetalPart& v) {
    return {
        {row("bonded", ask, "", true, "element at whose protective terminal it ends, or \"no\"",
             "follow the green-yellow core", Vocabulary::end),
         &v.bonded},
        {row("carries_wiring", ask, "", true, "wires or outlets are fixed to it", "the part"),
         &v.carries_wiring},
    };
}

std::vector<Slot> slots(Together& v) {
    return {
        {row("name", error, "", false, "name of the set", "", Vocabulary::name), &v.name},
        {row("loads", error, "", false, "names of loads", "", Vocabulary::name), &v.loads},
        {row("start_order", nothing, "", false, "names of loads in their order", "", Vocabulary::name),
         &v.start_order},
    };
}

std::vector<Slot> slots(Accept& v) {
    return {
        {row("rule", error, "", false, "rule id"), &v.rule},
        {row("at", error, "", false, "where: kind.NAME"), &v.at},
        {row("reason", error, "", false, "why it is accepted"), &v.reason},
        {row("revision", error, "", false, "revision at which it was accepted"), &v.revision},
        {row("set", plain, "every set", false, "set"), &v.set},
    };
}

std::vector<Slot> slots(Change& v) {
    return {
        {row("revision", error, "", false, "revision"), &v.revision},
        {row("date", error, "", false, "YYYY-MM-DD", "", Vocabulary::date), &v.date},
        {row("what", error, "", false, "what changed"), &v.what},
    };
}

namespace {
void append(std::vector<Located>& out, const std::string& prefix, std::vector<Slot> slots) {
    for (Slot& slot : slots) out.push_back({prefix + "." + std::string(slot.info.key), slot});
}
}  // namespace

std::vector<Located> all_slots(Plan& plan) {
    std::vector<Located> out;
    append(out, "plan", slots(plan.head));
    append(out, "site", slots(plan.site));
    if (plan.local.present) append(out, "local", slots(plan.local));
    for (Stock& stock : plan.stocks) append(out, stock.path(), slots(stock));
    for (Element& e : plan.elements) {
        append(out, e.path(), slots(e));
        if (e.cable) append(out, e.path() + ".cable", slots(*e.cable));
        if (auto* device = std::get_if<Device>(&e.what); device && device->residual)
            append(out, e.path() + ".residual", slots(*device->residual));
        if (auto* outlet = std::get_if<Outlet>(&e.what); outlet && outlet->measured)
            append(out, e.path() + ".measured", slots(*outlet->measured));
        if (auto* load = std::get_if<Load>(&e.what); load && load->plate)
            append(out, e.path() + ".plate", slots(*load->plate));
    }
    for (MetalPart& metal : plan.metals) append(out, "metal." + metal.name, slots(metal));
    for (Together& t : plan.together) append(out, "together." + t.name.value_or(""), slots(t));
    return out;
}

}  // namespace benchfeed::plan
