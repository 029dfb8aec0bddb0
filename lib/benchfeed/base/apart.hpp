#pragma once
// A value that may be there, kept apart from what has it.
#include <memory>
#include <utility>

namespace benchfeed {

/// Like std::optional, and copies the value as that does; without a value it takes a pointer and no more. For
/// what is large and what most do not have.
template <class T>
class Apart {
public:
    /// @{ Nothing, or a copy of a value.
    Apart() = default;
    Apart(const Apart& other) : value_(other ? std::make_unique<T>(*other) : nullptr) {}
    Apart(Apart&& other) noexcept = default;
    Apart(T value) : value_(std::make_unique<T>(std::move(value))) {}  // NOLINT(google-explicit-constructor)
    Apart& operator=(const Apart& other) {
        Apart copy(other);
        value_.swap(copy.value_);
        return *this;
    }
    Apart& operator=(Apart&& other) noexcept = default;
    ~Apart() = default;
    /// @}

    /// @{ There is a value.
    explicit operator bool() const { return value_ != nullptr; }
    [[nodiscard]] bool has_value() const { return value_ != nullptr; }
    /// @}
    /// @{ The value. Pre: there is one.
    [[nodiscard]] const T& operator*() const { return *value_; }
    [[nodiscard]] T& operator*() { return *value_; }
    [[nodiscard]] const T* operator->() const { return value_.get(); }
    [[nodiscard]] T* operator->() { return value_.get(); }
    /// @}
    /// A fresh value in place of what there was.
    T& emplace() {
        value_ = std::make_unique<T>();
        return *value_;
    }
    /// No value.
    void reset() { value_.reset(); }

private:
    std::unique_ptr<T> value_;
};

}  // namespace benchfeed
