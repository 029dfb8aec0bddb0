// Text -> quantity, with the dimension checked and words for what does not fit.
#include <benchfeed/base/quantity_text.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <iterator>
#include <optional>
#include <span>

#include <benchfeed/base/unit_words.hpp>

namespace benchfeed {

namespace {

const UnitName* find_unit(std::string_view word) {
    const auto it =
        std::find_if(unit_names.begin(), unit_names.end(), [&](const UnitName& u) { return u.word == word; });
    return it == unit_names.end() ? nullptr : &*it;
}

std::string an_example(std::span<const Dimension> dimensions) {
    constexpr std::array<std::string_view, 12> examples{
        "\"3 m\"",     "\"1.5 mm2\"", "\"16 A\"",    "\"230 V\"", "\"1600 W\"", "\"2 hp\"",
        "\"0.8 ohm\"", "\"30 degC\"", "\"130 cm3\"", "\"50 Hz\"", "\"3 %\"",    "\"3 kVA\""};
    std::string out;
    for (std::size_t i = 0; i < dimensions.size(); ++i)
        out +=
            std::string(i > 0 ? " or " : "") + std::string(examples[static_cast<std::size_t>(dimensions[i])]);
    return out;
}

/// An example beside which nobody takes its figure for advice.
std::string such_as(std::span<const Dimension> dimensions) {
    return "such as " + an_example(dimensions);
}

/// A text as it may stand in a message: what is far too long is cut.
std::string shown(std::string_view text) {
    constexpr std::size_t most = 40;
    if (text.size() <= most) return std::string(text);
    std::size_t end = most;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0u) == 0x80u) --end;
    return std::string(text.substr(0, end)) + "...";
}

/// A number and its unit, split.
struct Pieces {
    std::string_view number, unit;
    std::size_t unit_at = 0;
};

bool part_of_number(char c) {
    return (c >= '0' && c <= '9') || c == '.' || c == '/' || c == '-' || c == '+' || c == ',';
}

Pieces split(std::string_view text) {
    std::size_t at = 0;
    while (at < text.size() && (part_of_number(text[at]) || (text[at] == ' ' && at + 1 < text.size() &&
                                                             text[at + 1] >= '0' && text[at + 1] <= '9')))
        ++at;
    Pieces pieces;
    pieces.number = text.substr(0, at);
    while (at < text.size() && text[at] == ' ') ++at;
    pieces.unit = text.substr(at);
    pieces.unit_at = at;
    return pieces;
}

std::optional<double> plain_number(std::string_view text) {
    double value = 0;
    const auto [end, error] =
        std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    if (text.front() == '.' || text.back() == '.') return std::nullopt;
    return value;
}

/// "1/2", "1 1/2" and "1-1/2", as plates of motors print it.
std::optional<double> fraction(std::string_view text) {
    const auto slash = text.find('/');
    if (slash == std::string_view::npos) return plain_number(text);
    const auto gap = text.find_first_of(" -");
    const std::string_view whole = gap == std::string_view::npos ? "0" : text.substr(0, gap);
    const std::string_view top = text.substr(gap == std::string_view::npos ? 0 : gap + 1,
                                             slash - (gap == std::string_view::npos ? 0 : gap + 1));
    const auto w = plain_number(whole), t = plain_number(top), b = plain_number(text.substr(slash + 1));
    if (!w || !t || !b || *b == 0) return std::nullopt;
    return *w + *t / *b;
}

struct Amount {
    double si = 0;
    Dimension dimension{};
    std::optional<Awg> gauge;
};
using AmountOrFault = std::variant<Amount, QuantityFault>;

QuantityFault fault(std::string_view text, std::string message, std::string help) {
    return {std::move(message), std::move(help), 0, text.size()};
}

bool has_whole_thousands(std::string_view number, std::size_t comma) {
    return comma > 0 && number[0] != '0' && number.size() == comma + 4;
}

/// "3,5 m", "1,600 W", "1,600,000 W": a comma may stand for a point or between thousands.
QuantityFault comma_fault(std::string_view text, const Pieces& pieces) {
    const auto comma = pieces.number.find(',');
    std::string with_point(text), without(text);
    std::replace(with_point.begin(), with_point.end(), ',', '.');
    without.erase(std::remove(without.begin(), without.end(), ','), without.end());
    const bool several = pieces.number.find(',', comma + 1) != std::string_view::npos;
    return fault(text, fmt::format("\"{}\" has a comma", shown(text)),
                 several ? fmt::format("\"{}\"", shown(without))
                 : has_whole_thousands(pieces.number, comma)
                     ? fmt::format("\"{}\", or \"{}\" if the comma is a decimal one", without, with_point)
                     : fmt::format("\"{}\", with a point", shown(with_point)));
}

