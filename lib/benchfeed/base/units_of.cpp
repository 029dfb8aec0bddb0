// Which units a quantity may be written in.
#include <algorithm>
#include <initializer_list>
#include <span>
#include <vector>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/base/unit_words.hpp>

namespace benchfeed {

std::string units_listed(std::span<const Dimension> dimensions) {
    std::vector<std::string_view> words;
    for (const UnitName& u : unit_names)
        if (u.listed && std::find(dimensions.begin(), dimensions.end(), u.dimension) != dimensions.end())
            words.push_back(u.word);
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) out += i + 1 == words.size() ? " or " : ", ";
        out += words[i];
    }
    return out;
}

namespace {

std::string listed(std::initializer_list<Dimension> wanted) {
    return units_listed(std::span(wanted.begin(), wanted.size()));
}

}  // namespace

template <>
std::string units_of<Length>() {
    return listed({Dimension::length});
}
template <>
std::string units_of<Section>() {
    return listed({Dimension::section});
}
template <>
std::string units_of<Current>() {
    return listed({Dimension::current});
}
template <>
std::string units_of<Voltage>() {
    return listed({Dimension::voltage});
}
template <>
std::string units_of<VoltageRange>() {
    return listed({Dimension::voltage});
}
template <>
std::string units_of<Power>() {
    return listed({Dimension::power});
}
template <>
std::string units_of<Horsepower>() {
    return listed({Dimension::horsepower});
}
template <>
std::string units_of<Impedance>() {
    return listed({Dimension::impedance});
}
template <>
std::string units_of<Temperature>() {
    return listed({Dimension::temperature});
}
template <>
std::string units_of<Volume>() {
    return listed({Dimension::volume});
}
template <>
std::string units_of<Frequency>() {
    return listed({Dimension::frequency});
}
template <>
std::string units_of<Ratio>() {
    return listed({Dimension::ratio});
}
template <>
std::string units_of<CurrentOrPower>() {
    return listed({Dimension::current, Dimension::power});
}
template <>
std::string units_of<MotorRating>() {
    return listed({Dimension::current, Dimension::horsepower});
}
template <>
std::string units_of<SourcePower>() {
    return listed({Dimension::power, Dimension::apparent_power});
}

}  // namespace benchfeed
