#pragma once
// The text of a plan as blocks that can be shuffled, renamed and written again: what the file says, whatever
// its layout.
#include <fmt/ranges.h>

#include <algorithm>
#include <functional>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/plan/fields.hpp>
#include <benchfeed/text/toml.hpp>
#include "laws/corpus.hpp"

namespace benchfeed::laws {

/// One [kind.name], [plan] or [[together]].
struct Block {
    std::string kind, name;  ///< name empty: of [plan] and the like
    bool listed = false;     ///< [[...]]
    text::Table fields;
    std::uint32_t line = 0;

    [[nodiscard]] std::string path() const { return name.empty() ? kind : kind + "." + name; }
    [[nodiscard]] text::Node* field(std::string_view key) {
        for (text::Entry& entry : fields.entries)
            if (entry.key == key) return &entry.node;
        return nullptr;
    }
};
using Blocks = std::vector<Block>;

inline bool is_element_or_stock(const std::string& kind) {
    return kind == "stock" || std::any_of(plan::element_kinds.begin(), plan::element_kinds.end(),
                                          [&](plan::Kind k) { return kind == plan::word(k); });
}

/// In the order of the file.
inline Blocks blocks_of(const std::string& text) {
    Blocks blocks;
    const text::Parsed parsed = text::parse_toml(text::Document("plan.toml", text));
    for (const text::Entry& top : parsed.root.entries) {
        if (const auto* list = top.node.as<text::Array>()) {
            for (const text::Node& item : list->items)
                blocks.push_back({top.key, "", true, *item.as<text::Table>(), item.span.line});
        } else if (const auto* table = top.node.as<text::Table>()) {
            if (!is_element_or_stock(top.key) && top.key != "metal") {
                blocks.push_back({top.key, "", false, *table, top.key_span.line});
                continue;
            }
            for (const text::Entry& named : table->entries)
                blocks.push_back(
                    {top.key, named.key, false, *named.node.as<text::Table>(), named.key_span.line});
        }
    }
    std::stable_sort(blocks.begin(), blocks.end(),
                     [](const Block& a, const Block& b) { return a.line < b.line; });
    return blocks;
}

inline std::string quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') out += '\\';
        out += c;
    }
    return out + "\"";
}

inline std::string written(const text::Node& node);

inline std::string written(const text::Table& table) {
    std::vector<std::string> parts;
    for (const text::Entry& entry : table.entries)
        parts.push_back(quoted(entry.key) + " = " + written(entry.node));
    return fmt::format("{{ {} }}", fmt::join(parts, ", "));
}
inline std::string written(const text::Node& node) {
    if (const auto* text = node.as<std::string>()) return quoted(*text);
    if (const auto* whole = node.as<std::int64_t>()) return std::to_string(*whole);
    if (const auto* number = node.as<double>()) {
        const std::string digits = fmt::format("{}", *number);
        return digits.find_first_of(".e") == std::string::npos ? digits + ".0" : digits;
    }
    if (const auto* yes = node.as<bool>()) return *yes ? "true" : "false";
    if (const auto* table = node.as<text::Table>()) return written(*table);
    if (const auto* date = node.as<text::DateTime>()) return date->written;
    std::vector<std::string> parts;
    for (const text::Node& item : node.as<text::Array>()->items) parts.push_back(written(item));
    return fmt::format("[\n{}\n]", fmt::join(parts, ",\n"));
}

inline std::string written(const Blocks& blocks) {
    std::string out = "format = 1\n";
    for (const Block& block : blocks) {
        out += block.listed ? fmt::format("[[{}]]\n", block.kind) : fmt::format("[{}]\n", block.path());
        for (const text::Entry& entry : block.fields.entries)
            out += quoted(entry.key) + " = " + written(entry.node) + "\n";
    }
    return out;
}

/// Every text of a table and of what lies in it.
inline void each_text(text::Node& node, const std::string& key,
                      const std::function<void(const std::string& key, std::string& text)>& visit) {
    if (auto* text = std::get_if<std::string>(&node.value)) visit(key, *text);
    if (auto* list = std::get_if<text::Array>(&node.value))
        for (text::Node& item : list->items) each_text(item, key, visit);
    if (auto* table = std::get_if<text::Table>(&node.value))
        for (text::Entry& entry : table->entries) each_text(entry.node, entry.key, visit);
}
inline void each_text(Block& block,
                      const std::function<void(const std::string& key, std::string& text)>& visit) {
    for (text::Entry& entry : block.fields.entries) each_text(entry.node, entry.key, visit);
}

}  // namespace benchfeed::laws
