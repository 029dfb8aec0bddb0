#pragma once
// A parsed TOML text as plain values: every key and value with its place, children in file order.
// Nothing outside toml.cpp sees the parser library.
#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <benchfeed/base/diagnostic.hpp>

namespace benchfeed::text {

struct Entry;
struct Node;

/// A table of the text.
struct Table {
    std::vector<Entry> entries;  ///< in file order
    bool is_inline = false;
    /// The entry of this key, or nullptr.
    [[nodiscard]] const Entry* find(std::string_view key) const;
};
/// A list, or the tables of [[name]].
struct Array {
    std::vector<Node> items;
};
/// A date or time: plans write dates as strings, so only its presence is kept, as written.
struct DateTime {
    std::string written;
};

/// A value with its place.
struct Node {
    std::variant<std::string, std::int64_t, double, bool, DateTime, Array, Table> value;
    Span span;  ///< of the value, quotes included; of a headed table: its header

    /// The value when it is of this type, or nullptr.
    template <class T>
    [[nodiscard]] const T* as() const {
        return std::get_if<T>(&value);
    }
    /// Integer or floating, as a number.
    [[nodiscard]] bool is_number() const { return as<std::int64_t>() != nullptr || as<double>() != nullptr; }
    [[nodiscard]] double number() const;  ///< Pre: is_number()
};

/// A key and its value.
struct Entry {
    std::string key;
    Span key_span;
    Node node;
};

inline const Entry* Table::find(std::string_view key) const {
    for (const Entry& entry : entries)
        if (entry.key == key) return &entry;
    return nullptr;
}
inline double Node::number() const {
    if (const auto* whole = as<std::int64_t>()) return static_cast<double>(*whole);
    return *as<double>();
}

/// "text", "a number", "a table" ...: how a message names what stands there.
[[nodiscard]] std::string_view kind_name(const Node& node);

}  // namespace benchfeed::text
