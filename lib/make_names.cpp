#include "make_names.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

namespace benchfeed {

using tables::Draft;
using tables::DraftCell;
using tables::DraftColumn;
using tables::DraftFact;

namespace {

/// What C++ and the record itself need for themselves.
constexpr std::array<std::string_view, 25> taken{
    "at",    "rows",   "id",      "source", "written", "in_range", "below", "has", "plain",
    "class", "switch", "default", "public", "private", "register", "and",   "or",  "not",
    "xor",   "case",   "new",     "static", "double",  "int",      "text"};

}  // namespace

std::string literal(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\' || byte < 0x20 || byte >= 0x7f)
            out += fmt::format("\\{:03o}", byte);
        else
            out += c;
    }
    return out + "\"";
}

std::string name_of(std::string_view word) {
    std::string name;
    for (const char c : word) {
        const auto byte = static_cast<unsigned char>(c);
        if (std::isalnum(byte) != 0)
            name += static_cast<char>(std::tolower(byte));
        else if (!name.empty() && name.back() != '_')
            name += '_';
    }
    while (!name.empty() && name.back() == '_') name.pop_back();
    if (name.empty() || std::isdigit(static_cast<unsigned char>(name.front())) != 0) name = "n" + name;
    if (std::find(taken.begin(), taken.end(), name) != taken.end()) name += '_';
    return name;
}

std::string type_of(std::string_view column) {
    std::string type;
    bool begins = true;
    for (const char c : name_of(column)) {
        if (c != '_') type += begins ? static_cast<char>(std::toupper(static_cast<unsigned char>(c))) : c;
        begins = c == '_';
    }
    return type == "Row" || type == "Column" ? type + "_" : type;
}

std::string_view quantity_of(std::string_view unit) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 32> quantities{{
        {"1", "Ratio"},
        {"%", "Ratio"},
        {"A", "Current"},
        {"mA", "Current"},
        {"kA", "Current"},
        {"V", "Voltage"},
        {"W", "Power"},
        {"kW", "Power"},
        {"hp", "Power"},
        {"ohm", "Impedance"},
        {"Mohm", "Impedance"},
        {"m", "Length"},
        {"ft", "Length"},
        {"in", "Length"},
        {"mm", "Length"},
        {"mm2", "Section"},
        {"AWG", "Section"},
        {"in3", "Volume"},
        {"cm3", "Volume"},
        {"degC", "Temperature"},
        {"1/K", "PerKelvin"},
        {"s", "Duration"},
        {"min", "Duration"},
        {"h", "Duration"},
        {"Hz", "Frequency"},
        {"A2s", "JouleIntegral"},
        {"ohm/km", "ImpedancePerLength"},
        {"ohm/kft", "ImpedancePerLength"},
        {"ohm/m", "ImpedancePerLength"},
        {"mV/A/m", "ImpedancePerLength"},
        {"ohm*mm2/m", "Resistivity"},
        {"A*s^0.5/mm2", "AdiabaticFactor"},
    }};
    const auto* at = std::find_if(quantities.begin(), quantities.end(),
                                  [&](const auto& one) { return one.first == unit; });
    return at == quantities.end() ? "" : at->second;
}

bool is_nothing(const DraftCell& cell) {
    return std::holds_alternative<std::monostate>(cell);
}

namespace {

Shown shown_of(const Draft& draft, std::size_t at) {
    Shown shown;
    shown.column = &draft.columns[at];
    shown.at = at;
    shown.name = name_of(shown.column->name);
    for (const auto& row : draft.rows) {
        const DraftCell& cell = row.cells[at];
        shown.whole = shown.whole && !is_nothing(cell);
        shown.flag = shown.flag || std::holds_alternative<bool>(cell);
        const auto* word = std::get_if<std::string>(&cell);
        if (word && std::find(shown.words.begin(), shown.words.end(), *word) == shown.words.end())
            shown.words.push_back(*word);
    }
    return shown;
}

}  // namespace

std::vector<Shown> columns_of(const Draft& draft) {
    std::vector<Shown> columns;
    for (std::size_t i = 0; i < draft.columns.size(); ++i) columns.push_back(shown_of(draft, i));
    return columns;
}

std::optional<std::size_t> table_column(const Draft& draft, const DraftColumn& column) {
    constexpr std::string_view facts = "fact of ";
    return column.names.starts_with(facts) ? draft.column(std::string_view(column.names).substr(facts.size()))
                                           : std::nullopt;
}

const DraftFact* fact_named(const Draft& draft, std::size_t row, std::size_t table_at, std::size_t fact_at,
                            const Drafts& drafts) {
    const auto* table = std::get_if<std::string>(&draft.rows[row].cells[table_at]);
    const auto* fact = std::get_if<std::string>(&draft.rows[row].cells[fact_at]);
    const auto there = table ? drafts.find(*table) : drafts.end();
    if (!fact || there == drafts.end()) return nullptr;
    for (const DraftFact& one : there->second.facts)
        if (one.name == *fact) return &one;
    return nullptr;
}

}  // namespace benchfeed
