#include <benchfeed/advice/allowances.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

namespace benchfeed::advice {

namespace {

constexpr std::array<AllowanceName, 7> names{{
    {"free-end", "free conductor at each end of a run"},
    {"bends", "bends and a drip loop, for each run"},
    {"service-loop", "slack of each run in the carcass of a bench that moves"},
    {"clip-spacing", "from clip to clip"},
    {"waste", "share of every cut that is cut wrong"},
    {"ferrules", "share of ferrules that is lost"},
    {"spare-ways", "terminals to spare on each potential"},
}};

template <class Q>
Allowance<Q> taken(const std::optional<tables::Figure<Q>>& figure) {
    if (!figure) return {};
    return {figure->value, std::string(figure->written), figure->source};
}

Allowance<Length> length_of(const tables::Table& table, const rules::Situation& s, std::string name) {
    return taken(table.length(s.nec() ? name + "_us" : name));
}

/// "0", "0 m", "0.0 ft": no length of a plan may be zero, an allowance may.
bool is_none(std::string_view text) {
    if (!text.starts_with('0')) return false;
    const auto unit = std::min(text.find_first_not_of("0. "), text.size());
    return unit == text.size() ||
           std::holds_alternative<Length>(read_quantity<Length>("1 " + std::string(text.substr(unit)), ""));
}

std::optional<QuantityFault> read_length(Allowance<Length>& to, std::string_view name, std::string_view text,
                                         bool may_be_none) {
    if (may_be_none && is_none(text)) {
        to = {Length{}, text == "0" ? "0 m" : std::string(text), std::nullopt};
        return std::nullopt;
    }
    auto read = read_quantity<Length>(text, name);
    if (auto* fault = std::get_if<QuantityFault>(&read)) return std::move(*fault);
    const Length length = std::get<Length>(read);
    if (!may_be_none && !(length > Length{}))
        return QuantityFault{fmt::format("{} is above zero; \"{}\" is not", name, text), "\"0.25 m\"", 0,
                             text.size()};
    to = {length, std::string(text), std::nullopt};
    return std::nullopt;
}

std::optional<QuantityFault> read_share(Allowance<Ratio>& to, std::string_view name, std::string_view text) {
    auto read = read_quantity<Ratio>(text, name);
    if (auto* fault = std::get_if<QuantityFault>(&read)) return std::move(*fault);
    to = {std::get<Ratio>(read), std::string(text), std::nullopt};
    return std::nullopt;
}

std::optional<QuantityFault> read_count(Allowance<int>& to, std::string_view name, std::string_view text) {
    int count = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), count);
    if (error != std::errc{} || end != text.data() + text.size() || count < 0 || count > 100)
        return QuantityFault{fmt::format("{} is a number of ways from 0 to 100; \"{}\" is none", name, text),
                             "spare-ways=2", 0, text.size()};
    to = {count, std::string(text), std::nullopt};
    return std::nullopt;
}

/// A quantity as the steps print it: "0.3m" reads, and prints as "0.3 m".
std::string spaced(std::string_view text) {
    const auto unit = text.find_first_not_of("0123456789. ");
    if (unit == std::string_view::npos || unit == 0) return std::string(text);
    std::string number(text.substr(0, unit));
    number.erase(number.find_last_not_of(' ') + 1);
    return number + " " + std::string(text.substr(unit));
}

std::optional<QuantityFault> read_value(Allowances& allowances, std::string_view name,
                                        std::string_view text) {
    if (name == "free-end") return read_length(allowances.free_end, name, text, true);
    if (name == "bends") return read_length(allowances.bends, name, text, true);
    if (name == "service-loop") return read_length(allowances.service_loop, name, text, true);
    if (name == "clip-spacing") return read_length(allowances.clip_spacing, name, text, false);
    if (name == "waste") return read_share(allowances.waste, name, text);
    if (name == "ferrules") return read_share(allowances.ferrules, name, text);
    return read_count(allowances.spare_ways, name, text);
}

}  // namespace

std::span<const AllowanceName> allowance_names() {
    return names;
}

Allowances usual_allowances(const rules::Situation& s) {
    const tables::Table* table = s.tables.table("part-allowances");
    if (!table) return {};
    Allowances usual;
    usual.free_end = length_of(*table, s, "free_end");
    usual.bends = length_of(*table, s, "bends");
    usual.service_loop = length_of(*table, s, "service_loop");
    usual.clip_spacing = length_of(*table, s, "clip_spacing");
    usual.waste = taken(table->ratio("waste"));
    usual.ferrules = taken(table->ratio("ferrules"));
    if (const tables::Fact* ways = table->fact("spare_ways"); ways && table->number("spare_ways")) {
        const int count = static_cast<int>(*table->number("spare_ways"));
        usual.spare_ways = {count, std::to_string(count), table->cite(*ways)};
    }
    return usual;
}

std::optional<QuantityFault> allow(Allowances& allowances, std::string_view text) {
    const auto equals = text.find('=');
    const std::string_view name = text.substr(0, equals);
    const bool known = std::any_of(names.begin(), names.end(), [&](const auto& n) { return n.name == name; });
    if (equals == std::string_view::npos || !known) {
        std::string all;
        for (const AllowanceName& one : names) all += (all.empty() ? "" : ", ") + std::string(one.name);
        return QuantityFault{fmt::format("\"{}\" is no allowance", name), all + ", each with =VALUE", 0,
                             name.size()};
    }
    const std::string value = spaced(text.substr(equals + 1));
    auto fault = read_value(allowances, name, value);
    if (fault) {
        fault->from = equals + 1;
        fault->to = text.size();
    }
    return fault;
}

}  // namespace benchfeed::advice
