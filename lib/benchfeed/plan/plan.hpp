#pragma once
// What the user wrote: every field of plan format version 1 with its place, names resolved to indices.
// Values that the format assumes stand here too, with origin `assumed`.
#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include <benchfeed/base/apart.hpp>
#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>
#include <benchfeed/base/rating.hpp>
#include <benchfeed/base/section.hpp>
#include <benchfeed/plan/field.hpp>

namespace benchfeed::plan {

using Index = std::uint32_t;
inline constexpr Index nowhere = 0xffff'ffff;

// ---- words -------------------------------------------------------------------------------------
// Each enumeration's words stand in words.cpp in the same order.
enum class Mounting : std::uint8_t { mobile, fastened, fixed };
enum class Use : std::uint8_t { dwelling, school, workplace };
enum class Room : std::uint8_t { garage, basement, outbuilding, workshop, habitable, outdoors };
enum class Wet : std::uint8_t { dry, damp, wet };
enum class SupplySource : std::uint8_t { public_network, generator, inverter };
enum class Circuit : std::uint8_t { shared, individual };
enum class System : std::uint8_t { v230, v240, v120, v120_240, v120_208, v230_400 };
enum class Earthing : std::uint8_t { tn_s, tn_c_s, tn_c, tt, it, none };
enum class Method : std::uint8_t { a1, a2, b1, b2, c, d1, d2, e, f, cable, conduit, free_air };
enum class Reel : std::uint8_t { none, unwound, wound };
enum class Reset : std::uint8_t { hand, self };           // a device that closes again
enum class OwnReset : std::uint8_t { none, hand, self };  // reel cut-out, a load's own protection
enum class Route : std::uint8_t { floor, carcass, conduit, overhead, buried, insulation };
enum class Ends : std::uint8_t { bare, ferrule, ring, tinned };
enum class DeviceKind : std::uint8_t { circuit_breaker, fuse, residual_current_device };
enum class DeviceStandard : std::uint8_t {
    iec_60898,
    iec_61009,
    iec_61008,
    iec_60947_2,
    iec_60934,
    iec_60269_gg,
    bs_88_3,
    bs_1361,
    bs_1362,
    bs_3036,
    ul_489,
    ul_943,
    ul_1077,
    ul_248,
    iec_60269_am,
    iec_61540,
    bs_88_2
};
enum class Curve : std::uint8_t { b, c, d };
enum class Wave : std::uint8_t { ac, a, f, b };
enum class Delay : std::uint8_t { none, s };
enum class Metal : std::uint8_t { copper, aluminium, copper_clad_aluminium };
enum class Strands : std::uint8_t { solid, stranded, fine };
enum class Earth : std::uint8_t { tested, present, none };
enum class Faces : std::uint8_t { up, side, down };
enum class Material : std::uint8_t { plastic, metal };
enum class Terminals : std::uint8_t { lever, push_in, screw, cage, twist_on, tab };
enum class Clamps : std::uint8_t { inside, outside };
enum class SwitchKind : std::uint8_t {
    rocker,
    snap,
    contactor,
    isolator,
    emergency_stop,
    current_sensing,
    remote,
    timer,
    speed_control
};
enum class SwitchStandard : std::uint8_t { iec_61058, iec_60669, iec_60947, ul_20, ul_61058, ul_508 };
enum class Wiring : std::uint8_t { in_line, loop, control };
enum class Test : std::uint8_t {
    loop,
    protective,
    link,
    neutral,
    insulation,
    fall,
    residual,
    residual_high,
    ramp,
    lines,
    line_to_neutral,
    line_to_earth,
    neutral_to_earth,
    rise,
    rotation
};
enum class LoadKind : std::uint8_t { tool, extractor, light, compressor, heater, charger, other };
enum class HorsepowerKind : std::uint8_t { rated, peak };
enum class Motor : std::uint8_t { universal, induction, electronic, none };
enum class Drive : std::uint8_t { none, speed_electronics, single_phase_drive, three_phase_drive };
enum class ProtectionClass : std::uint8_t { i, ii };
enum class Duty : std::uint8_t { seconds, minutes, hours };
enum class Form : std::uint8_t { hand, standing };
enum class Brake : std::uint8_t { none, own, needs_supply };

/// Live conductors and the protective one. In 230, 240 and 120 V systems the one line is L1.
enum class Conductor : std::uint8_t { l1, l2, l3, n, pe };
/// A set of conductors.
struct Conductors {
    std::uint8_t mask = 0;
    /// True when it is in the set.
    [[nodiscard]] bool has(Conductor c) const { return (mask >> static_cast<unsigned>(c)) & 1u; }
    /// Puts it into the set.
    void add(Conductor c) { mask = static_cast<std::uint8_t>(mask | (1u << static_cast<unsigned>(c))); }
    /// Number of line conductors, 0 to 3.
    [[nodiscard]] int lines() const { return has(Conductor::l1) + has(Conductor::l2) + has(Conductor::l3); }
    /// Number of lines and neutral, 0 to 4.
    [[nodiscard]] int live() const { return lines() + has(Conductor::n); }
    /// True when `other` has all that this one has.
    [[nodiscard]] bool within(Conductors other) const { return (mask & ~other.mask) == 0; }
    friend bool operator==(Conductors, Conductors) = default;
};
[[nodiscard]] std::string conductors_text(Conductors conductors);   ///< "L1-N", in one-line systems too
[[nodiscard]] std::span<const std::string_view> conductor_words();  ///< every choice that a plan may write

// ---- what stands on an element -------------------------------------------------------------------
/// The cable by which an element hangs at its `from`.
struct Cable {
    Span span;
    Field<std::string> stock;
    Index stock_index = nowhere;
    Field<Length> length;
    Choice<Method> method;
    Field<int> grouped;
    Field<Temperature> ambient;
    Field<bool> ring;
    Choice<Reel> reel;
    Choice<OwnReset> cutout;
    Choice<Route> route;
    Field<bool> grip;
    Choice<Ends> ends;
    Field<bool> own;
    Field<CurrentOrPower> wound_limit, unwound_limit;
    Field<bool> listed;
};

/// The residual part of a device.
struct Residual {
    Span span;
    Field<Current> trip;
    Choice<Wave> wave;
    Choice<Delay> delay;
};

/// Where power comes into the plan.
struct Supply {
    Choice<System> system;
    Field<Frequency> frequency;
    Choice<SupplySource> source;
    Choice<Circuit> circuit;
    Field<std::vector<std::string>> separate_from;
    Field<Voltage> voltage;
    Choice<Earthing> earthing;
    Field<Impedance> loop_impedance, line_impedance;
    Field<Current> fault_current;
    Field<SourcePower> power;        ///< of a generator or inverter, for good
    Field<Current> current;          ///< the same in amps, of each line
    Field<SourcePower> start_power;  ///< what its maker lets it give while a motor starts
};

/// A breaker, fuse, residual device or release.
struct Device {
    Choice<DeviceKind> kind;
    Choice<DeviceStandard> standard;
    Choice<Curve> curve;
    Field<Current> rating, breaking;
    Field<int> poles;
    Field<bool> tied;
    Choice<Reset> reset;
    Field<Conductors> opens;
    std::optional<Residual> residual;
    Field<Current> other_load;
};

/// What somebody measured at an outlet.
struct Measured {
    Span span;
    Field<Impedance> loop, line;
    Field<Voltage> volts;
};

/// A socket, fixed or of a lead, strip or adaptor.
struct Outlet {
    Field<std::string> pattern;
    Field<int> ways;
    Field<Current> rating;
    Field<CurrentOrPower> limit;
    Choice<Earth> earth;
    Choice<Faces> faces;
    Field<std::string> ip;
    std::optional<Measured> measured;
};

/// A box in which conductors are joined.
struct Box {
    Field<std::string> ip;
    Choice<Material> material;
    Field<Volume> volume;
    Choice<Terminals> terminals;
    Choice<Clamps> clamps;
    Field<int> ways;
};

/// A switch, contactor, speed control or emergency stop.
struct Switch {
    Field<Current> rating;
    Field<MotorRating> motor_rating;
    Field<int> poles;
    Field<bool> no_volt, changeover;
    Choice<SwitchKind> kind;
    Field<Voltage> coil;
    Field<bool> indicator, isolating, lockable;
    Choice<SwitchStandard> standard;
    Field<Conductors> opens;
    Choice<Wiring> wiring;
    Field<Current> backup_max;  ///< largest device that its maker allows before it
    Field<std::vector<std::string>> stops;
    std::vector<Index> stop_indices;  ///< element indices of what it drops out, in the order written
};

/// What is printed on the plate of a tool.
struct Plate {
    Span span;
    Field<Current> current;
    Field<Power> power_in, power_out;
    Field<Horsepower> horsepower;
    Choice<HorsepowerKind> horsepower_kind;
    Field<Frequency> frequency;
    Field<VoltageRange> voltage;
    Field<Ratio> power_factor, efficiency;
    Field<Current> start_current;
    Field<std::string> code_letter;
};

/// What uses power.
struct Load {
    Choice<LoadKind> kind;
    Apart<Plate> plate;
    Choice<Motor> motor;
    Field<bool> soft_start, latched, no_volt, cutter;
    Field<std::string> starts_with;
    Index starts_with_index = nowhere;  ///< element index of that load
    Choice<OwnReset> overload;
    Field<Current> overload_setting;  ///< of that protection
    Field<bool> sold_whole;           ///< a machine with its motor in it, no bare motor
    Choice<Drive> drive;
    Choice<ProtectionClass> protection_class;
    Choice<Duty> duty;
    Field<bool> self_starting;
    Choice<Form> form;
    Choice<Brake> brake;
};

enum class Kind : std::uint8_t { supply, device, outlet, box, switch_, load };
inline constexpr std::array element_kinds{Kind::supply, Kind::device,  Kind::outlet,
                                          Kind::box,    Kind::switch_, Kind::load};
[[nodiscard]] std::string_view word(Kind kind);  ///< "supply", "device", ... as in [kind.NAME]
[[nodiscard]] std::string_view kind_meaning(Kind kind);
inline constexpr std::size_t most_sets = 1000;

using What = std::variant<Supply, Device, Outlet, Box, Switch, Load>;
[[nodiscard]] What empty_of(Kind kind);

/// A node of the tree with what feeds it: plug (with its fuse), cable, inlet, then the element itself.
struct Element {
    Kind kind = Kind::box;
    std::string name;
    Span header;
    Field<std::string> from, label, like;
    Index parent = nowhere;      ///< element index; nowhere for a supply
    Index like_index = nowhere;  ///< element whose fields were taken over
    Field<Conductors> conductors;
    Field<std::string> plug;  ///< pattern; a load without one takes what fits (assumed)
    Field<Current> fuse;
    Field<std::string> inlet;
    Field<Current> inlet_rating;  ///< marked on that inlet
    Apart<Cable> cable;
    Field<bool> existing;
    What what;
    std::vector<Index> children;  ///< in file order

