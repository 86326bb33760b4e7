#pragma once
// A value or an error: C++20 has no std::expected yet.

#include <utility>
#include <variant>

namespace board {

/// Wraps an error so that a Result can be built from it: `return failure(Fault::kings);`
template <class E> struct Failure { E error; };

template <class E> [[nodiscard]] Failure<E> failure(E error) {
    return {std::move(error)};
}

/// Either a `T` or an `E`. Ask `ok()` (or bool) before taking the value; the wrong question throws
/// std::bad_variant_access.
template <class T, class E> class [[nodiscard]] Result {
  public:
    Result(T value) : m_state(std::in_place_index<0>, std::move(value)) {}
    Result(Failure<E> failed) : m_state(std::in_place_index<1>, std::move(failed.error)) {}

    [[nodiscard]] bool ok() const noexcept { return m_state.index() == 0; }
    explicit operator bool() const noexcept { return ok(); }

    [[nodiscard]] const T& value() const& { return std::get<0>(m_state); }
    [[nodiscard]] T& value() & { return std::get<0>(m_state); }
    [[nodiscard]] T&& value() && { return std::get<0>(std::move(m_state)); }
    [[nodiscard]] const E& error() const& { return std::get<1>(m_state); }
    [[nodiscard]] E&& error() && { return std::get<1>(std::move(m_state)); }

    const T& operator*() const& { return value(); }
    const T* operator->() const { return &value(); }

  private:
    std::variant<T, E> m_state;
};

} // namespace board