/// What was probably meant by a number that does not read.
QuantityFault number_fault(std::string_view text, const Pieces& pieces, std::span<const Dimension> wanted) {
    const std::string_view number = pieces.number;
    std::string tight;
    std::copy_if(number.begin(), number.end(), std::back_inserter(tight), [](char c) { return c != ' '; });
    if (tight.ends_with('.')) tight.pop_back();
    if (tight.starts_with('.')) tight.insert(0, "0");
    if (const auto dash = number.find('-', 1);
        dash != std::string_view::npos && number[dash - 1] != '+' && number[dash - 1] != '-')
        return fault(text, fmt::format("\"{}\" is a range", shown(number)),
                     "one number: the larger one, where both are printed");
    if (tight != number && plain_number(tight))
        return fault(text, fmt::format("\"{}\" is not a number", shown(number)),
                     fmt::format("\"{} {}\"", shown(tight), pieces.unit));
    return fault(text, fmt::format("\"{}\" is not a number", shown(number)),
                 "plain digits with a point, " + such_as(wanted));
}

AmountOrFault read_gauge(std::string_view text, std::string_view number) {
    const auto slash = number.find('/');
    std::optional<int> gauge;
    if (slash != std::string_view::npos && number.substr(slash) == "/0") {
        if (const auto aught = plain_number(number.substr(0, slash));
            aught && *aught == std::floor(*aught) && *aught >= 1 && *aught <= 4)
            gauge = 1 - static_cast<int>(*aught);
    } else if (const auto n = plain_number(number);
               n && *n == std::floor(*n) && *n >= 0 && *n <= thinnest_awg.number) {
        gauge = static_cast<int>(*n);
    }
    if (!gauge)
        return fault(text, fmt::format("there is no gauge \"{}\"", shown(text)),
                     "a whole number up to 36, or 1/0 to 4/0: \"14 AWG\"");
    return Amount{in(unit::mm2, awg_area(Awg{*gauge})) * 1e-6, Dimension::section, Awg{*gauge}};
}

/// Number and unit without knowing what is wanted. Signs are left for temperatures.
AmountOrFault read_amount(std::string_view text, std::string_view field, std::span<const Dimension> wanted) {
    const Pieces pieces = split(text);
    if (text.empty()) return fault(text, fmt::format("{} is empty", field), such_as(wanted));
    if (pieces.number.empty()) {
        if (text.starts_with("AWG") || text.starts_with("awg") || text.starts_with("#"))
            return fault(text, fmt::format("\"{}\": the number comes first", shown(text)), "\"14 AWG\"");
        return fault(text, fmt::format("{} has no number: \"{}\"", field, shown(text)), such_as(wanted));
    }
    if (pieces.number.find(',') != std::string_view::npos) return comma_fault(text, pieces);
    if (pieces.unit.empty()) {
        const std::string units = units_listed(wanted);
        return fault(text, fmt::format("{} needs a unit: \"{}\" could be {}", field, shown(text), units),
                     fmt::format("\"{} {}\"", shown(text), units.substr(0, units.find_first_of(", "))));
    }
    const UnitName* known = find_unit(pieces.unit);
    if (!known) {
        const auto slip =
            std::find_if(slips.begin(), slips.end(), [&](const Slip& s) { return s.written == pieces.unit; });
        QuantityFault f =
            slip != slips.end()
                ? QuantityFault{fmt::format("\"{}\" is no unit here", pieces.unit),
                                fmt::format("\"{} {}\"", shown(pieces.number), slip->meant)}
                : QuantityFault{fmt::format("\"{}\" is no unit that a plan knows", shown(pieces.unit)),
                                "the number with " + units_listed(wanted)};
        f.from = pieces.unit_at;
        f.to = text.size();
        return f;
    }
    if (known->word == "AWG") return read_gauge(text, pieces.number);
    const bool temperature = known->dimension == Dimension::temperature;
    const bool sign = pieces.number.front() == '-' || pieces.number.front() == '+';
    const bool range =
        pieces.number.find('-', 1) != std::string_view::npos && known->dimension == Dimension::voltage;
    if (sign && !temperature)
        return fault(text, fmt::format("\"{}\" has a sign", shown(text)), "the number without a sign");
    if (range) return Amount{0, Dimension::voltage, {}};  // read_range() looks at its two ends
    const std::string_view unsigned_number =
        pieces.number.front() == '+' ? pieces.number.substr(1) : pieces.number;
    const auto value =
        known->dimension == Dimension::horsepower ? fraction(unsigned_number) : plain_number(unsigned_number);
    if (!value || (pieces.number.front() == '+' && unsigned_number.starts_with('-')))
        return number_fault(text, pieces, wanted);
    if (temperature) {
        const bool us = known->word == "degF" || known->word == "°F";
        return Amount{in_celsius(us ? fahrenheit(*value) : celsius(*value)), Dimension::temperature, {}};
    }
    return Amount{*value * known->scale, known->dimension, {}};
}

