#pragma once
// How a row of the field list is written. Not for use outside this folder.
#include <span>
#include <string_view>
#include <vector>

#include <benchfeed/plan/fields.hpp>

namespace benchfeed::plan {

/// Short hand for a row: key, absent, fallback, unknown accepted, meaning, where to look.
constexpr FieldInfo row(std::string_view key, Absent absent, std::string_view fallback, bool unknown,
                        std::string_view meaning, std::string_view look = "",
                        Vocabulary vocabulary = Vocabulary::none) {
    return {key, absent, fallback, unknown, meaning, look, vocabulary};
}

/// The field by pointer, whatever its type.
FieldRef ref_to(auto& field) {
    return &field;
}
template <class E>
FieldRef ref_to(Choice<E>& field) {
    return ChoiceRef{&field, words_of<E>()};
}

/// The type that has this member.
template <auto member>
struct OwnerOf;
/// The same for the member of a class.
template <class T, class F, F T::*member>
struct OwnerOf<member> {
    using Type = T;  ///< that has it
};

/// The field of a table, found by its member.
template <auto member>
FieldRef at(typename OwnerOf<member>::Type& table) {
    return ref_to(table.*member);
}

/// A field of a table of type T: what is said of it, and where it stands.
template <class T>
struct Row {
    FieldInfo info;
    FieldRef (*ref)(T&);
};

/// Puts the fields of a table behind those that are there.
template <class T>
void add(std::vector<Slot>& slots, std::span<const Row<T>> rows, T& table) {
    for (const Row<T>& row : rows) slots.push_back({row.info, row.ref(table)});
}

/// The fields of a table.
template <class T>
std::vector<Slot> of(std::span<const Row<T>> rows, T& table) {
    std::vector<Slot> slots;
    slots.reserve(rows.size());
    add(slots, rows, table);
    return slots;
}

}  // namespace benchfeed::plan
