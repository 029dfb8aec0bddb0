#include <benchfeed/advice/prices.hpp>

#include <fmt/format.h>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/text/toml.hpp>

namespace benchfeed::advice {

namespace {

void add_type(const text::Entry& type, PriceList& list, Diagnostics& problems) {
    const auto* sizes = type.node.as<text::Table>();
    if (!sizes) {
        problems.push_back({"price." + type.key,
                            "prices of a type stand in a table",
                            {{type.node.span, ""}},
                            "[price.\"" + type.key + "\"]"});
        return;
    }
    for (const text::Entry& size : sizes->entries) {
        const std::string path = "price." + type.key + "." + size.key;
        const auto read = read_quantity<Section>(size.key, "the size");
        if (const auto* fault = std::get_if<QuantityFault>(&read)) {
            problems.push_back({path, fault->message, {{size.key_span, ""}}, "\"1.5 mm2\" or \"14 AWG\""});
            continue;
        }
        if (!size.node.is_number() || !(size.node.number() > 0)) {
            problems.push_back(
                {path, "a price for a metre is a number above 0", {{size.node.span, ""}}, "1.20"});
            continue;
        }
        list.prices.push_back({type.key, std::get<Section>(read), size.node.number()});
    }
}

}  // namespace

std::variant<PriceList, Diagnostics> read_prices(const text::Document& document) {
    text::Parsed parsed = text::parse_toml(document);
    if (!parsed.problems.empty()) return std::move(parsed.problems);
    PriceList list;
    Diagnostics problems;
    for (const text::Entry& entry : parsed.root.entries) {
        if (entry.key == "currency" && entry.node.as<std::string>()) {
            list.currency = *entry.node.as<std::string>();
        } else if (entry.key == "price" && entry.node.as<text::Table>()) {
            for (const text::Entry& type : entry.node.as<text::Table>()->entries)
                add_type(type, list, problems);
        } else {
            problems.push_back({entry.key,
                                fmt::format("a price list has no {}; it has currency and price", entry.key),
                                {{entry.key_span, ""}},
                                "currency = \"EUR\" and [price.\"H07RN-F\"]"});
        }
    }
    if (problems.empty() && list.prices.empty())
        problems.push_back(
            {"price", "the list has no price", {}, "[price.\"H07RN-F\"] and \"1.5 mm2\" = 1.20"});
    if (!problems.empty()) return problems;
    return list;
}

}  // namespace benchfeed::advice
