// The constants of the library are what stands in data/tables.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include <benchfeed/tables/catalogue.hpp>
#include <benchfeed/tables/read_table.hpp>

using namespace benchfeed;
using tables::Table;

namespace {

std::vector<std::string_view> texts(const Table& table, std::span<const tables::Words> list) {
    std::vector<std::string_view> texts;
    for (const tables::Words words : list) texts.push_back(table.text_of(words));
    return texts;
}

void same_rows(const Table& made, const Table& read) {
    REQUIRE(made.rows.size() == read.rows.size());
    REQUIRE(made.columns.size() == read.columns.size());
    for (std::size_t c = 0; c < read.columns.size(); ++c) {
        CHECK(made.column_name(c) == read.column_name(c));
        CHECK(made.text_of(made.columns[c].unit) == read.text_of(read.columns[c].unit));
    }
    for (std::size_t r = 0; r < read.rows.size(); ++r) {
        CHECK(made.text_of(made.rows[r].name) == read.text_of(read.rows[r].name));
        for (std::size_t c = 0; c < read.columns.size(); ++c) {
            CHECK(made.cell(r, c) == read.cell(r, c));
            CHECK(made.written(r, c) == read.written(r, c));
            CHECK(made.grade_of(r, c) == read.grade_of(r, c));
            CHECK(made.cite(r, c).cell() == read.cite(r, c).cell());
        }
    }
}

}  // namespace

TEST_CASE("every table of the data is a constant of the library, cell by cell") {
    const tables::Catalogue catalogue;
    std::size_t compared = 0;
    for (const auto& file :
         std::filesystem::recursive_directory_iterator(std::string(BENCHFEED_DATA_DIR) + "/tables")) {
        if (file.path().extension() != ".toml" || file.path().stem() == "sources") continue;
        const std::string id = file.path().stem().string();
        CAPTURE(id);
        std::ifstream text(file.path(), std::ios::binary);
        const auto result = tables::read_table(id, std::string{std::istreambuf_iterator<char>(text), {}});
        REQUIRE(std::holds_alternative<std::shared_ptr<const Table>>(result));
        const Table& read = *std::get<std::shared_ptr<const Table>>(result);
        const Table* made = catalogue.table(id);
        REQUIRE(made != nullptr);
        CHECK(made->title == read.title);
        CHECK(made->status == read.status);
        CHECK(made->edition == read.edition);
        CHECK_FALSE(made->source_title.empty());
        CHECK(texts(*made, made->notes) == texts(read, read.notes));
        CHECK(texts(*made, made->seen_in) == texts(read, read.seen_in));
        same_rows(*made, read);
        REQUIRE(made->facts.size() == read.facts.size());
        for (std::size_t i = 0; i < read.facts.size(); ++i) {
            CHECK(made->text_of(made->facts[i].name) == read.text_of(read.facts[i].name));
            CHECK(made->facts[i].value == read.facts[i].value);
            CHECK(made->text_of(made->facts[i].written) == read.text_of(read.facts[i].written));
            CHECK(made->cite(made->facts[i]).grade == read.cite(read.facts[i]).grade);
        }
        ++compared;
    }
    CHECK(compared == catalogue.ids().size());
    CHECK(compared > 90);
}
