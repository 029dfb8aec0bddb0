#pragma once
// Rows of the format's field table. For fields.cpp and list_fields.cpp alone.
#include <span>
#include <vector>

#include <benchfeed/plan/fields.hpp>

namespace benchfeed::plan {

/// Short hand for a row: key, absent, fallback, unknown accepted, meaning, where to look.
[[nodiscard]] constexpr FieldInfo row(std::string_view key, Absent absent, std::string_view fallback,
                                      bool unknown, std::string_view meaning, std::string_view look = "",
                                      Vocabulary vocabulary = Vocabulary::none) {
    return {key, absent, fallback, unknown, meaning, look, vocabulary};
}

/// A field by pointer.
inline FieldRef ref_to(auto& field) {
    return &field;
}
/// A choice with its words.
template <class E>
FieldRef ref_to(Choice<E>& field) {
    return ChoiceRef{&field, words_of<E>()};
}

/// The table of which something is a member.
template <auto member>
struct OwnerOf;
/// The table of a member.
template <class T, class F, F T::*member>
struct OwnerOf<member> {
    using Type = T;  ///< that table
};

/// The field of a table, found by its member.
template <auto member>
FieldRef at(typename OwnerOf<member>::Type& table) {
    return ref_to(table.*member);
}

/// A row of the list: what a field is called and where it is.
template <class T>
struct Row {
    FieldInfo info;
    FieldRef (*ref)(T&);
};

/// Slots of a table added to others.
template <class T>
void add(std::vector<Slot>& slots, std::span<const Row<T>> rows, T& table) {
    for (const Row<T>& row : rows) slots.push_back({row.info, row.ref(table)});
}

/// Slots of a table by its rows.
template <class T>
std::vector<Slot> of(std::span<const Row<T>> rows, T& table) {
    std::vector<Slot> slots;
    slots.reserve(rows.size());
    add(slots, rows, table);
    return slots;
}

}  // namespace benchfeed::plan
