#pragma once
// One printed table of published figures: cells with units, each with where it stands and how well it
// has been verified. The tables are written in data/tables and become constants of the library when it is
// built. They hold no pointer for each text: places in one text of all words need no work of the loader, so a
// table that nobody asks for costs nothing at start.
#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>

#include <benchfeed/base/api.hpp>
#include <benchfeed/base/quantity.hpp>
#include <benchfeed/base/section.hpp>

namespace benchfeed::tables {

/// How well a figure has been verified. Rising: of two figures the lower grade governs. `practice`: custom of
/// the trade, or a margin of this library; it is no figure of a standard, so no print can bear it out.
enum class Grade : std::uint8_t { memory, practice, one_source, two_sources };
inline constexpr std::array<std::string_view, 4> grade_words{"memory", "common practice", "one source",
                                                             "two sources"};
[[nodiscard]] inline std::string_view words(Grade grade) {
    return grade_words[static_cast<std::size_t>(grade)];
}

/// What kind of text a figure stands in; it becomes the basis of an outcome.
enum class Status : std::uint8_t { standard, recommendation, marking, physics, practice };
inline constexpr std::array<std::string_view, 5> status_words{"standard", "recommendation", "marking",
                                                              "physics", "practice"};
[[nodiscard]] inline std::string_view words(Status status) {
    return status_words[static_cast<std::size_t>(status)];
}

/// Where a figure stands, in words that a person can look up. Valid as long as its table.
struct Citation {
    std::string_view table;    ///< id in data/tables
    std::string_view source;   ///< title of the standard: "IEC 60364-5-52"
    std::string_view edition;  ///< "2009"; empty where no print of a known edition was seen
    std::string_view place;    ///< "Table B.52.2"
    std::string_view row, column = {};
    Grade grade = Grade::memory;
    Status status = Status::standard;
    /// "1.5 mm2, C"; empty for the table as a whole.
    [[nodiscard]] std::string cell() const;
};

/// A figure and where it stands.
template <class Q>
struct Figure {
    Q value;
    Citation source;
    std::string_view written;  ///< the digits of the table, with the unit: "19.5 A"
};

/// A name that is looked up, with the digest by which it is found; that of a literal is made by the compiler.
/// Names turn into it by themselves.
class Key {
public:
    /// @{ Of a literal, of words chosen at run time.
    template <std::size_t N>
    consteval Key(const char (&literal)[N]) : Key(std::string_view(literal, N - 1)) {}
    constexpr Key(std::string_view name) : text(name), hash(hash_of(name)) {}
    Key(const std::string& name) : Key(std::string_view(name)) {}
    /// @}

    std::string_view text;  ///< the name
    std::uint32_t hash;     ///< FNV-1a of it, 32 bits

private:
    static constexpr std::uint32_t hash_of(std::string_view text) {
        std::uint32_t hash = 2166136261u;
        for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619u;
        return hash;
    }
};

/// Where a text stands in Table::words.
struct Words {
    std::uint32_t from = 0, size = 0;
    [[nodiscard]] bool empty() const { return size == 0; }  ///< no text
};

/// A cell of words; they are what is written there.
struct InWords {
    friend bool operator==(InWords, InWords) = default;
};

/// monostate: the table has no figure here.
using Cell = std::variant<std::monostate, double, InWords, bool, Awg>;

/// The digits of a figure as written, without its unit: "0.95".
template <class Q>
[[nodiscard]] std::string written_number(const Figure<Q>& figure) {
    return std::string(figure.written.substr(0, figure.written.find(' ')));
}

/// Name and unit of a column.
struct Column {
    Words name;
    Words unit;          ///< as in the file; "" for text, "1" for a ratio
    std::uint32_t hash;  ///< Key::hash of the name
    std::optional<Grade> grade = {};
};

/// One row of a table.
struct Row {
    Words name;  ///< its key: "14 AWG, Cu"
    std::optional<Grade> grade = {};
};

/// A named single figure or fact of a table that has no rows, or stands beside them.
struct Fact {
    Words name;
    Cell value;
    Words written;
    Words unit;
    std::uint32_t hash;  ///< Key::hash of the name
    std::optional<Grade> grade = {};
};

/// Grade of one cell that differs from that of its row and column.
struct CellGrade {
    std::size_t row, column;
    Grade grade;
};

/// One table, with its source and how well it is verified.
class BENCHFEED_API Table {
public:
    std::string_view id, title, family, topic, source_key, source_title, edition, place;
    std::string_view kept_for;  ///< what a table is for that no rule reads; empty where one does
    Status status = Status::standard;
    Grade grade = Grade::memory;
    std::string_view words;          ///< every text below, one behind the other
    std::span<const Words> notes;    ///< validity, corrections, what differs between prints
    std::span<const Words> seen_in;  ///< kinds of publication in which the figures were found
    std::span<const Column> columns;
    std::span<const std::size_t> key_columns;  ///< those that together name a row; mostly the first alone
    std::span<const Row> rows;
    std::span<const Cell> cells;           ///< row after row, one for each column
    std::span<const Words> cells_written;  ///< the same as text, with units; "-" where there is none
    std::span<const Fact> facts;
    std::span<const CellGrade> cell_grades;

