#pragma once
// One field of a plan: its value, where it stands and where it came from.
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include <benchfeed/base/diagnostic.hpp>

namespace benchfeed::plan {

/// Where a value came from. `absent`: nobody said anything and nothing is assumed.
enum class Origin : std::uint8_t { absent, plan, like, option, assumed };

/// A value of the plan, where it stands and where it came from.
template <class T>
struct Field {
    std::optional<T> value;
    Span span;  ///< of the value; where the field is absent: the header of the table it belongs to
    Origin origin = Origin::absent;
    bool stated_unknown = false;  ///< the plan says "unknown"

    /// There is a value, whoever it came from.
    [[nodiscard]] bool known() const { return value.has_value(); }
    /// Nobody wrote it; something is assumed.
    [[nodiscard]] bool assumed() const { return origin == Origin::assumed; }
    /// Written by somebody (plan, like or option), as a value or as "unknown".
    [[nodiscard]] bool written() const { return origin != Origin::absent && origin != Origin::assumed; }
    /// Pre: known(); throws std::bad_optional_access where it is not.
    [[nodiscard]] const T& operator*() const { return value.value(); }
    /// Pre: known(); throws as operator*.
    [[nodiscard]] const T* operator->() const { return &value.value(); }
    /// The value, or `other` where there is none.
    [[nodiscard]] T value_or(T other) const { return value.value_or(std::move(other)); }
    /// True when it is known and this.
    [[nodiscard]] bool is(const T& wanted) const { return value && *value == wanted; }
};

/// A word out of a fixed list, kept by its position. The list of an enumeration is words_of<E>().
struct ChoiceField : Field<std::uint8_t> {};

/// The words of an enumeration, in the order of its values.
template <class E>
[[nodiscard]] std::span<const std::string_view> words_of();

/// A word of the enumeration E.
template <class E>
struct Choice : ChoiceField {
    /// Pre: known(); throws std::bad_optional_access where it is not.
    [[nodiscard]] E get() const { return static_cast<E>(value.value()); }
    /// The value, or `other` where there is none.
    [[nodiscard]] E get_or(E other) const { return value ? get() : other; }
    /// True when it is known and this.
    [[nodiscard]] bool is(E wanted) const { return value && get() == wanted; }
    /// As a plan writes it; "" where there is none.
    [[nodiscard]] std::string_view word() const { return value ? words_of<E>()[*value] : std::string_view{}; }
    /// Sets what stands for a value that nobody wrote.
    void assume(E chosen) {
        value = static_cast<std::uint8_t>(chosen);
        origin = Origin::assumed;
    }
};

}  // namespace benchfeed::plan
