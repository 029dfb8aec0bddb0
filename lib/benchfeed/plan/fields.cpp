// Every row of the format's field table, once: constants, so that asking for the slots of a table copies
// nothing.
#include <array>

#include <benchfeed/plan/field_rows.hpp>

namespace benchfeed::plan {

namespace {

using enum Absent;

/// What feeds an element. The plug of a load is assumed.
constexpr std::array<Row<Element>, 9> feed_rows(Absent plug) {
    return {{
        {row("from", error, "", false, "where the power comes from", "", Vocabulary::feeder),
         at<&Element::from>},
        {row("label", plain, "name", false, "any words"), at<&Element::label>},
        {row("like", nothing, "", false, "take every field that is not written here from this element", "",
             Vocabulary::like),
         at<&Element::like>},
        {row("conductors", plain, "those that fit", false, "live conductors used"), at<&Element::conductors>},
        {row("plug", plug, "what fits", true, "pattern of the plug at the supply end",
             "moulded into the plug", Vocabulary::plug),
         at<&Element::plug>},
        {row("fuse", nothing, "", true, "fuse in that plug", "printed on the fuse: open the plug"),
         at<&Element::fuse>},
        {row("inlet", nothing, "", true, "pattern of the inlet where a loose lead ends",
             "the shape of its pins", Vocabulary::pattern),
         at<&Element::inlet>},
        {row("inlet_rating", nothing, "", true, "amps marked on that inlet", "moulded beside its pins"),
         at<&Element::inlet_rating>},
        {row("existing", plain, "false", false, "already there: not bought, not resized"),
         at<&Element::existing>},
    }};
}
constexpr auto feed = feed_rows(nothing), load_feed = feed_rows(assume);

std::span<const Row<Element>> feed_of(Kind kind) {
    if (kind == Kind::load) return load_feed;
    return kind == Kind::supply ? std::span(feed).subspan(1, 2) : std::span(feed);  // a supply: label, like
}

constexpr Row<Supply> supply_rows[] = {
    {row("system", error, "", false, "conductors and nominal voltage"), at<&Supply::system>},
    {row("frequency", plain, "of the region", false, "frequency"), at<&Supply::frequency>},
    {row("source", plain, "public", false, "public supply, generator or inverter"), at<&Supply::source>},
    {row("circuit", assume, "shared", true, "one outlet alone on its circuit, or several",
         "switch it off and walk round"),
     at<&Supply::circuit>},
    {row("separate_from", nothing, "", true, "supplies with a device and a neutral of their own",
         "switch one off: is the other still live?"),
     at<&Supply::separate_from>},
    {row("voltage", assume, "nominal", true, "line to neutral, measured", "a meter at the outlet"),
     at<&Supply::voltage>},
    {row("earthing", ask, "", true, "earthing system", "the supply bill, the distributor or an electrician"),
     at<&Supply::earthing>},
    {row("loop_impedance", ask, "", true, "line to protective conductor at the panel",
         "an electrician's meter"),
     at<&Supply::loop_impedance>},
    {row("line_impedance", ask, "", true, "line to neutral at the panel", "an electrician's meter"),
     at<&Supply::line_impedance>},
    {row("fault_current", ask, "", true, "highest at the panel",
         "an electrician's meter, or the distributor"),
     at<&Supply::fault_current>},
    {row("power", nothing, "", true, "of a generator or inverter: what it gives for hours, not its peak",
         "its plate or manual: rated, continuous or COP"),
     at<&Supply::power>},
    {row("current", nothing, "", true, "of a generator or inverter: amps of each line, for hours",
         "its plate or manual: rated or continuous amps"),
     at<&Supply::current>},
    {row("start_power", nothing, "", true,
         "of a generator or inverter: what its maker lets it give while a motor starts",
         "its manual: motor starting, or peak power and for how many seconds"),
     at<&Supply::start_power>},
};

constexpr Row<Device> device_rows[] = {
    {row("kind", error, "", false, "kind of device"), at<&Device::kind>},
    {row("standard", assume, "by region, kind and residual part", true, "product standard",
         "printed on its front or side"),
     at<&Device::standard>},
    {row("curve", nothing, "", true, "letter before the amps", "printed before the amps on its handle: B16"),
     at<&Device::curve>},
    {row("rating", ask, "", true, "rated current", "printed on its handle or front"), at<&Device::rating>},
    {row("breaking", ask, "", true, "short-circuit capacity", "printed in a frame: 6000"),
     at<&Device::breaking>},
    {row("poles", plain, "lines used", false, "poles"), at<&Device::poles>},
    {row("tied", plain, "true", true, "poles open together", "one common handle?"), at<&Device::tied>},
    {row("reset", plain, "hand", true, "closes again by hand or by itself", "the manual"),
     at<&Device::reset>},
    {row("opens", plain, "the first poles", true, "conductors that open", "count the terminals"),
     at<&Device::opens>},
    {row("other_load", assume, "0 A", true, "through it, besides what the plan shows",
         "switch it off and walk round"),
     at<&Device::other_load>},
};

constexpr Row<Outlet> outlet_rows[] = {
    {row("pattern", error, "", false, "pattern", "", Vocabulary::outlet), at<&Outlet::pattern>},
    {row("ways", plain, "1", false, "plugs that fit"), at<&Outlet::ways>},
    {row("rating", plain, "of the pattern", false, "rated current, only lower"), at<&Outlet::rating>},
    {row("limit", nothing, "", true, "printed at the socket of a load: what may be plugged in",
         "beside the socket, or in the manual"),
     at<&Outlet::limit>},
    {row("earth", ask, "", true, "protective contact", "a tester at the outlet"), at<&Outlet::earth>},
    {row("faces", assume, "side", true, "which way it faces", "the sketch"), at<&Outlet::faces>},
    {row("ip", nothing, "", true, "IP code", "printed on it"), at<&Outlet::ip>},
};

constexpr Row<Box> box_rows[] = {
    {row("ip", nothing, "", true, "IP code", "printed on it"), at<&Box::ip>},
    {row("material", ask, "", true, "plastic or metal", "the box"), at<&Box::material>},
    {row("volume", nothing, "", true, "volume", "stamped inside the box"), at<&Box::volume>},
    {row("terminals", ask, "", true, "kind of terminal", "the pack"), at<&Box::terminals>},
    {row("clamps", nothing, "", true, "cable clamps inside or outside", "the box"), at<&Box::clamps>},
    {row("ways", nothing, "", true, "ways of one terminal bank", "the pack"), at<&Box::ways>},
};

constexpr Row<Switch> switch_rows[] = {
    {row("rating", ask, "", true, "rated current", "stamped on its side"), at<&Switch::rating>},
    {row("motor_rating", nothing, "", true, "motor current or horsepower as printed",
         "the figure in brackets, or hp"),
     at<&Switch::motor_rating>},
    {row("poles", ask, "", true, "poles", "count the terminals: two for each pole"), at<&Switch::poles>},
    {row("no_volt", plain, "false", true, "drops out when supply fails and stays out",
         "pull the plug while it is on: does it come back?"),
     at<&Switch::no_volt>},
    {row("changeover", plain, "false", true, "each element fed by it is one of its positions", "its front"),
     at<&Switch::changeover>},
    {row("kind", assume, "rocker; US snap", true, "kind of switch", "its front"), at<&Switch::kind>},
    {row("coil", nothing, "", true, "volts of the coil", "printed at the coil"), at<&Switch::coil>},
    {row("indicator", assume, "false", true, "has a lamp, which needs a neutral", "its front"),
     at<&Switch::indicator>},
    {row("isolating", nothing, "", true, "contact gap marked for isolation", "its plate"),
     at<&Switch::isolating>},
    {row("lockable", nothing, "", true, "can be locked off", "its handle"), at<&Switch::lockable>},
    {row("standard", ask, "", true, "product standard", "printed on its side"), at<&Switch::standard>},
    {row("opens", plain, "the first poles", true, "conductors that open", "count the terminals"),
     at<&Switch::opens>},
    {row("wiring", plain, "in line", false, "how it is wired"), at<&Switch::wiring>},
    {row("backup_max", nothing, "", true, "largest device that its maker allows before it",
         "its data sheet: maximum fuse or breaker, type 1 or type 2 co-ordination"),
     at<&Switch::backup_max>},
    {row("stops", nothing, "", true, "contactors or no-volt switches that drop out when it is pressed",
         "press it and see what goes dead", Vocabulary::feeder),
     at<&Switch::stops>},
};

constexpr Row<Load> load_rows[] = {
    {row("kind", plain, "tool", false, "kind of load"), at<&Load::kind>},
    {row("motor", ask, "", true, "kind of motor",
         "brushes and whine: universal; hum, heavy, a hump for the capacitor: induction"),
     at<&Load::motor>},
    {row("soft_start", assume, "false", true, "starts softly", "it ramps up; the manual"),
     at<&Load::soft_start>},
    {row("latched", assume, "true", true, "its switch stays on by itself", "let go of it and look"),
     at<&Load::latched>},
    {row("no_volt", plain, "false", true, "its own switch drops out and stays out",
         "pull the plug while it is on"),
     at<&Load::no_volt>},
    {row("cutter", assume, "true for a tool with a motor", true, "can cut or catch when it restarts",
         "what turns"),
     at<&Load::cutter>},
    {row("starts_with", nothing, "", false, "started by that load", "", Vocabulary::name),
     at<&Load::starts_with>},
    {row("overload", nothing, "", true, "overload protection of its own, how it resets",
         "the manual; a red button; an overload relay or a motor protection switch before it alone"),
     at<&Load::overload>},
    {row("overload_setting", nothing, "", true, "amps to which that protection is set",
         "the dial of the overload relay or the motor protection switch"),
     at<&Load::overload_setting>},
    {row("sold_whole", nothing, "", true, "a machine sold with its motor in it, no bare motor",
         "one plate for the whole machine, or a motor somebody fitted"),
     at<&Load::sold_whole>},
    {row("drive", assume, "none", true, "electronics before the motor", "the manual"), at<&Load::drive>},
    {row("class", assume, "I", true, "protection class", "a double square on the plate: II"),
     at<&Load::protection_class>},
    {row("duty", assume, "minutes; light, heater hours", true, "how long it runs at a time", "habit"),
     at<&Load::duty>},
    {row("self_starting", assume, "true for compressor, heater, charger", true, "starts by itself", "habit"),
     at<&Load::self_starting>},
    {row("form", nothing, "", true, "hand-held or standing machine",
         "held in the hands at work, or standing on legs, a stand or the bench"),
     at<&Load::form>},
    {row("brake", nothing, "", true, "what stops the blade, and whether it needs supply for that",
         "the manual; time how long the blade runs down"),
     at<&Load::brake>},
};

constexpr Row<Head> head_rows[] = {
    {row("title", plain, "file name", false, "head of report and card"), at<&Head::title>},
    {row("place", nothing, "", false, "free words"), at<&Head::place>},
    {row("contact", nothing, "", false, "a role, not a person"), at<&Head::contact>},
    {row("revision", nothing, "", false, "compared with accept.revision"), at<&Head::revision>},
    {row("date", nothing, "", false, "YYYY-MM-DD, printed only", "", Vocabulary::date), at<&Head::date>},
    {row("region", error, "", false, "practice, colours, patterns", "", Vocabulary::region),
     at<&Head::region>},
    {row("edition", plain, "newest in data", false, "pins the rules"), at<&Head::edition>},
    {row("mounting", assume, "mobile", false, "plug and cord; the same but screwed down; permanently wired",
         "how the bench is fed"),
     at<&Head::mounting>},
    {row("ambient", assume, "30 degC", true, "hottest air at the cables", "a thermometer on the hottest day"),
     at<&Head::ambient>},
    {row("common", nothing, "", false, "paths of common files, from the folder of the plan"),
     at<&Head::common>},
    {row("country", nothing, "", false, "narrows the practice of the region"), at<&Head::country>},
};

constexpr Row<Site> site_rows[] = {
    {row("use", ask, "", true, "dwelling, school or workplace", "who works there"), at<&Site::use>},
    {row("room", ask, "", true, "kind of room", "the room"), at<&Site::room>},
    {row("wet", assume, "dry", true, "dry, damp or wet", "the walls and the floor"), at<&Site::wet>},
    {row("dust", assume, "true", true, "wood dust", "the room"), at<&Site::dust>},
    {row("children", assume, "false", true, "children can get at it", "the household"), at<&Site::children>},
};

constexpr Row<Local> local_rows[] = {
    {row("voltage_drop_limit", nothing, "", false, "local limit of the running drop"),
     at<&Local::voltage_drop_limit>},
    {row("start_dip_limit", nothing, "", false, "local limit of the start dip"), at<&Local::start_dip_limit>},
    {row("long_run_share", nothing, "", false, "local share for long runs"), at<&Local::long_run_share>},
    {row("residual_trip", nothing, "", false, "local residual trip"), at<&Local::residual_trip>},
    {row("ambient_credit", plain, "false", false, "credit below 30 degC"), at<&Local::ambient_credit>},
    {row("source", error, "", false, "who says so"), at<&Local::source>},
};

constexpr Row<Cable> cable_rows[] = {
    {row("stock", error, "", false, "name of its [stock]", "", Vocabulary::name), at<&Cable::stock>},
    {row("length", error, "", true, "one way; ring: all the way round",
         "a tape measure, or the plan of the house"),
     at<&Cable::length>},
    {row("method", nothing, "", true, "how it is laid", "where it lies: in a wall, in conduit, on a wall"),
     at<&Cable::method>},
    {row("grouped", assume, "1", true, "circuits touching, this one included", "where it lies"),
     at<&Cable::grouped>},
    {row("ambient", plain, "plan.ambient", true, "hottest stretch", "a thermometer"), at<&Cable::ambient>},
    {row("ring", plain, "false", false, "a ring circuit"), at<&Cable::ring>},
    {row("reel", plain, "none", true, "on a reel, wound or not", "the reel"), at<&Cable::reel>},
    {row("cutout", nothing, "", true, "thermal cut-out of the reel", "a button on the reel"),
     at<&Cable::cutout>},
    {row("route", nothing, "", true, "where it runs", "the sketch"), at<&Cable::route>},
    {row("grip", nothing, "", true, "cord grip at the box", "the gland or clamp"), at<&Cable::grip>},
    {row("ends", nothing, "", true, "how the stripped ends are finished", "the ends"), at<&Cable::ends>},
    {row("own", plain, "false", false, "on a load: fitted by the builder, then judged"), at<&Cable::own>},
    {row("wound_limit", nothing, "", true, "limit wound, as printed", "printed on the reel"),
     at<&Cable::wound_limit>},
    {row("unwound_limit", nothing, "", true, "limit unwound, as printed", "printed on the reel"),
     at<&Cable::unwound_limit>},
    {row("listed", plain, "false", true, "factory-made cord set with a listing mark", "the tag"),
     at<&Cable::listed>},
};

constexpr Row<Residual> residual_rows[] = {
    {row("trip", ask, "", true, "residual current", "printed beside the T button"), at<&Residual::trip>},
    {row("wave", nothing, "", true, "wave form", "a sine in a frame: AC; with a second line: A"),
     at<&Residual::wave>},
    {row("delay", plain, "none", true, "S: delayed", "an S in a frame"), at<&Residual::delay>},
};

constexpr Row<Measured> measured_rows[] = {
    {row("loop", nothing, "", false, "line to protective conductor at the outlet"), at<&Measured::loop>},
    {row("line", nothing, "", false, "line to neutral at the outlet"), at<&Measured::line>},
    {row("volts", nothing, "", false, "volts at the outlet without load"), at<&Measured::volts>},
};

constexpr Row<Plate> plate_rows[] = {
    {row("current", nothing, "", true, "amps as printed", "the plate, often underneath"),
     at<&Plate::current>},
    {row("power_in", nothing, "", true, "watts taken in", "the plate"), at<&Plate::power_in>},
    {row("power_out", nothing, "", true, "watts at the shaft", "the motor's plate"), at<&Plate::power_out>},
    {row("horsepower", nothing, "", true, "horsepower", "the motor's plate"), at<&Plate::horsepower>},
    {row("horsepower_kind", nothing, "", true, "rated at the shaft, or a peak",
         "the motor's plate; adverts print peaks"),
     at<&Plate::horsepower_kind>},
    {row("frequency", nothing, "", true, "hertz as printed", "the plate"), at<&Plate::frequency>},
    {row("voltage", assume, "supply", true, "volts as wired", "the plate"), at<&Plate::voltage>},
    {row("power_factor", nothing, "", true, "power factor", "the motor's plate: cos phi"),
     at<&Plate::power_factor>},
    {row("efficiency", nothing, "", true, "efficiency", "the motor's plate"), at<&Plate::efficiency>},
    {row("start_current", nothing, "", true, "start current", "the manual"), at<&Plate::start_current>},
    {row("code_letter", nothing, "", true, "locked-rotor letter", "the motor's plate: CODE",
         Vocabulary::code_letter),
     at<&Plate::code_letter>},
};

constexpr Row<Stock> stock_rows[] = {
    {row("like", nothing, "", false, "take every field that is not written here from this stock", "",
         Vocabulary::stock_like),
     at<&Stock::like>},
    {row("type", error, "", false, "construction", "", Vocabulary::construction), at<&Stock::type>},
    {row("section", error, "", false, "section of the live cores"), at<&Stock::section>},
    {row("cores", error, "", false, "all cores, the protective one included"), at<&Stock::cores>},
    {row("protective", plain, "true", false, "one core is green-yellow, green or bare"),
     at<&Stock::protective>},
    {row("protective_section", plain, "section", true, "section of the protective core",
         "printed along the sheath"),
     at<&Stock::protective_section>},
    {row("conductor", assume, "copper", true, "metal", "the cut end: red or silver"), at<&Stock::conductor>},
    {row("strands", plain, "by type", true, "solid, stranded or fine", "the stripped end"),
     at<&Stock::strands>},
    {row("diameter", nothing, "", true, "over the sheath", "a caliper"), at<&Stock::diameter>},
    {row("existing", plain, "false", false, "already there"), at<&Stock::existing>},
    {row("label", plain, "name", false, "any words"), at<&Stock::label>},
};

// An element has those of what it is.
std::span<const Row<Supply>> rows_of(const Supply&) {
    return supply_rows;
}
std::span<const Row<Device>> rows_of(const Device&) {
    return device_rows;
}
std::span<const Row<Outlet>> rows_of(const Outlet&) {
    return outlet_rows;
}
std::span<const Row<Box>> rows_of(const Box&) {
    return box_rows;
}
std::span<const Row<Switch>> rows_of(const Switch&) {
    return switch_rows;
}
std::span<const Row<Load>> rows_of(const Load&) {
    return load_rows;
}

}  // namespace

std::vector<Slot> slots(Head& v) {
    return of<Head>(head_rows, v);
}
std::vector<Slot> slots(Site& v) {
    return of<Site>(site_rows, v);
}
std::vector<Slot> slots(Local& v) {
    return of<Local>(local_rows, v);
}
std::vector<Slot> slots(Cable& v) {
    return of<Cable>(cable_rows, v);
}
std::vector<Slot> slots(Residual& v) {
    return of<Residual>(residual_rows, v);
}
std::vector<Slot> slots(Measured& v) {
    return of<Measured>(measured_rows, v);
}
std::vector<Slot> slots(Plate& v) {
    return of<Plate>(plate_rows, v);
}
std::vector<Slot> slots(Stock& v) {
    return of<Stock>(stock_rows, v);
}

std::vector<Slot> slots(Element& e) {
    std::vector<Slot> slots;
    slots.reserve(24);
    add(slots, feed_of(e.kind), e);
    std::visit([&](auto& what) { add(slots, rows_of(what), what); }, e.what);
    return slots;
}

}  // namespace benchfeed::plan
