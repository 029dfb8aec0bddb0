// Program of the build: data/tables -> constants of the library, and headers with their names.
//   benchfeed_make_tables OUT.cpp FOLDER FILE.toml...
// Ends with 1 and says why where a table cannot be read, its source is not in sources.toml, or it lacks what
// another table asks of it. A header that stays as it is is not written, so that nothing is compiled for it
// again.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>

#include <benchfeed/tables/catalogue.hpp>
#include <benchfeed/tables/read_sources.hpp>
#include <benchfeed/tables/table_draft.hpp>

#include "make_figures.hpp"
#include "make_names.hpp"

using namespace benchfeed;
using namespace benchfeed::tables;

namespace {

using benchfeed::literal;

std::string read(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

std::string literal(double value) {
    char buffer[32];
    const std::string text(buffer, std::to_chars(buffer, buffer + sizeof buffer, value).ptr);
    return text.find_first_of(".e") == std::string::npos ? text + ".0" : text;
}

std::string literal(const Cell& cell) {
    if (const auto* number = std::get_if<double>(&cell)) return "Cell{" + literal(*number) + "}";
    if (std::holds_alternative<InWords>(cell)) return "Cell{InWords{}}";
    if (const auto* flag = std::get_if<bool>(&cell)) return *flag ? "Cell{true}" : "Cell{false}";
    if (const auto* gauge = std::get_if<Awg>(&cell)) return fmt::format("Cell{{Awg{{{}}}}}", gauge->number);
    return "Cell{}";
}

std::string literal(const std::optional<Grade>& grade) {
    return grade ? fmt::format("Grade{{{}}}", static_cast<int>(*grade)) : "{}";
}

/// `constexpr TYPE NAME[] = {...};`; an empty list has no array. Returns the text for its span.
template <class List, class Write>
std::string array(std::string& out, std::string_view type, const std::string& name, const List& list,
                  Write write) {
    if (list.empty()) return "{}";
    out += fmt::format("constexpr {} {}[] = {{", type, name);
    for (const auto& one : list) out += write(one) + ",";
    out += "};\n";
    return name;
}

std::string literal(Words words) {
    return fmt::format("{{{}, {}}}", words.from, words.size);
}

/// Arrays of one table go to `out`; returns the table itself.
std::string write(std::string& out, const Table& table, std::string_view source_title, std::size_t number) {
    const std::string t = fmt::format("t{}_", number);
    const auto same = [](const auto& one) { return literal(one); };
    out += fmt::format("constexpr char {}words[] = {};\n", t, literal(table.words));
    const std::string columns = array(out, "Column", t + "columns", table.columns, [](const Column& c) {
        return fmt::format("{{{}, {}, {}u, {}}}", literal(c.name), literal(c.unit), c.hash, literal(c.grade));
    });
    const std::string keys = array(out, "std::size_t", t + "keys", table.key_columns,
                                   [](std::size_t key) { return std::to_string(key); });
    const std::string rows = array(out, "Row", t + "rows", table.rows, [](const Row& row) {
        return fmt::format("{{{}, {}}}", literal(row.name), literal(row.grade));
    });
    const std::string cells = array(out, "Cell", t + "cells", table.cells, same);
    const std::string written = array(out, "Words", t + "written", table.cells_written, same);
    const std::string facts = array(out, "Fact", t + "facts", table.facts, [](const Fact& f) {
        return fmt::format("{{{}, {}, {}, {}, {}u, {}}}", literal(f.name), literal(f.value),
                           literal(f.written), literal(f.unit), f.hash, literal(f.grade));
    });
    const std::string grades =
        array(out, "CellGrade", t + "grades", table.cell_grades, [](const CellGrade& g) {
            return fmt::format("{{{}, {}, Grade{{{}}}}}", g.row, g.column, static_cast<int>(g.grade));
        });
    const std::string notes = array(out, "Words", t + "notes", table.notes, same),
                      seen = array(out, "Words", t + "seen", table.seen_in, same);
    return fmt::format(
        "{{{}, {}, {}, {}, {}, {}, {}, {}, {}, Status{{{}}}, Grade{{{}}}, {{{}words, {}}}, {}, {}, {}, {}, "
        "{}, "
        "{}, {}, "
        "{}, {}}},\n",
        literal(table.id), literal(table.title), literal(table.family), literal(table.topic),
        literal(table.source_key), literal(source_title), literal(table.edition), literal(table.place),
        literal(table.kept_for), static_cast<int>(table.status), static_cast<int>(table.grade), t,
        table.words.size(), notes, seen, columns, keys, rows, cells, written, facts, grades);
}

/// Position of every table, at the lower bits of the digest of its id or at the next free place behind.
std::string write_index(const std::vector<std::string>& ids) {
    std::vector<int> places(index_size, 0);  // 0: nobody; else position + 1
    for (std::size_t i = 0; i < ids.size(); ++i) {
        std::size_t at = Key(ids[i]).hash % index_size;
        while (places[at] != 0) at = (at + 1) % index_size;
        places[at] = static_cast<int>(i) + 1;
    }
    std::string out = "constexpr std::uint16_t places[] = {";
    for (const int place : places) out += std::to_string(place) + ",";
    return out + "};\n";
}

int told(const Diagnostics& problems) {
    for (const Diagnostic& problem : problems) fmt::print(stderr, "{}: {}\n", problem.path, problem.message);
    return problems.empty() ? 0 : 1;
}

}  // namespace

namespace {

/// False: it cannot be written.
bool write_changed(const std::filesystem::path& path, const std::string& text) {
    if (read(path.string()) == text) return true;
    std::ofstream out(path, std::ios::binary);
    out << text;
    return static_cast<bool>(out.flush());
}

bool write_headers(const std::filesystem::path& folder, const Drafts& drafts) {
    std::filesystem::create_directories(folder);
    return std::all_of(drafts.begin(), drafts.end(), [&](const auto& one) {
        return write_changed(folder / (figures_name(one.first) + ".hpp"), figures_of(one.second, drafts));
    });
}

Drafts read_drafts(const std::map<std::string, std::string>& texts, Diagnostics& problems) {
    Drafts drafts;
    for (const auto& [id, text] : texts) {
        auto read = read_draft(id, text);
        if (const auto* faults = std::get_if<Diagnostics>(&read))
            problems.insert(problems.end(), faults->begin(), faults->end());
        else
            drafts.emplace(id, std::get<Draft>(std::move(read)));
    }
    const Diagnostics between = faults_between(drafts);
    problems.insert(problems.end(), between.begin(), between.end());
    return drafts;
}

}  // namespace

int main(int argc, char** argv) {
    std::map<std::string, std::string> texts;  // by id, sorted
    for (int i = 3; i < argc; ++i) texts[std::filesystem::path(argv[i]).stem().string()] = read(argv[i]);
    Diagnostics problems;
    const std::vector<Source> sources = read_sources(texts["sources"], problems);
    texts.erase("sources");
    const Drafts drafts = read_drafts(texts, problems);
    std::string arrays, tables;
    std::vector<std::string> ids;
    for (const auto& one : drafts) {
        const Draft& draft = one.second;
        const auto source = std::find_if(sources.begin(), sources.end(),
                                         [&](const Source& s) { return s.key == draft.source_key; });
        if (source == sources.end())
            problems.push_back(
                {draft.id, fmt::format("source {} is not in sources.toml", draft.source_key), {}, ""});
        else {
            tables += write(arrays, *shown(draft), source->title, ids.size());
            ids.push_back(draft.id);
        }
    }
    if (ids.size() > index_size / 2) problems.push_back({"", "too many tables for the index of ids", {}, ""});
    if (told(problems) != 0 || !write_headers(argv[2], drafts)) return 1;
    std::ofstream out(argv[1], std::ios::binary);
    out << "// Made by benchfeed_make_tables out of data/tables.\n#include "
           "<benchfeed/tables/catalogue.hpp>\n\n"
           "namespace benchfeed::tables {\n\nnamespace {\n\n"
        << arrays << "\nconstexpr Table list[] = {\n"
        << tables << "};\n\n"
        << write_index(ids) << "\n}  // namespace\n\nstd::span<const Table> all() {\n    return list;\n}\n\n"
        << "std::span<const std::uint16_t, index_size> index() {\n    return places;\n}\n\n"
        << "}  // namespace benchfeed::tables\n";
    return out.flush() ? 0 : 1;
}
