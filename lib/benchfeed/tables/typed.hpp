#pragma once
// Tables by names that are compiled. When the library is built each file of data/tables becomes a record in
// <benchfeed/figures/ID.hpp>: a function for each fact, an enumeration for the words of a closed column, and
// a Row with a function for each column, all with their quantity. A name that no table has does not compile;
// a fact, and a row that an enumeration names, are there or the build ends. Every other row is looked up by
// what a plan says: that gives the row or Missing.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/tables/catalogue.hpp>
#include <benchfeed/tables/missing.hpp>

namespace benchfeed::tables {

/// Id of a table as the compiler knows it.
struct Id {
    Key key;
    /// Of a literal.
    template <std::size_t N>
    consteval Id(const char (&literal)[N]) : key(literal) {}
};

/// @{ The table of a record: for what the build has made sure of, and to look for a row in. One and the same
/// in the library; a test of missing rows gives another one to look in.
[[nodiscard]] const Table& sure(const Catalogue& tables, Key id);
[[nodiscard]] const Table& searched(const Catalogue& tables, Key id);
/// @}

/// The quantity of a cell. Pre: it holds one in a unit of that dimension, which whoever made the record
/// looked at.
template <class Q>
[[nodiscard]] Q quantity(const Cell& cell, std::string_view unit);

/// A number with a unit.
template <class Q>
concept Quantity = requires(Q q) {
    in(Q::from_value(1.0), q);
};

/// @{ Equal, as looking up takes it: numbers that differ by the last bits, sections as they are printed.
[[nodiscard]] inline bool same(std::string_view a, std::string_view b) {
    return a == b;
}
[[nodiscard]] inline bool same(double a, double b) {
    return std::abs(a - b) <= 1e-9 * std::abs(b);
}
[[nodiscard]] inline bool same(const Section& a, const Section& b) {
    if (a.gauge || b.gauge) return a.gauge == b.gauge;
    return std::abs(in(b.area, a.area) - 1) < 1e-9;
}
template <Quantity Q>
[[nodiscard]] bool same(const Q& a, const Q& b) {
    return same(in(Q::from_value(1.0), a), in(Q::from_value(1.0), b));
}
/// @}
/// The first is at least the second, so far as the last bits do not decide.
template <Quantity Q>
[[nodiscard]] bool at_least(const Q& a, const Q& b) {
    return a >= b || same(a, b);
}

/// A row of a table, as its record shows it; Column names the columns, in their order.
template <class Column>
class RowOf {
public:
    /// Pre: the table has that row.
    RowOf(const Table& table, std::size_t row) : table_(&table), row_(row) {}

    /// Where a cell stands.
    [[nodiscard]] Citation source(Column column) const { return table_->cite(row_, at(column)); }
    /// A cell as it is written; "-" where there is none.
    [[nodiscard]] std::string_view written(Column column) const { return table_->written(row_, at(column)); }
    /// The table has one there.
    [[nodiscard]] bool has(Column column) const {
        return !std::holds_alternative<std::monostate>(table_->cell(row_, at(column)));
    }
    /// A cell's quantity without its source, to compare. Pre: it has one, of that dimension.
    template <class Q>
    [[nodiscard]] Q plain(Column column) const {
        return quantity<Q>(table_->cell(row_, at(column)), table_->text_of(table_->columns[at(column)].unit));
    }

protected:
    /// @{ Pre: the cell has one.
    template <class Q>
    [[nodiscard]] Figure<Q> figure(Column column) const {
        return {plain<Q>(column), source(column), written(column)};
    }
    [[nodiscard]] double number(Column column) const {
        return std::get<double>(table_->cell(row_, at(column)));
    }
    [[nodiscard]] bool flag(Column column) const { return std::get<bool>(table_->cell(row_, at(column))); }
    /// @}
    /// @{ Nothing, or "", where the table has none.
    template <class Q>
    [[nodiscard]] std::optional<Figure<Q>> printed(Column column) const {
        return has(column) ? std::optional(figure<Q>(column)) : std::nullopt;
    }
    [[nodiscard]] std::optional<double> printed_number(Column column) const {
        return has(column) ? std::optional(number(column)) : std::nullopt;
    }
    [[nodiscard]] std::optional<bool> printed_flag(Column column) const {
        return has(column) ? std::optional(flag(column)) : std::nullopt;
    }
    [[nodiscard]] std::string_view text(Column column) const {
        return has(column) ? written(column) : std::string_view{};
    }
    /// @}
    /// The cell's word of a closed column. Pre: it is one of them.
    template <class Word, std::size_t N>
    [[nodiscard]] Word word(Column column, const std::string_view (&words)[N]) const {
        const auto* here = std::find(std::begin(words), std::end(words), written(column));
        return static_cast<Word>(here - std::begin(words));
    }

private:
    static constexpr std::size_t at(Column column) { return static_cast<std::size_t>(column); }

