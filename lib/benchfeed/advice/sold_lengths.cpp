#include <benchfeed/advice/sold_lengths.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>

#include <benchfeed/text/toml.hpp>

namespace benchfeed::advice {

namespace {

constexpr std::string_view size_help = "\"3 x 1.5 mm2\" = [\"10 m\", \"25 m\"]";

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return text;
}

/// A length in which something can be sold.
Read<Length> read_sold(std::string_view text) {
    auto read = read_quantity<Length>(text, "a sold length");
    const auto* length = std::get_if<Length>(&read);
    if (length && !(*length > Length{}))
        return QuantityFault{fmt::format("a sold length is above zero; \"{}\" is not", text), "\"10 m\"", 0,
                             text.size()};
    return read;
}

std::vector<Length> lengths_from(const text::Node& node, const std::string& path, Diagnostics& problems) {
    std::vector<Length> lengths;
    const auto* list = node.as<text::Array>();
    if (!list || list->items.empty()) {
        problems.push_back(
            {path, "sold lengths are a list of lengths", {{node.span, ""}}, "[\"10 m\", \"25 m\"]"});
        return lengths;
    }
    for (const text::Node& item : list->items) {
        const auto* text = item.as<std::string>();
        if (!text) {
            problems.push_back({path, "a length is a text with its unit", {{item.span, ""}}, "\"10 m\""});
            continue;
        }
        const auto read = read_sold(*text);
        if (const auto* fault = std::get_if<QuantityFault>(&read))
            problems.push_back({path, fault->message, {{item.span, ""}}, fault->help});
        else
            lengths.push_back(std::get<Length>(read));
    }
    return lengths;
}

/// "3 x 1.5 mm2".
std::optional<std::pair<int, Section>> cores_and_section(std::string_view key) {
    const auto times = key.find('x');
    if (times == std::string_view::npos) return std::nullopt;
    const std::string_view before = trimmed(key.substr(0, times)), behind = trimmed(key.substr(times + 1));
    int cores = 0;
    const auto [end, error] = std::from_chars(before.data(), before.data() + before.size(), cores);
    if (error != std::errc{} || end != before.data() + before.size() || cores < 1) return std::nullopt;
    const auto section = read_quantity<Section>(behind, "the section");
    if (!std::holds_alternative<Section>(section)) return std::nullopt;
    return std::pair{cores, std::get<Section>(section)};
}

void add_type(const text::Entry& type, SoldLengths& sold, Diagnostics& problems) {
    const std::string path = "sold." + type.key;
    const auto* sizes = type.node.as<text::Table>();
    if (!sizes) {
        problems.push_back({path,
                            "lengths of a type stand in a table",
                            {{type.node.span, ""}},
                            "[sold.\"" + type.key + "\"]"});
        return;
    }
    for (const text::Entry& size : sizes->entries) {
        const auto read = cores_and_section(size.key);
        if (!read) {
            problems.push_back({path + "." + size.key,
                                "\"" + size.key + "\" is not cores x section",
                                {{size.key_span, ""}},
                                std::string(size_help)});
            continue;
        }
        sold.of.push_back(
            {type.key, read->first, read->second, lengths_from(size.node, path + "." + size.key, problems)});
    }
}

}  // namespace

const std::vector<Length>& SoldLengths::lengths_of(const std::string& type, int cores,
                                                   const Section& section) const {
    const auto it = std::find_if(of.begin(), of.end(), [&](const Of& one) {
        return one.type == type && one.cores == cores && one.section == section;
    });
    return it == of.end() ? others : it->lengths;
}

std::variant<SoldLengths, Diagnostics> read_sold_lengths(const text::Document& document) {
    text::Parsed parsed = text::parse_toml(document);
    if (!parsed.problems.empty()) return std::move(parsed.problems);
    SoldLengths sold;
    Diagnostics problems;
    for (const text::Entry& entry : parsed.root.entries) {
        const auto* types = entry.node.as<text::Table>();
        if (entry.key == "others")
            sold.others = lengths_from(entry.node, "others", problems);
        else if (entry.key == "sold" && types)
            for (const text::Entry& type : types->entries) add_type(type, sold, problems);
        else
            problems.push_back(
                {entry.key,
                 fmt::format("a list of sold lengths has no {}; it has sold and others", entry.key),
                 {{entry.key_span, ""}},
                 "[sold.\"H07RN-F\"] and " + std::string(size_help)});
    }
    if (problems.empty() && sold.of.empty() && sold.others.empty())
        problems.push_back(
            {"sold", "the list has no length", {}, "[sold.\"H07RN-F\"] and " + std::string(size_help)});
    if (!problems.empty()) return problems;
    return sold;
}

std::variant<std::vector<Length>, QuantityFault> read_lengths(std::string_view text) {
    std::vector<Length> lengths;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find(',', at), text.size());
        auto read = read_sold(trimmed(text.substr(at, end - at)));
        if (auto* fault = std::get_if<QuantityFault>(&read)) {
            fault->from = at;
            fault->to = end;
            return std::move(*fault);
        }
        lengths.push_back(std::get<Length>(read));
        at = end + 1;
    }
    return lengths;
}

}  // namespace benchfeed::advice
