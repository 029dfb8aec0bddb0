#pragma once
// One field of a plan: its value, where it stands and where it came from.
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/diagnostic.hpp"

namespace benchfeed::plan {

/// Where a value came from. `absent`: nobody said anything and nothing is assumed.
enum class Origin : std::uint8_t { absent, plan, like, option, assumed };

template <class T>
struct Field {
    std::optional<T> value;
    Span span;  ///< of the value; where the field is absent: the header of the table it belongs to
    Origin origin = Origin::absent;
    bool stated_unknown = false;  ///< the plan says "unknown"

    [[nodiscard]] bool known() const { return value.has_value(); }
    [[nodiscard]] bool assumed() const { return origin == Origin::assumed; }
    /// Written by somebody (plan, like or option), as a value or as "unknown".
    [[nodiscard]] bool written() const { return origin != Origin::absent && origin != Origin::assumed; }
    [[nodiscard]] const T& operator*() const { return *value; }
    [[nodiscard]] const T* operator->() const { return &*value; }
    [[nodiscard]] T value_or(T other) const { return value.value_or(std::move(other)); }
    [[nodiscard]] bool is(const T& wanted) const { return value && *value == wanted; }
};

/// A word out of a fixed list, kept by its position. The list of an enumeration is words_of<E>().
struct ChoiceField : Field<std::uint8_t> {};

template <class E>
[[nodiscard]] std::span<const std::string_view> words_of();

template <class E>
struct Choice : ChoiceField {
    [[nodiscard]] E get() const { return static_cast<E>(*value); }
    [[nodiscard]] E get_or(E other) const { return value ? get() : other; }
    [[nodiscard]] bool is(E wanted) const { return value && get() == wanted; }
    [[nodiscard]] std::string_view word() const { return value ? words_of<E>()[*value] : std::string_view{}; }
    void assume(E chosen) {
        value = static_cast<std::uint8_t>(chosen);
        origin = Origin::assumed;
    }
};

}  // namespace benchfeed::plan
