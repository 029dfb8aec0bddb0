// Cells that rules read and no other test reaches, written a second time; and a seal on all cells.
#include <doctest/doctest.h>

#include <string>

#include <benchfeed/report/card.hpp>
#include "support/approved.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using tables::Table;

namespace {

/// Table, first cell of the row (as written), second ("" for any), column, figure.
struct Known {
    const char *table, *first, *second, *column;
    double figure;
};

// The sources are those of the tables; verified as they say there, and here from memory once more.
constexpr Known known[] = {
    // BS 1363-1 table 2 and the code of practice: what the fuse in a plug may be for a cord's section.
    {"bs-1363-cord", "0.5", "", "max_load", 3},
    {"bs-1363-cord", "0.5", "", "max_fuse", 3},
    {"bs-1363-cord", "0.75", "", "max_load", 6},
    {"bs-1363-cord", "0.75", "", "max_fuse", 13},
    {"bs-1363-cord", "1", "", "max_load", 10},
    {"bs-1363-cord", "1", "", "max_fuse", 13},
    {"bs-1363-cord", "1.25", "", "max_load", 13},
    {"bs-1363-cord", "1.25", "", "max_fuse", 13},
    {"bs-1363-cord", "1.5", "", "max_load", 13},
    {"bs-1363-cord", "1.5", "", "max_fuse", 13},
    // NEC 404.14(A) and (B): motors at 80 percent, inductive loads of AC/DC switches at half.
    {"nec-404-14", "AC general-use snap switch", "resistive", "max_share", 1},
    {"nec-404-14", "AC general-use snap switch", "motor", "max_share", 0.8},
    {"nec-404-14", "AC/DC general-use snap switch", "inductive", "max_share", 0.5},
    // NEC 210.8(A), 2020 on: 125 V to 250 V, 150 V to ground or less.
    {"nec-210-8", "dwelling outdoors, laundry area, within 6 ft of a sink", "2020+", "max_to_ground", 150},
    // NEC 314.16(B)(1): a coiled conductor counts twice.
    {"nec-314-16-b-rules", "each unbroken loop or coil at least twice the 300.14 free length (12 in)",
     "(B)(1)", "allowances", 2},
    // BS 1363-2: a double outlet is tested with 20 A in all (14 A and 6 A). EN 50075: the flat plug is
    // for 2.5 A.
    {"plug-patterns", "BS 1363", "both", "double_total", 20},
    {"plug-patterns", "BS 1363", "both", "rated", 13},
    {"plug-patterns", "CEE 7/16", "plug", "rated", 2.5},
    // IEC 60364-5-52 table B.52.2, 2.5 mm2 copper, two loaded conductors.
    {"iec-b52-2", "2.5", "", "A1", 19.5},
    {"iec-b52-2", "2.5", "", "A2", 18.5},
    {"iec-b52-2", "2.5", "", "B1", 24},
    {"iec-b52-2", "2.5", "", "B2", 23},
    {"iec-b52-2", "2.5", "", "C", 27},
    {"iec-b52-2", "2.5", "", "D1", 29},
    // A cord marked SEO without a temperature is a 60 degree cord (NEC table 400.4).
    {"cable-constructions", "SEO", "cord", "conductor_temp", 60},
    // One live core: none of them has the colour of the neutral.
    {"core-colours", "flexible cord, IEC", "1", "neutral", 0},
};

bool is_written(std::string_view cell, std::string_view wanted) {
    return cell == wanted || (cell.starts_with(wanted) && cell.substr(wanted.size()).starts_with(" "));
}

/// Digest of every cell and fact as written.
std::string seal_of(const Table& table) {
    std::string all;
    const auto add = [&](std::string_view text) { (all += text) += '\x1f'; };
    for (const tables::Column& column : table.columns) {
        add(table.text_of(column.name));
        add(table.text_of(column.unit));
    }
    for (const tables::Words cell : table.cells_written) add(table.text_of(cell));
    for (const tables::Fact& fact : table.facts) {
        for (const tables::Words words : {fact.name, fact.written, fact.unit}) add(table.text_of(words));
    }
    return report::digest(all);
}

}  // namespace

TEST_CASE("cells that rules read, written a second time") {
    for (const Known& k : known) {
        CAPTURE(k.table);
        CAPTURE(k.first);
        CAPTURE(k.column);
        const Table* table = test::catalogue().table(std::string_view(k.table));
        REQUIRE(table);
        const auto column = table->column(std::string_view(k.column));
        REQUIRE(column);
        int rows = 0;
        for (std::size_t row = 0; row < table->rows.size(); ++row) {
            if (!is_written(table->written(row, 0), k.first)) continue;
            if (*k.second && !is_written(table->written(row, 1), k.second)) continue;
            ++rows;
            const auto* figure = std::get_if<double>(&table->cell(row, *column));
            REQUIRE(figure);
            CHECK(*figure == doctest::Approx(k.figure));
        }
        CHECK(rows == 1);
    }
}

// A slip of the hand in any cell is noticed here. That a figure is right is what the other tests are for: a
// change is approved with BENCHFEED_APPROVE=1 after it was read against its source.
TEST_CASE("sealed: no cell of a table changes unnoticed") {
    std::string sealed;
    for (const std::string_view id : test::catalogue().ids())
        sealed += std::string(id) + " " + seal_of(*test::catalogue().table(id)) + "\n";
    CHECK_MESSAGE(test::holds_as_approved(BENCHFEED_TESTS_DIR "/golden/tables.sealed", sealed),
                  "read these tables against their sources");
}