    /// The part of this kind, or nullptr when the element is of another.
    template <class T>
    [[nodiscard]] const T* as() const {
        return std::get_if<T>(&what);
    }
    [[nodiscard]] BENCHFEED_API std::string path() const;  ///< "box.junction"
    [[nodiscard]] std::string words() const;  ///< label, or "the saw's switch"-like words from kind and name
};

/// A kind of cable that is bought and used for one or more runs.
struct Stock {
    std::string name;
    Span header;
    Field<std::string> like;
    Index like_index = nowhere;
    Field<std::string> type;
    Field<Section> section;
    Field<int> cores;
    Field<bool> protective;
    Field<Section> protective_section;
    Choice<Metal> conductor;
    Choice<Strands> strands;
    Field<Length> diameter;
    Field<bool> existing;
    Field<std::string> label;
    /// As --set and reports name it.
    [[nodiscard]] std::string path() const { return "stock." + name; }
};

/// Metal that a person can touch.
struct MetalPart {
    std::string name;
    Span header;
    Field<std::string> bonded;  ///< "kind.NAME" or "no"
    Index bonded_index = nowhere;
    Field<bool> carries_wiring;
};

/// Loads that run at the same time.
struct Together {
    Span header;
    Field<std::string> name;
    Field<std::vector<std::string>> loads, start_order;
    std::vector<Index> load_indices, start_indices;
};

/// A finding that somebody has looked at, with the reason.
struct Accept {
    Span header;
    Field<std::string> rule, at, reason, revision, set;
    Field<std::string> until;  ///< "2027-06-01": the last day for which it was decided
};

/// A value that somebody read off a meter.
struct MeterReading {
    Span header;
    Choice<Test> test;
    Field<std::string> at, found, date, meter;
    Field<bool> cold;
    Index element = nowhere;  ///< where it was read, or
    Index metal = nowhere;    ///< the metal part (counts Plan::metals)
};

/// An entry of the history of the plan.
struct Change {
    Span header;
    Field<std::string> revision, date, what;
};

/// Limits of a local code that replace those of the tables.
struct Local {
    Span header;
    bool present = false;
    Field<Ratio> voltage_drop_limit, start_dip_limit, long_run_share;
    Field<Current> residual_trip;
    Field<bool> ambient_credit;
    Field<std::string> source;
    /// Who says what stands in a common file.
    struct House {
        Span header;
        std::string source;
    };
    std::vector<House> houses;
    /// Who says what stands at this place; "" where nobody does.
    [[nodiscard]] std::string_view source_of(const Span& place) const;
};

/// Name, revision and region.
struct Head {
    Span header;
    Field<std::string> title, place, contact, revision, date, region, edition, country;
    Field<std::vector<std::string>> common;  ///< paths of common files, from the plan's folder
    Choice<Mounting> mounting;
    Field<Temperature> ambient;
};

/// Where the bench stands and who uses it.
struct Site {
    Span header;
    Choice<Use> use;
    Choice<Room> room;
    Choice<Wet> wet;
    Field<bool> dust, children;
};

/// Loads that may run at the same time. It stands for itself and all its subsets.
struct RunSet {
    std::string name;
    std::vector<Index> loads;  ///< element indices, rising
    bool assumed = false;      ///< made by the format's rule for loads in no declared set
    Index declared = nowhere;  ///< index into Plan::together
};

/// All that a plan says, and what is assumed where it says nothing.
struct Plan {
    std::string path;   ///< of the file, as given
    std::string today;  ///< "2026-05-02", as the caller says; "" where nobody does
    Field<std::int64_t> format;
    Head head;
    Site site;
    Local local;
    std::vector<Element> elements;  ///< in file order, then those of common files that feed them
    std::vector<Stock> stocks;
    /// Elements and stocks of common files that others are `like`; none of them is on the bench.
    std::vector<Element> patterns;
    std::vector<Stock> stock_patterns;
    std::vector<MetalPart> metals;
    std::vector<Together> together;
    std::vector<Accept> accepts;
    std::vector<Change> changes;
    std::vector<MeterReading> readings;
    std::vector<RunSet> sets;  ///< declared and assumed, closed over self-starting, starts_with, tool sockets
    RunSet everything;  ///< of loads in turns or behind a changeover the one with most amps (see sets.cpp)

    /// Throws std::out_of_range for `nowhere`: a mistake of ours ends one plan and not the program.
    [[nodiscard]] const Element& operator[](Index index) const { return elements.at(index); }
    [[nodiscard]] const Supply& supply_of(
        Index index) const;  ///< of the supply from which the element is fed
    /// The supply above an element; `nowhere` where there is none.
    [[nodiscard]] Index supply_index_of(Index index) const;
    /// Element indices from the supply down to this one, both included.
    [[nodiscard]] std::vector<Index> path_to(Index index) const;
    [[nodiscard]] Index find(Kind kind, std::string_view name) const;  ///< nowhere if there is none
};

}  // namespace benchfeed::plan
