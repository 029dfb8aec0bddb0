#include <benchfeed/tables/table.hpp>

#include <algorithm>
#include <cmath>

#include <benchfeed/tables/column_units.hpp>

namespace benchfeed::tables {

namespace {

template <class Q>
std::optional<Q> quantity_in(const Cell& cell, std::string_view unit) {
    const auto* number = std::get_if<double>(&cell);
    if (!number) return std::nullopt;
    for (const UnitOf& known : Units<Q>::list)
        if (known.word == unit) return Units<Q>::make(*number * known.scale);
    return std::nullopt;
}

std::optional<Section> section_in(const Cell& cell, std::string_view unit) {
    if (const auto* gauge = std::get_if<Awg>(&cell)) return section_of(*gauge);
    const auto* number = std::get_if<double>(&cell);
    return number && unit == "mm2" ? std::optional(section_of(*number * unit::mm2)) : std::nullopt;
}

/// Words, or the gauge of a conductor, which is written in words.
bool is_text(const Cell& cell) {
    return std::holds_alternative<InWords>(cell) || std::holds_alternative<Awg>(cell);
}

template <class Q>
std::optional<Figure<Q>> column_figure(const Table& table, std::size_t row, Key column) {
    const auto at = table.column(column);
    if (!at) return std::nullopt;
    const Cell& cell = table.cell(row, *at);
    const auto value = quantity_in<Q>(cell, table.text_of(table.columns[*at].unit));
    if (!value) return std::nullopt;
    return Figure<Q>{*value, table.cite(row, *at), table.written(row, *at)};
}

template <class Q>
std::optional<Figure<Q>> fact_figure(const Table& table, Key name) {
    const Fact* fact = table.fact(name);
    const auto value = fact ? quantity_in<Q>(fact->value, table.text_of(fact->unit)) : std::nullopt;
    if (!value) return std::nullopt;
    return Figure<Q>{*value, table.cite(*fact), table.text_of(fact->written)};
}

}  // namespace

std::optional<std::size_t> Table::column(Key name) const {
    for (std::size_t i = 0; i < columns.size(); ++i)
        if (columns[i].hash == name.hash && text_of(columns[i].name) == name.text) return i;
    return std::nullopt;
}

const Fact* Table::fact(Key name) const {
    for (const Fact& f : facts)
        if (f.hash == name.hash && text_of(f.name) == name.text) return &f;
    return nullptr;
}

std::optional<std::size_t> Table::row_of(Key key, std::string_view word) const {
    const auto at = column(key);
    for (std::size_t row = 0; at && row < rows.size(); ++row) {
        if (written(row, *at) == word && is_text(cell(row, *at))) return row;
    }
    return std::nullopt;
}

std::optional<std::size_t> Table::row_of(Key key, double wanted) const {
    const auto at = column(key);
    for (std::size_t row = 0; at && row < rows.size(); ++row) {
        const auto* there = std::get_if<double>(&cell(row, *at));
        if (there && std::abs(*there - wanted) <= 1e-9 * std::abs(wanted)) return row;
    }
    return std::nullopt;
}

std::optional<std::size_t> Table::row_at_or_above(Key key, double wanted) const {
    const auto at = column(key);
    for (std::size_t row = 0; at && row < rows.size(); ++row) {
        const auto* there = std::get_if<double>(&cell(row, *at));
        if (there && *there >= wanted - 1e-9 * std::abs(wanted)) return row;
    }
    return std::nullopt;
}

std::optional<std::size_t> Table::row_at_or_below(Key key, double wanted) const {
    const auto at = column(key);
    std::optional<std::size_t> best;
    for (std::size_t row = 0; at && row < rows.size(); ++row) {
        const auto* there = std::get_if<double>(&cell(row, *at));
        if (there && *there <= wanted + 1e-9 * std::abs(wanted)) best = row;
    }
    return best;
}

std::optional<std::size_t> Table::row_in_range(Key from, Key to, double wanted) const {
    const auto low = column(from), high = column(to);
    for (std::size_t row = 0; low && high && row < rows.size(); ++row) {
        const auto* least = std::get_if<double>(&cell(row, *low));
        const auto* most = std::get_if<double>(&cell(row, *high));
        if ((!least || wanted >= *least) && (!most || wanted <= *most)) return row;
    }
    return std::nullopt;
}

std::optional<std::size_t> Table::row_of(const Section& wanted) const {
    for (std::size_t row = 0; row < rows.size() && !columns.empty(); ++row) {
        const Cell& first = cell(row, 0);
        if (wanted.gauge) {
            if (const auto* gauge = std::get_if<Awg>(&first); gauge && *gauge == *wanted.gauge) return row;
            continue;
        }
        const auto there = std::holds_alternative<Awg>(first)
                               ? std::nullopt
                               : section_in(first, text_of(columns.front().unit));
        if (there && std::abs(in(wanted.area, there->area) - 1) < 1e-9) return row;
    }
    return std::nullopt;
}

std::optional<std::size_t> Table::row_below(const Section& wanted) const {
    std::optional<std::size_t> best;
    Area largest{};
    for (std::size_t row = 0; row < rows.size() && !columns.empty(); ++row) {
        const auto there = section_in(cell(row, 0), text_of(columns.front().unit));
        if (!there || there->area > wanted.area || there->area < largest) continue;
        largest = there->area;
        best = row;
    }
    return best;
}

Grade Table::grade_of(std::size_t row, std::size_t column_at) const {
    for (const CellGrade& cell : cell_grades)
        if (cell.row == row && cell.column == column_at) return cell.grade;
    const auto& by_row = rows[row].grade;
    const auto& by_column = columns[column_at].grade;
    if (by_row && by_column) return std::min(*by_row, *by_column);
    return by_row ? *by_row : by_column.value_or(grade);
}

std::string Citation::cell() const {
    std::string words(row);
    if (!column.empty()) words.append(", ").append(column);
    return words;
}

Citation Table::cite() const {
    return {.table = id,
            .source = source_title,
            .edition = edition,
            .place = place,
            .row = {},
            .column = {},
            .grade = grade,
            .status = status};
}

Citation Table::cite(std::size_t row, std::size_t column_at) const {
    Citation citation = cite();
    citation.row = text_of(rows[row].name);
    if (std::find(key_columns.begin(), key_columns.end(), column_at) == key_columns.end())
        citation.column = text_of(columns[column_at].name);
    citation.grade = grade_of(row, column_at);
    return citation;
}

Citation Table::cite(const Fact& fact) const {
    Citation citation = cite();
    citation.row = text_of(fact.name);
    citation.grade = fact.grade.value_or(grade);
    return citation;
}

std::optional<Figure<Current>> Table::current(std::size_t row, Key c) const {
    return column_figure<Current>(*this, row, c);
}
std::optional<Figure<Ratio>> Table::ratio(std::size_t row, Key c) const {
    return column_figure<Ratio>(*this, row, c);
}
std::optional<Figure<ImpedancePerLength>> Table::impedance_per_length(std::size_t row, Key c) const {
    return column_figure<ImpedancePerLength>(*this, row, c);
}
std::optional<Figure<Volume>> Table::volume(std::size_t row, Key c) const {
    return column_figure<Volume>(*this, row, c);
}
std::optional<Figure<Length>> Table::length(std::size_t row, Key c) const {
    return column_figure<Length>(*this, row, c);
}
std::optional<Figure<Duration>> Table::duration(std::size_t row, Key c) const {
    return column_figure<Duration>(*this, row, c);
}
std::optional<Figure<Voltage>> Table::voltage(std::size_t row, Key c) const {
    return column_figure<Voltage>(*this, row, c);
}
std::optional<Figure<Impedance>> Table::impedance(std::size_t row, Key c) const {
    return column_figure<Impedance>(*this, row, c);
}
std::optional<Figure<Power>> Table::power(std::size_t row, Key c) const {
    return column_figure<Power>(*this, row, c);
}
std::optional<Figure<JouleIntegral>> Table::joule_integral(std::size_t row, Key c) const {
    return column_figure<JouleIntegral>(*this, row, c);
}
std::optional<Figure<Temperature>> Table::temperature(std::size_t row, Key c) const {
    return column_figure<Temperature>(*this, row, c);
}

std::optional<Figure<Section>> Table::section(std::size_t row, Key name) const {
    const auto at = column(name);
    const auto value = at ? section_in(cell(row, *at), text_of(columns[*at].unit)) : std::nullopt;
    if (!value) return std::nullopt;
    return Figure<Section>{*value, cite(row, *at), written(row, *at)};
}

std::string_view Table::text(std::size_t row, Key name) const {
    const auto at = column(name);
    return at && is_text(cell(row, *at)) ? written(row, *at) : std::string_view{};
}
std::string_view Table::written(std::size_t row, Key name) const {
    return written(row, *column(name));
}
std::optional<double> Table::number(std::size_t row, Key name) const {
    const auto at = column(name);
    const auto* value = at ? std::get_if<double>(&cell(row, *at)) : nullptr;
    return value ? std::optional(*value) : std::nullopt;
}
std::optional<bool> Table::flag(std::size_t row, Key name) const {
    const auto at = column(name);
    const auto* value = at ? std::get_if<bool>(&cell(row, *at)) : nullptr;
    return value ? std::optional(*value) : std::nullopt;
}

std::optional<Figure<Current>> Table::current(Key f) const {
    return fact_figure<Current>(*this, f);
}
std::optional<Figure<Ratio>> Table::ratio(Key f) const {
    return fact_figure<Ratio>(*this, f);
}
std::optional<Figure<Resistivity>> Table::resistivity(Key f) const {
    return fact_figure<Resistivity>(*this, f);
}
std::optional<Figure<PerKelvin>> Table::per_kelvin(Key f) const {
    return fact_figure<PerKelvin>(*this, f);
}
std::optional<Figure<ImpedancePerLength>> Table::impedance_per_length(Key f) const {
    return fact_figure<ImpedancePerLength>(*this, f);
}
std::optional<Figure<Length>> Table::length(Key f) const {
    return fact_figure<Length>(*this, f);
}
std::optional<Figure<Temperature>> Table::temperature(Key f) const {
    return fact_figure<Temperature>(*this, f);
}
std::optional<Figure<Voltage>> Table::voltage(Key f) const {
    return fact_figure<Voltage>(*this, f);
}
std::optional<Figure<Duration>> Table::duration(Key f) const {
    return fact_figure<Duration>(*this, f);
}
std::optional<Figure<Impedance>> Table::impedance(Key f) const {
    return fact_figure<Impedance>(*this, f);
}
std::optional<Figure<Power>> Table::power(Key f) const {
    return fact_figure<Power>(*this, f);
}
std::optional<Figure<Frequency>> Table::frequency(Key f) const {
    return fact_figure<Frequency>(*this, f);
}
std::optional<Figure<Section>> Table::section(Key name) const {
    const Fact* f = fact(name);
    const auto value = f ? section_in(f->value, text_of(f->unit)) : std::nullopt;
    if (!value) return std::nullopt;
    return Figure<Section>{*value, cite(*f), text_of(f->written)};
}
std::optional<double> Table::number(Key name) const {
    const Fact* f = fact(name);
    const auto* value = f ? std::get_if<double>(&f->value) : nullptr;
    return value ? std::optional(*value) : std::nullopt;
}
std::string_view Table::text(Key name) const {
    const Fact* f = fact(name);
    return f && is_text(f->value) ? text_of(f->written) : std::string_view{};
}

}  // namespace benchfeed::tables