/// Greatest value of a dimension that a bench and its supply can have; beyond it a digit is wrong.
struct Bounds {
    double least, most;
    std::string_view words;
};
Bounds bounds_of(Dimension dimension) {
    switch (dimension) {
        case Dimension::length:
            return {1e-3, 10'000, "between 1 mm and 10 000 m"};
        case Dimension::section:
            return {1e-9, 1e-3, "between 0.001 and 1000 mm2"};
        case Dimension::current:
            return {0, 200'000, "between 0 and 200 kA"};
        case Dimension::voltage:
            return {1e-3, 1000, "between 0 and 1000 V"};
        case Dimension::power:
            return {1e-3, 1e6, "between 0 and 1000 kW"};
        case Dimension::apparent_power:
            return {1e-3, 1e6, "between 0 and 1000 kVA"};
        case Dimension::horsepower:
            return {1e-3, 1e6, "between 0 and 1000 hp"};
        case Dimension::impedance:
            return {0, 100'000, "between 0 and 100 000 ohm"};
        case Dimension::temperature:
            return {-60, 150, "between -60 and 150 degC"};
        case Dimension::volume:
            return {1e-9, 1, "between 0 and 1 000 000 cm3"};
        case Dimension::frequency:
            return {1, 1000, "between 1 and 1000 Hz"};
        case Dimension::ratio:
            return {0, 1, "between 0 and 100 %"};
    }
    return {0, 0, ""};
}

AmountOrFault read_one_of(std::string_view text, std::string_view field, std::span<const Dimension> wanted) {
    AmountOrFault read = read_amount(text, field, wanted);
    const auto* amount = std::get_if<Amount>(&read);
    if (!amount) return read;
    if (std::find(wanted.begin(), wanted.end(), amount->dimension) == wanted.end()) {
        std::string kinds;
        for (std::size_t i = 0; i < wanted.size(); ++i)
            kinds += std::string(i > 0 ? " or " : "") + std::string(name(wanted[i]));
        if (amount->dimension == Dimension::horsepower && wanted.front() == Dimension::power)
            return fault(text,
                         fmt::format("{} is in W or kW; \"{}\" belongs in horsepower", field, shown(text)),
                         "horsepower = \"" + std::string(text) + "\"");
        if (amount->dimension == Dimension::apparent_power && wanted.size() == 1 &&
            wanted.front() == Dimension::power)
            return fault(text,
                         fmt::format("{} is in W or kW; \"{}\" is volts times amps", field, shown(text)),
                         "the W of the plate; where it prints none, its amps as current");
        const Pieces pieces = split(text);
        const bool thickness = pieces.unit == "mm" &&
                               std::find(wanted.begin(), wanted.end(), Dimension::section) != wanted.end();
        return fault(
            text, fmt::format("{} is {}; \"{}\" is {}", field, kinds, shown(text), name(amount->dimension)),
            thickness ? fmt::format("\"{} mm2\"", shown(pieces.number)) : such_as(wanted));
    }
    const Bounds bounds = bounds_of(amount->dimension);
    const bool range = amount->dimension == Dimension::voltage && amount->si == 0 &&
                       text.find('-') != std::string_view::npos;
    if (!range && !(amount->si >= bounds.least && amount->si <= bounds.most))
        return fault(text, fmt::format("{} cannot be {}", field, shown(text)), std::string(bounds.words));
    return read;
}

template <class Q, class Make>
Read<Q> read_as(std::string_view text, std::string_view field, std::initializer_list<Dimension> wanted,
                Make make) {
    AmountOrFault read = read_one_of(text, field, std::span(wanted.begin(), wanted.size()));
    if (auto* f = std::get_if<QuantityFault>(&read)) return std::move(*f);
    return make(std::get<Amount>(read));
}

Read<VoltageRange> read_range(std::string_view text, std::string_view field) {
    const auto one = read_as<Voltage>(text, field, {Dimension::voltage},
                                      [](const Amount& a) { return a.si * unit::volt; });
    if (const auto* f = std::get_if<QuantityFault>(&one)) return *f;
    const Pieces pieces = split(text);
    const auto dash = pieces.number.find('-');
    if (dash == std::string_view::npos) return VoltageRange{std::get<Voltage>(one), std::get<Voltage>(one)};
    const auto low = plain_number(pieces.number.substr(0, dash)),
               high = plain_number(pieces.number.substr(dash + 1));
    if (!low || !high)
        return fault(text, fmt::format("\"{}\" is not a range of volts", shown(text)), "\"220-240 V\"");
    if (!(*low > 0 && *low <= *high && *high <= 1000))
        return fault(text, fmt::format("\"{}\" does not rise from low to high", shown(text)),
                     "\"220-240 V\"");
    return VoltageRange{*low * unit::volt, *high * unit::volt};
}

}  // namespace

template <>
BENCHFEED_API Read<Length> read_quantity<Length>(std::string_view t, std::string_view f) {
    return read_as<Length>(t, f, {Dimension::length}, [](const Amount& a) { return a.si * unit::metre; });
}
template <>
BENCHFEED_API Read<Section> read_quantity<Section>(std::string_view t, std::string_view f) {
    return read_as<Section>(t, f, {Dimension::section}, [](const Amount& a) {
        return a.gauge ? section_of(*a.gauge) : section_of(a.si * 1e6 * unit::mm2);
    });
}
template <>
BENCHFEED_API Read<Current> read_quantity<Current>(std::string_view t, std::string_view f) {
    return read_as<Current>(t, f, {Dimension::current}, [](const Amount& a) { return a.si * unit::ampere; });
}
template <>
BENCHFEED_API Read<Voltage> read_quantity<Voltage>(std::string_view t, std::string_view f) {
    const auto range = read_range(t, f);
    if (const auto* bad = std::get_if<QuantityFault>(&range)) return *bad;
    const auto& both = std::get<VoltageRange>(range);
    if (t.find('-') != std::string_view::npos)
        return fault(t, fmt::format("{} is one voltage, not a range", f), "\"230 V\"");
    return both.low;
}
template <>
BENCHFEED_API Read<VoltageRange> read_quantity<VoltageRange>(std::string_view t, std::string_view f) {
    return read_range(t, f);
}
template <>
BENCHFEED_API Read<Power> read_quantity<Power>(std::string_view t, std::string_view f) {
    return read_as<Power>(t, f, {Dimension::power}, [](const Amount& a) { return a.si * unit::watt; });
}
template <>
BENCHFEED_API Read<Horsepower> read_quantity<Horsepower>(std::string_view t, std::string_view f) {
    return read_as<Horsepower>(t, f, {Dimension::horsepower},
                               [](const Amount& a) { return Horsepower{a.si * unit::watt}; });
}
template <>
BENCHFEED_API Read<Impedance> read_quantity<Impedance>(std::string_view t, std::string_view f) {
    return read_as<Impedance>(t, f, {Dimension::impedance}, [](const Amount& a) { return a.si * unit::ohm; });
}
template <>
BENCHFEED_API Read<Temperature> read_quantity<Temperature>(std::string_view t, std::string_view f) {
    return read_as<Temperature>(t, f, {Dimension::temperature},
                                [](const Amount& a) { return celsius(a.si); });
}
template <>
BENCHFEED_API Read<Volume> read_quantity<Volume>(std::string_view t, std::string_view f) {
    return read_as<Volume>(t, f, {Dimension::volume}, [](const Amount& a) { return a.si * 1e6 * unit::cm3; });
}
template <>
BENCHFEED_API Read<Frequency> read_quantity<Frequency>(std::string_view t, std::string_view f) {
    return read_as<Frequency>(t, f, {Dimension::frequency},
                              [](const Amount& a) { return a.si * unit::hertz; });
}
template <>
BENCHFEED_API Read<Ratio> read_quantity<Ratio>(std::string_view t, std::string_view f) {
    return read_as<Ratio>(t, f, {Dimension::ratio}, [](const Amount& a) { return a.si * unit::one; });
}
template <>
BENCHFEED_API Read<CurrentOrPower> read_quantity<CurrentOrPower>(std::string_view t, std::string_view f) {
    return read_as<CurrentOrPower>(t, f, {Dimension::current, Dimension::power},
                                   [](const Amount& a) -> CurrentOrPower {
                                       if (a.dimension == Dimension::power) return Power(a.si * unit::watt);
                                       return Current(a.si * unit::ampere);
                                   });
}
template <>
BENCHFEED_API Read<MotorRating> read_quantity<MotorRating>(std::string_view t, std::string_view f) {
    return read_as<MotorRating>(t, f, {Dimension::current, Dimension::horsepower},
                                [](const Amount& a) -> MotorRating {
                                    if (a.dimension == Dimension::horsepower)
                                        return Horsepower{a.si * unit::watt};
                                    return Current(a.si * unit::ampere);
                                });
}
template <>
BENCHFEED_API Read<SourcePower> read_quantity<SourcePower>(std::string_view t, std::string_view f) {
    return read_as<SourcePower>(t, f, {Dimension::power, Dimension::apparent_power},
                                [](const Amount& a) -> SourcePower {
                                    if (a.dimension == Dimension::power) return Power(a.si * unit::watt);
                                    return ApparentPower{a.si * unit::watt};
                                });
}

}  // namespace benchfeed