    /// The text of a name, a unit, a note.
    [[nodiscard]] std::string_view text_of(Words at) const { return words.substr(at.from, at.size); }
    /// Pre: the table has that column.
    [[nodiscard]] std::string_view column_name(std::size_t column) const {
        return text_of(columns[column].name);
    }
    /// @{ A cell, and what is written in it: "19.5 A", "-". Pre: the table has that row and column.
    [[nodiscard]] const Cell& cell(std::size_t row, std::size_t column) const {
        return cells[row * columns.size() + column];
    }
    [[nodiscard]] std::string_view written(std::size_t row, std::size_t column) const {
        return text_of(cells_written[row * columns.size() + column]);
    }
    /// @}
    /// Position of a column; nothing where the table has none of that name.
    [[nodiscard]] std::optional<std::size_t> column(Key name) const;
    /// A single figure beside the rows, or nullptr.
    [[nodiscard]] const Fact* fact(Key name) const;

    /// @{ Row whose cell in column `key` is this text ("14 AWG", "CEE 7/3") or this number in the column's
    /// unit.
    [[nodiscard]] std::optional<std::size_t> row_of(Key key, std::string_view text) const;
    [[nodiscard]] std::optional<std::size_t> row_of(Key key, double number) const;
    /// @}
    /// @{ First row (rows rise in column `key`) whose number is at or above / last whose number is at or
    /// below.
    [[nodiscard]] std::optional<std::size_t> row_at_or_above(Key key, double number) const;
    [[nodiscard]] std::optional<std::size_t> row_at_or_below(Key key, double number) const;
    /// @}
    /// First row whose range from `from` to `to`, both ends included, holds the number; an absent bound is
    /// open. So where bands meet, the lower band has the shared end ("over 120 V up to 230 V").
    [[nodiscard]] std::optional<std::size_t> row_in_range(Key from, Key to, double number) const;
    /// Row of a conductor section: by gauge where the column is in AWG, by mm2 otherwise. No conversion.
    [[nodiscard]] std::optional<std::size_t> row_of(const Section& section) const;
    /// Largest printed section not above `section`, whatever the units (rules: never converted silently).
    [[nodiscard]] std::optional<std::size_t> row_below(const Section& section) const;

    /// Grade of a cell: the lowest of what table, column, row and cell say; a column, row or cell that
    /// names a grade replaces the table's.
    [[nodiscard]] Grade grade_of(std::size_t row, std::size_t column) const;
    /// @{ Source of a cell; `cell` names the row by its key, then the column: "14 AWG, Cu, max_device".
    [[nodiscard]] Citation cite(std::size_t row, std::size_t column) const;
    [[nodiscard]] Citation cite(const Fact& fact) const;
    [[nodiscard]] Citation cite() const;
    /// @}

    /// @{ Typed figures. Nothing where the table has no such column or no figure there, or where the unit of
    /// the column is of another dimension.
    ///
    /// Units   A mA kA; 1 %; ohm/km ohm/kft ohm/m mV/A/m (as printed: both conductors where the table says
    /// so);
    ///         mm2 AWG; in3 cm3; m ft in mm; s min h; V; ohm Mohm; W kW hp; A2s; degC; Hz.
    [[nodiscard]] std::optional<Figure<Current>> current(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<Figure<Ratio>> ratio(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<Figure<ImpedancePerLength>> impedance_per_length(std::size_t row,
                                                                                 Key column) const;
    [[nodiscard]] std::optional<Figure<Section>> section(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<Figure<Volume>> volume(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<Figure<Length>> length(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<Figure<Duration>> duration(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<Figure<Voltage>> voltage(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<Figure<Impedance>> impedance(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<Figure<Power>> power(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<Figure<JouleIntegral>> joule_integral(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<Figure<Temperature>> temperature(std::size_t row, Key column) const;
    [[nodiscard]] std::string_view text(std::size_t row, Key column) const;  ///< "" where absent
    /// The cell as it is written, with its unit. Pre: the column is there.
    [[nodiscard]] std::string_view written(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<double> number(std::size_t row, Key column) const;
    [[nodiscard]] std::optional<bool> flag(std::size_t row, Key column) const;
    /// @}
    /// @{ The same for facts.
    [[nodiscard]] std::optional<Figure<Current>> current(Key fact) const;
    [[nodiscard]] std::optional<Figure<Ratio>> ratio(Key fact) const;
    [[nodiscard]] std::optional<Figure<Resistivity>> resistivity(Key fact) const;
    [[nodiscard]] std::optional<Figure<PerKelvin>> per_kelvin(Key fact) const;
    [[nodiscard]] std::optional<Figure<ImpedancePerLength>> impedance_per_length(Key fact) const;
    [[nodiscard]] std::optional<Figure<Length>> length(Key fact) const;
    [[nodiscard]] std::optional<Figure<Temperature>> temperature(Key fact) const;
    [[nodiscard]] std::optional<Figure<Voltage>> voltage(Key fact) const;
    [[nodiscard]] std::optional<Figure<Duration>> duration(Key fact) const;
    [[nodiscard]] std::optional<Figure<Impedance>> impedance(Key fact) const;
    [[nodiscard]] std::optional<Figure<Power>> power(Key fact) const;
    [[nodiscard]] std::optional<Figure<Frequency>> frequency(Key fact) const;
    [[nodiscard]] std::optional<Figure<Section>> section(Key fact) const;
    [[nodiscard]] std::optional<double> number(Key fact) const;
    [[nodiscard]] std::string_view text(Key fact) const;
    /// @}
};

}  // namespace benchfeed::tables
