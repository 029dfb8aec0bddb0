// What is said about figures: the prints behind a grade, the edition, what a table is for, and the counts in
// SAFETY.md.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <benchfeed/report/tables_text.hpp>
#include "support/judged.hpp"

using namespace benchfeed;
using tables::Grade;
using tables::Table;

namespace {

const std::filesystem::path root = std::filesystem::path(BENCHFEED_DATA_DIR).parent_path();

std::string text_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    REQUIRE_MESSAGE(in.good(), path.string());
    return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<const Table*> all_tables() {
    std::vector<const Table*> all;
    for (const std::string_view id : test::catalogue().ids()) all.push_back(test::catalogue().table(id));
    return all;
}

bool is_key(const Table& table, std::size_t column) {
    return std::find(table.key_columns.begin(), table.key_columns.end(), column) != table.key_columns.end();
}
bool is_figure(const tables::Cell& cell) {
    return std::holds_alternative<double>(cell) || std::holds_alternative<Awg>(cell);
}

/// Grades of what a table says: filled cells that are no keys, and facts. With `figures`, numbers alone.
std::map<Grade, std::size_t> counted(const Table& table, bool figures) {
    std::map<Grade, std::size_t> count;
    for (std::size_t row = 0; row < table.rows.size(); ++row)
        for (std::size_t column = 0; column < table.columns.size(); ++column) {
            const tables::Cell& cell = table.cell(row, column);
            if (std::holds_alternative<std::monostate>(cell) || is_key(table, column)) continue;
            if (!figures || is_figure(cell)) ++count[table.grade_of(row, column)];
        }
    for (const tables::Fact& fact : table.facts)
        if (!figures || is_figure(fact.value)) ++count[fact.grade.value_or(table.grade)];
    return count;
}

/// Every word that stands in a cell or a fact of the table.
std::set<std::string> words_in(const Table& table) {
    std::set<std::string> words;
    for (const tables::Words cell : table.cells_written) words.emplace(table.text_of(cell));
    for (const tables::Fact& fact : table.facts) words.emplace(table.text_of(fact.written));
    return words;
}

/// Where the library includes the names of a table: "nec-210-8" -> <benchfeed/figures/nec_210_8.hpp>.
std::string header_of(std::string_view id) {
    std::string name(id);
    std::replace(name.begin(), name.end(), '-', '_');
    return "<benchfeed/figures/" + name + ".hpp>";
}

/// Ids of the tables that the library names, and of those that such a table names in a cell.
std::set<std::string> read_by_the_library() {
    std::string code;
    for (const auto& file : std::filesystem::recursive_directory_iterator(root / "lib"))
        if (file.path().extension() == ".cpp" || file.path().extension() == ".hpp")
            code += text_of(file.path());
    std::set<std::string> used;
    for (const Table* table : all_tables())
        if (code.find("\"" + std::string(table->id) + "\"") != std::string::npos ||
            code.find(header_of(table->id)) != std::string::npos)
            used.emplace(table->id);
    for (std::size_t before = 0; before != used.size();) {
        before = used.size();
        std::set<std::string> named;
        for (const std::string& id : used) named.merge(words_in(*test::catalogue().table(id)));
        for (const Table* table : all_tables())
            if (named.count(std::string(table->id)) > 0) used.emplace(table->id);
    }
    return used;
}

}  // namespace

TEST_CASE("a grade names its prints: one for one source, two for two") {
    for (const Table* table : all_tables()) {
        CAPTURE(table->id);
        const auto count = counted(*table, false);
        if (count.count(Grade::two_sources) > 0) CHECK(table->seen_in.size() >= 2);
        if (count.count(Grade::one_source) > 0) CHECK(table->seen_in.size() >= 1);
    }
}

// NOM-001-SEDE-2012 is an official print of the text of 2011 (notes of the source).
TEST_CASE("an edition stands only where a print of that year is named") {
    std::size_t years = 0;
    for (const Table* table : all_tables()) {
        CAPTURE(table->id);
        std::string prints;
        for (const tables::Words seen : table->seen_in) prints += std::string(table->text_of(seen)) + "\n";
        std::string edition(table->edition);
        for (std::size_t from = 0; from < edition.size(); ++years) {
            const std::size_t end = std::min(edition.find('/', from), edition.size());
            const std::string year = edition.substr(from, end - from);
            CAPTURE(year);
            const bool adopted = year == "2011" && prints.find("NOM-001-SEDE-2012") != std::string::npos;
            CHECK((adopted || prints.find(year) != std::string::npos));
            from = end + 1;
        }
    }
    CHECK(years >= 40);
}

TEST_CASE("a table that nothing reads says what it is kept for, and no other does") {
    const std::set<std::string> used = read_by_the_library();
    CHECK(used.size() >= 80);
    for (const Table* table : all_tables()) {
        CAPTURE(table->id);
        CHECK(table->kept_for.empty() == (used.count(std::string(table->id)) > 0));
    }
}

TEST_CASE("what is shown of a table: its lowest grade, no empty edition, what it is kept for") {
    const auto shown = [](const char* id) {
        return report::table_text(*test::catalogue().table(std::string_view(id)), {.width = 100});
    };
    CHECK(shown("bs-4f3a").find("Grade: one source") != std::string::npos);  // the masses
    CHECK(shown("en-60898-za").find("Source: EN 60898-1, Annex ZA (standard)\n") != std::string::npos);
    CHECK(shown("iec-b52-2").find("Edition: not seen") != std::string::npos);
    CHECK(shown("iec-b52-3").find("Kept for: XLPE") != std::string::npos);
    CHECK(shown("iec-b52-2").find("Kept for") == std::string::npos);
    for (const Table* table : all_tables())
        CHECK(report::table_text(*table, {.width = 100}).find("edition ,") == std::string::npos);
}

// Figures are numbers with a unit; words in tables are graded alike and not counted.
TEST_CASE("SAFETY.md counts the figures of each grade") {
    const std::set<std::string> used = read_by_the_library();
    std::map<Grade, std::size_t> all, read;
    for (const Table* table : all_tables())
        for (const auto& [grade, count] : counted(*table, true)) {
            all[grade] += count;
            if (used.count(std::string(table->id)) > 0) read[grade] += count;
        }
    const std::string safety = text_of(root / "SAFETY.md");
    for (const Grade grade : {Grade::two_sources, Grade::one_source, Grade::practice, Grade::memory}) {
        const std::string line =
            fmt::format("| {} | {} | {} |\n", tables::words(grade), all[grade], read[grade]);
        CHECK_MESSAGE(safety.find(line) != std::string::npos, "SAFETY.md wants: " << line);
    }
}
