// Regular expressions of quantities for schemas, out of the same unit list as the reader.
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/base/unit_words.hpp>

namespace benchfeed {

namespace {

constexpr std::string_view number_pattern = "[0-9]+(\\.[0-9]+)?";

std::string number_of(Dimension dimension) {
    std::string n(number_pattern);
    switch (dimension) {
        case Dimension::temperature:
            return "[-+]?" + n;
        case Dimension::horsepower:  // "1/2", "1 1/2" and "1-1/2" as well
            return "(" + n + "|(" + n + "[ -])?" + n + "/" + n + ")";
        default:
            return n;
    }
}

std::string one_of(Dimension dimension) {
    std::string units;
    for (const UnitName& unit : unit_names)
        if (unit.dimension == dimension && unit.word != "AWG")
            units += (units.empty() ? "" : "|") + std::string(unit.word);
    std::string metric = number_of(dimension) + " *(" + units + ")";
    if (dimension != Dimension::section) return metric;
    return metric + "|(0*([0-9]|[12][0-9]|3[0-6])(\\.0+)?|0*[1-4](\\.0+)?/0) *AWG";
}

std::string pattern(std::initializer_list<Dimension> dimensions) {
    std::string out;
    for (const Dimension dimension : dimensions) out += (out.empty() ? "" : "|") + one_of(dimension);
    return "^(" + out + ")$";
}

}  // namespace

template <>
std::string pattern_of<Length>() {
    return pattern({Dimension::length});
}
template <>
std::string pattern_of<Section>() {
    return pattern({Dimension::section});
}
template <>
std::string pattern_of<Current>() {
    return pattern({Dimension::current});
}
template <>
std::string pattern_of<Voltage>() {
    return pattern({Dimension::voltage});
}
template <>
std::string pattern_of<VoltageRange>() {
    return "^" + std::string(number_pattern) + "(-" + std::string(number_pattern) + ")? *V$";
}
template <>
std::string pattern_of<Power>() {
    return pattern({Dimension::power});
}
template <>
std::string pattern_of<Horsepower>() {
    return pattern({Dimension::horsepower});
}
template <>
std::string pattern_of<Impedance>() {
    return pattern({Dimension::impedance});
}
template <>
std::string pattern_of<Temperature>() {
    return pattern({Dimension::temperature});
}
template <>
std::string pattern_of<Volume>() {
    return pattern({Dimension::volume});
}
template <>
std::string pattern_of<Frequency>() {
    return pattern({Dimension::frequency});
}
template <>
std::string pattern_of<Ratio>() {
    return pattern({Dimension::ratio});
}
template <>
std::string pattern_of<CurrentOrPower>() {
    return pattern({Dimension::current, Dimension::power});
}
template <>
std::string pattern_of<MotorRating>() {
    return pattern({Dimension::current, Dimension::horsepower});
}
template <>
std::string pattern_of<SourcePower>() {
    return pattern({Dimension::power, Dimension::apparent_power});
}

}  // namespace benchfeed
