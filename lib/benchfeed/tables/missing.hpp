#pragma once
// What becomes of a row that a table does not have.
#include <string>
#include <string_view>
#include <utility>
#include <variant>

namespace benchfeed::tables {

/// A row that a table does not have. What was asked cannot be judged; nothing else follows from it.
struct Missing {
    std::string_view table;  ///< id in data/tables
    std::string row;         ///< what was looked for: "25 mm2", "curve Z"
};

/// What was looked up, or what is missing in its place. There is no default.
template <class T>
class [[nodiscard]] Found {
public:
    /// @{ Found, and not.
    Found(T value) : is_(std::move(value)) {}
    Found(Missing missing) : is_(std::move(missing)) {}
    /// @}
    /// It is there.
    [[nodiscard]] explicit operator bool() const { return is_.index() == 0; }
    /// @{ Pre: it is there.
    [[nodiscard]] const T& operator*() const { return std::get<0>(is_); }
    [[nodiscard]] const T* operator->() const { return &std::get<0>(is_); }
    /// @}
    /// Pre: it is not there.
    [[nodiscard]] const Missing& missing() const { return std::get<1>(is_); }
    /// What `take` makes of it, or what is missing.
    template <class Take>
    [[nodiscard]] auto then(Take take) const -> Found<decltype(take(std::declval<const T&>()))> {
        if (*this) return take(**this);
        return missing();
    }

private:
    std::variant<T, Missing> is_;
};

}  // namespace benchfeed::tables
