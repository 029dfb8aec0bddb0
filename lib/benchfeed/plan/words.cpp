// The words of every enumeration, in the order of plan.hpp, as a plan writes them.
#include <array>

#include <benchfeed/plan/plan.hpp>

namespace benchfeed::plan {

namespace {
using std::string_view;
constexpr std::array<string_view, 15> test{"loop",
                                           "protective",
                                           "link",
                                           "neutral",
                                           "insulation",
                                           "fall",
                                           "residual",
                                           "residual high",
                                           "ramp",
                                           "lines",
                                           "line to neutral",
                                           "line to earth",
                                           "neutral to earth",
                                           "rise",
                                           "rotation"};
constexpr std::array<string_view, 3> mounting{"mobile", "fastened", "fixed"};
constexpr std::array<string_view, 3> use{"dwelling", "school", "workplace"};
constexpr std::array<string_view, 6> room{"garage",   "basement",  "outbuilding",
                                          "workshop", "habitable", "outdoors"};
constexpr std::array<string_view, 3> wet{"dry", "damp", "wet"};
constexpr std::array<string_view, 3> supply_source{"public", "generator", "inverter"};
constexpr std::array<string_view, 2> circuit{"shared", "individual"};
constexpr std::array<string_view, 6> system_{"230 V",     "240 V",     "120 V",
                                             "120/240 V", "120/208 V", "230/400 V"};
constexpr std::array<string_view, 6> earthing{"TN-S", "TN-C-S", "TN-C", "TT", "IT", "none"};
constexpr std::array<string_view, 12> method{"A1", "A2", "B1", "B2",    "C",       "D1",
                                             "D2", "E",  "F",  "cable", "conduit", "free air"};
constexpr std::array<string_view, 3> reel{"none", "unwound", "wound"};
constexpr std::array<string_view, 2> reset{"hand", "self"};
constexpr std::array<string_view, 3> own_reset{"none", "hand", "self"};
constexpr std::array<string_view, 6> route{"floor", "carcass", "conduit", "overhead", "buried", "insulation"};
constexpr std::array<string_view, 4> ends{"bare", "ferrule", "ring", "tinned"};
constexpr std::array<string_view, 3> device_kind{"circuit breaker", "fuse", "residual current device"};
constexpr std::array<string_view, 17> device_standard{
    "IEC 60898", "IEC 61009", "IEC 61008",    "IEC 60947-2", "IEC 60934", "IEC 60269 gG",
    "BS 88-3",   "BS 1361",   "BS 1362",      "BS 3036",     "UL 489",    "UL 943",
    "UL 1077",   "UL 248",    "IEC 60269 aM", "IEC 61540",   "BS 88-2"};
constexpr std::array<string_view, 3> curve{"B", "C", "D"};
constexpr std::array<string_view, 4> wave{"AC", "A", "F", "B"};
constexpr std::array<string_view, 2> delay{"none", "S"};
constexpr std::array<string_view, 3> metal{"copper", "aluminium", "copper-clad aluminium"};
constexpr std::array<string_view, 3> strands{"solid", "stranded", "fine"};
constexpr std::array<string_view, 3> earth{"tested", "present", "none"};
constexpr std::array<string_view, 3> faces{"up", "side", "down"};
constexpr std::array<string_view, 2> material{"plastic", "metal"};
constexpr std::array<string_view, 6> terminals{"lever", "push-in", "screw", "cage", "twist-on", "tab"};
constexpr std::array<string_view, 2> clamps{"inside", "outside"};
constexpr std::array<string_view, 9> switch_kind{"rocker",   "snap",           "contactor",
                                                 "isolator", "emergency-stop", "current-sensing",
                                                 "remote",   "timer",          "speed-control"};
constexpr std::array<string_view, 6> switch_standard{"IEC 61058", "IEC 60669", "IEC 60947",
                                                     "UL 20",     "UL 61058",  "UL 508"};
constexpr std::array<string_view, 3> wiring{"in line", "loop", "control"};
constexpr std::array<string_view, 7> load_kind{"tool",   "extractor", "light", "compressor",
                                               "heater", "charger",   "other"};
constexpr std::array<string_view, 2> horsepower_kind{"rated", "peak"};
constexpr std::array<string_view, 4> motor{"universal", "induction", "electronic", "none"};
constexpr std::array<string_view, 4> drive{"none", "speed electronics", "single-phase drive",
                                           "three-phase drive"};
constexpr std::array<string_view, 2> protection_class{"I", "II"};
constexpr std::array<string_view, 3> duty{"seconds", "minutes", "hours"};
constexpr std::array<string_view, 2> form{"hand", "standing"};
constexpr std::array<string_view, 3> brake{"none", "own", "needs supply"};
constexpr std::array<string_view, 6> kinds{"supply", "device", "outlet", "box", "switch", "load"};
}  // namespace

// clang-format off
template <> std::span<const string_view> words_of<Mounting>() { return mounting; }
template <> std::span<const string_view> words_of<Use>() { return use; }
template <> std::span<const string_view> words_of<Room>() { return room; }
template <> std::span<const string_view> words_of<Wet>() { return wet; }
template <> std::span<const string_view> words_of<SupplySource>() { return supply_source; }
template <> std::span<const string_view> words_of<Circuit>() { return circuit; }
template <> std::span<const string_view> words_of<System>() { return system_; }
template <> std::span<const string_view> words_of<Earthing>() { return earthing; }
template <> std::span<const string_view> words_of<Method>() { return method; }
template <> std::span<const string_view> words_of<Reel>() { return reel; }
template <> std::span<const string_view> words_of<Reset>() { return reset; }
template <> std::span<const string_view> words_of<OwnReset>() { return own_reset; }
template <> std::span<const string_view> words_of<Route>() { return route; }
template <> std::span<const string_view> words_of<Ends>() { return ends; }
template <> std::span<const string_view> words_of<DeviceKind>() { return device_kind; }
template <> std::span<const string_view> words_of<DeviceStandard>() { return device_standard; }
template <> std::span<const string_view> words_of<Curve>() { return curve; }
template <> std::span<const string_view> words_of<Wave>() { return wave; }
template <> std::span<const string_view> words_of<Delay>() { return delay; }
template <> std::span<const string_view> words_of<Metal>() { return metal; }
template <> std::span<const string_view> words_of<Strands>() { return strands; }
template <> std::span<const string_view> words_of<Earth>() { return earth; }
template <> std::span<const string_view> words_of<Faces>() { return faces; }
template <> std::span<const string_view> words_of<Material>() { return material; }
template <> std::span<const string_view> words_of<Terminals>() { return terminals; }
template <> std::span<const string_view> words_of<Clamps>() { return clamps; }
template <> std::span<const string_view> words_of<SwitchKind>() { return switch_kind; }
template <> std::span<const string_view> words_of<SwitchStandard>() { return switch_standard; }
template <> std::span<const string_view> words_of<Wiring>() { return wiring; }
template <> std::span<const string_view> words_of<LoadKind>() { return load_kind; }
template <> std::span<const string_view> words_of<Test>() { return test; }
template <> std::span<const string_view> words_of<HorsepowerKind>() { return horsepower_kind; }
template <> std::span<const string_view> words_of<Motor>() { return motor; }
template <> std::span<const string_view> words_of<Drive>() { return drive; }
template <> std::span<const string_view> words_of<ProtectionClass>() { return protection_class; }
template <> std::span<const string_view> words_of<Duty>() { return duty; }
template <> std::span<const string_view> words_of<Form>() { return form; }
template <> std::span<const string_view> words_of<Brake>() { return brake; }
// clang-format on

std::string_view word(Kind kind) {
    return kinds[static_cast<std::size_t>(kind)];
}

std::string_view kind_meaning(Kind kind) {
    constexpr std::array<string_view, 6> meanings{
        "where the power comes from: the panel of the house, a generator",
        "breakers, fuses and residual current devices",
        "what plugs go into, strips and extension leads too",
        "where cables meet",
        "switches, contactors, emergency stops",
        "tools, lamps, chargers: what takes the power"};
    return meanings[static_cast<std::size_t>(kind)];
}

What empty_of(Kind kind) {
    switch (kind) {
        case Kind::supply:
            return Supply{};
        case Kind::device:
            return Device{};
        case Kind::outlet:
            return Outlet{};
        case Kind::box:
            break;
        case Kind::switch_:
            return Switch{};
        case Kind::load:
            return Load{};
    }
    return Box{};
}

std::span<const std::string_view> conductor_words() {
    static constexpr std::array<string_view, 17> words{
        "L-N",     "L1-N",     "L2-N",       "L3-N", "L1-L2", "L2-L3", "L1-L3", "L1-L2-N", "L2-L3-N",
        "L1-L3-N", "L1-L2-L3", "L1-L2-L3-N", "L",    "L1",    "L2",    "L3",    "N"};
    return words;
}

std::string conductors_text(Conductors conductors) {
    constexpr std::array<string_view, 5> names{"L1", "L2", "L3", "N", "PE"};
    std::string out;
    for (std::size_t i = 0; i < names.size(); ++i)
        if (conductors.has(static_cast<Conductor>(i)))
            out += (out.empty() ? "" : "-") + std::string(names[i]);
    return out;
}

namespace {
std::string spaced(std::string name) {
    for (char& c : name)
        if (c == '_' || c == '-') c = ' ';
    return name;
}
}  // namespace

std::string Element::path() const {
    return std::string(word(kind)) + "." + name;
}

std::string Element::words() const {
    if (label.known()) return *label;
    switch (kind) {
        case Kind::load:
            return "the " + spaced(name);
        case Kind::device:
            return "device " + name;
        case Kind::supply:
            return "the supply " + spaced(name);
        default:
            return "the " + spaced(name) + " " + std::string(word(kind));
    }
}

}  // namespace benchfeed::plan
