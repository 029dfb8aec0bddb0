#include <benchfeed/rules/supplies.hpp>

#include <fmt/format.h>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>

namespace benchfeed::rules {

namespace {

/// What one supply says of the other: its name or path stands in `separate_from`.
Known says(const Situation& s, Index from, Index other) {
    const auto& list = s.plan[from].as<plan::Supply>()->separate_from;
    if (!list.known()) return Known::open;
    const bool named = std::any_of(list->begin(), list->end(), [&](const std::string& name) {
        return name == s.plan[other].name || name == s.plan[other].path();
    });
    return named ? Known::yes : Known::no;
}

}  // namespace

bool feeds_the_bench(const Situation& s, Index supply) {
    for (Index at = s.network.enter[supply]; at < s.network.leave[supply]; ++at) {
        const Index i = s.network.order[at];
        const auto kind = s.plan[i].kind;
        if (kind != plan::Kind::load && kind != plan::Kind::supply && !s.network.house[i]) return true;
    }
    return false;
}

bool is_own_source(const Situation& s, Index element) {
    return !s.plan.supply_of(element).source.is(plan::SupplySource::public_network);
}

std::string source_place(const Situation& s, Index element) {
    if (!is_own_source(s, element)) return "the panel";
    return "the " + std::string(s.plan.supply_of(element).source.word());
}

std::string on_source(const Situation& s, Index element) {
    return (is_own_source(s, element) ? "on " : "in ") + source_place(s, element);
}

bool is_floating(const Situation& s, Index element) {
    return is_own_source(s, element) && s.plan.supply_of(element).earthing.is(plan::Earthing::it);
}

namespace {

Power size_of(const SourcePower& power) {
    if (const auto* apparent = std::get_if<ApparentPower>(&power)) return apparent->size;
    return std::get<Power>(power);
}

SourceAmps amps_from(const Situation& s, Index supply, const SourcePower& power) {
    SourceAmps source;
    source.power = power;
    source.lines = s.plan[supply].conductors.value_or(plan::Conductors{}).lines();
    source.volts =
        magnitude(network::nominal_voltage(*s.plan[supply].as<plan::Supply>(), plan::Conductor::l1));
    const double lines = source.lines;
    source.amps = Current(size_of(power) / Voltage(lines * source.volts));
    return source;
}

}  // namespace

std::optional<SourceAmps> amps_for_hours(const Situation& s, Index supply) {
    const auto& current = s.plan[supply].as<plan::Supply>()->current;
    if (current.known()) return SourceAmps{.amps = *current, .power = {}};
    return power_for_hours(s, supply);
}
std::optional<SourceAmps> power_for_hours(const Situation& s, Index supply) {
    const auto& power = s.plan[supply].as<plan::Supply>()->power;
    return power.known() ? std::optional(amps_from(s, supply, *power)) : std::nullopt;
}
std::optional<SourceAmps> amps_for_starts(const Situation& s, Index supply) {
    const auto& power = s.plan[supply].as<plan::Supply>()->start_power;
    return power.known() ? std::optional(amps_from(s, supply, *power)) : std::nullopt;
}

std::string plate_words(const SourceAmps& source) {
    if (!source.power) return to_text(source.amps, 6);
    return std::visit([](const auto& power) { return to_text(power, 6); }, *source.power);
}

Value explain_source_amps(Working& working, const SourceAmps& source, Ratio power_factor) {
    const Value plate = working.written(plate_words(source));
    if (!source.power) return plate;
    const std::string symbol = source.active() ? "P" : "S";
    const std::string lines = source.lines > 1 ? fmt::format("{} * ", source.lines) : "";
    const Value volts = working.written(to_text(source.volts, 6));
    if (in(unit::one, power_factor) < 1)
        return working.add("I_source", fmt::format("{} / ({}U0 * pf)", symbol, lines),
                           "{} / (" + lines + "{} * {})",
                           {plate, volts, working.written(plain_digits(in(unit::one, power_factor)))}, "A");
    if (lines.empty()) return working.add("I_source", symbol + " / U0", "{} / {}", {plate, volts}, "A");
    return working.add("I_source", fmt::format("{} / ({}U0)", symbol, lines), "{} / (" + lines + "{})",
                       {plate, volts}, "A");
}

std::vector<SupplyPair> supply_pairs(const Situation& s) {
    std::vector<Index> supplies;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == plan::Kind::supply && feeds_the_bench(s, i)) supplies.push_back(i);
    // Which of two is the second one must not hang on the order of a file.
    std::sort(supplies.begin(), supplies.end(),
              [&](Index a, Index b) { return s.plan[a].name < s.plan[b].name; });
    std::vector<SupplyPair> pairs;
    for (std::size_t a = 0; a < supplies.size(); ++a)
        for (std::size_t b = a + 1; b < supplies.size(); ++b) {
            const Known there = says(s, supplies[a], supplies[b]), back = says(s, supplies[b], supplies[a]);
            Known separate = Known::open;
            if (there == Known::yes || back == Known::yes)
                separate = Known::yes;
            else if (there == Known::no || back == Known::no)
                separate = Known::no;
            pairs.push_back({supplies[a], supplies[b], separate});
        }
    return pairs;
}

}  // namespace benchfeed::rules