    const Table* table_;
    std::size_t row_;
};

/// @{ What was looked for, in words.
[[nodiscard]] inline std::string wanted(std::string_view text) {
    return std::string(text);
}
[[nodiscard]] inline std::string wanted(Ratio number) {
    return plain_digits(in(unit::one, number));
}
[[nodiscard]] inline std::string wanted(const Section& section) {
    return section_text(section);
}
template <Quantity Q>
[[nodiscard]] std::string wanted(const Q& quantity) {
    return to_text(quantity, 6);
}
template <class First, class Second, class... Rest>
[[nodiscard]] std::string wanted(const First& first, const Second& second, const Rest&... rest) {
    return wanted(first) + ", " + wanted(second, rest...);
}
/// @}

/// The rows of a table, as they are printed.
template <class Row>
class Rows {
public:
    /// Of a table whose columns Row names.
    explicit Rows(const Table& table) : table_(&table) {}

    /// Goes over them.
    class Iterator {
    public:
        /// At a row, or behind the last.
        Iterator(const Table& table, std::size_t at) : table_(&table), at_(at) {}
        /// @{ As of any range.
        [[nodiscard]] Row operator*() const { return {*table_, at_}; }
        Iterator& operator++() {
            ++at_;
            return *this;
        }
        [[nodiscard]] bool operator==(const Iterator& other) const { return at_ == other.at_; }
        /// @}

    private:
        const Table* table_;
        std::size_t at_;
    };
    /// @{ As of any range.
    [[nodiscard]] Iterator begin() const { return {*table_, 0}; }
    [[nodiscard]] Iterator end() const { return {*table_, table_->rows.size()}; }
    [[nodiscard]] std::size_t size() const { return table_->rows.size(); }
    /// @}

    /// @{ First row, last row that is so; the rest says in words of which there is none.
    template <class IsSo, class... Wanted>
    [[nodiscard]] Found<Row> first(IsSo is_so, const Wanted&... of_which) const {
        for (const Row row : *this)
            if (is_so(row)) return row;
        return Missing{table_->id, wanted(of_which...)};
    }
    template <class IsSo, class... Wanted>
    [[nodiscard]] Found<Row> last(IsSo is_so, const Wanted&... of_which) const {
        for (std::size_t at = size(); at-- > 0;)
            if (const Row row{*table_, at}; is_so(row)) return row;
        return Missing{table_->id, wanted(of_which...)};
    }
    /// @}

private:
    const Table* table_;
};

/// @{ A fact of a table. Pre: the table has it, in that quantity, which whoever made the record looked at.
template <class Q>
[[nodiscard]] Figure<Q> fact_of(const Table& table, Key name) {
    const Fact& fact = *table.fact(name);
    return {quantity<Q>(fact.value, table.text_of(fact.unit)), table.cite(fact), table.text_of(fact.written)};
}
[[nodiscard]] inline double number_of(const Table& table, Key name) {
    return std::get<double>(table.fact(name)->value);
}
[[nodiscard]] inline bool flag_of(const Table& table, Key name) {
    return std::get<bool>(table.fact(name)->value);
}
[[nodiscard]] inline Figure<std::string_view> text_of(const Table& table, Key name) {
    const Fact& fact = *table.fact(name);
    const std::string_view words = table.text_of(fact.written);
    return {words, table.cite(fact), words};
}
/// @}

}  // namespace benchfeed::tables
