#include <benchfeed/plan/found.hpp>

#include <array>
#include <charconv>

namespace benchfeed::plan {

namespace {

struct Unit {
    std::string_view word;
    Measure (*of)(double);
};
constexpr std::array units{
    Unit{"mohm", [](double v) { return Measure(v * 1e-3 * unit::ohm); }},
    Unit{"kohm", [](double v) { return Measure(v * 1e3 * unit::ohm); }},
    Unit{"Mohm", [](double v) { return Measure(v * 1e6 * unit::ohm); }},
    Unit{"ohm", [](double v) { return Measure(v * unit::ohm); }},
    Unit{"mΩ", [](double v) { return Measure(v * 1e-3 * unit::ohm); }},
    Unit{"kΩ", [](double v) { return Measure(v * 1e3 * unit::ohm); }},
    Unit{"MΩ", [](double v) { return Measure(v * 1e6 * unit::ohm); }},
    Unit{"Ω", [](double v) { return Measure(v * unit::ohm); }},
    Unit{"mA", [](double v) { return Measure(v * 1e-3 * unit::ampere); }},
    Unit{"A", [](double v) { return Measure(v * unit::ampere); }},
    Unit{"V", [](double v) { return Measure(v * unit::volt); }},
    Unit{"ms", [](double v) { return Measure(v * 1e-3 * unit::second); }},
    Unit{"s", [](double v) { return Measure(v * unit::second); }},
};

constexpr double most = 1e12;  ///< of any unit: no meter shows more

void trim(std::string_view& text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
}

}  // namespace

std::optional<Found> read_found(std::string_view text) {
    trim(text);
    if (text == "open") return Found{Found::Kind::open, {}};
    if (text == "no trip") return Found{Found::Kind::no_trip, {}};
    if (text == "as marked") return Found{Found::Kind::as_marked, {}};
    if (text == "backwards") return Found{Found::Kind::backwards, {}};
    Found found;
    if (text.starts_with('<') || text.starts_with('>')) {
        found.kind = text.front() == '<' ? Found::Kind::below : Found::Kind::above;
        text.remove_prefix(1);
        trim(text);
    }
    if (text.empty() || text.front() < '0' || text.front() > '9') return std::nullopt;
    double number = 0;
    const auto [end, fault] =
        std::from_chars(text.data(), text.data() + text.size(), number, std::chars_format::fixed);
    if (fault != std::errc{} || number > most || *(end - 1) == '.') return std::nullopt;
    text.remove_prefix(static_cast<std::size_t>(end - text.data()));
    trim(text);
    for (const Unit& unit : units)
        if (unit.word == text) {
            found.value = unit.of(number);
            return found;
        }
    return std::nullopt;
}

bool of_a_residual_device(Test test) {
    return test == Test::residual || test == Test::residual_high || test == Test::ramp;
}

bool of_volts(Test test) {
    switch (test) {
        case Test::fall:
        case Test::lines:
        case Test::line_to_neutral:
        case Test::line_to_earth:
        case Test::neutral_to_earth:
        case Test::rise:
            return true;
        default:
            return false;
    }
}

bool is_live(Test test) {
    return test == Test::loop || test == Test::rotation || of_volts(test) || of_a_residual_device(test);
}

bool fits(Test test, const Found& found) {
    const bool device = of_a_residual_device(test), turns = test == Test::rotation;
    if (found.kind == Found::Kind::as_marked || found.kind == Found::Kind::backwards) return turns;
    if (found.kind == Found::Kind::open) return !of_volts(test) && !device && !turns;
    if (found.kind == Found::Kind::no_trip) return device;
    if (turns) return false;
    if (of_volts(test)) return std::holds_alternative<Voltage>(found.value);
    if (test == Test::ramp) return std::holds_alternative<Current>(found.value);
    if (device) return std::holds_alternative<Duration>(found.value);
    return std::holds_alternative<Impedance>(found.value);
}

std::string pattern_of(Test test) {
    std::string of, others;
    for (const Unit& unit : units)
        if (fits(test, {Found::Kind::value, unit.of(1)}))
            of += (of.empty() ? "" : "|") + std::string(unit.word);
    if (fits(test, {Found::Kind::open, {}})) others += "|open";
    if (fits(test, {Found::Kind::no_trip, {}})) others += "|no trip";
    if (test == Test::rotation) return "^ *(as marked|backwards) *$";
    return "^ *([<>]? *[0-9]+(\\.[0-9]+)? *(" + of + ")" + others + ") *$";
}

std::string_view such_as(Test test) {
    switch (test) {
        case Test::loop:
        case Test::protective:
        case Test::link:
        case Test::neutral:
            return "such as \"0.9 ohm\", \"< 0.1 ohm\" or \"open\"";
        case Test::insulation:
            return "such as \"200 Mohm\", \"> 500 Mohm\" or \"open\"";
        case Test::fall:
            return "such as \"9.4 V\"";
        case Test::lines:
        case Test::line_to_neutral:
        case Test::line_to_earth:
            return "such as \"231 V\"";
        case Test::neutral_to_earth:
        case Test::rise:
            return "such as \"0.4 V\" or \"< 1 V\"";
        case Test::residual:
        case Test::residual_high:
            return "such as \"28 ms\", \"0.2 s\" or \"no trip\"";
        case Test::ramp:
            return "such as \"22 mA\" or \"no trip\"";
        case Test::rotation:
            return "\"as marked\" or \"backwards\"";
    }
    return "";
}

}  // namespace benchfeed::plan
