// What must hold between the cells of ampacity and factor tables, and between tables that print the same
// figure.
#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "support/prints_as.hpp"
#include "unit/tables/deviations.hpp"

using benchfeed::tables::Table;
using benchfeed::test::agrees;
using benchfeed::test::cell;
using benchfeed::test::Deviations;
using benchfeed::test::table_named;

TEST_CASE("ampacities rise with the section") {
    const std::vector<std::string> ids{
        "iec-b52-2",     "iec-b52-3",     "iec-b52-4",           "iec-b52-5",
        "iec-b52-10",    "iec-b52-12",    "iec-b52-d-2001",      "iec-60204-1-ampacity",
        "bs-4f3a",       "vde-0298-4-11", "vde-0298-4-11-other", "bs-4f1a-2",
        "bs-4f1a-3",     "bs-4f2a-2",     "bs-4f2a-3",           "nec-310-16",
        "nec-400-5-a-1", "nec-400-5-a-2", "iec-60998-2",         "nbr-5410-36-small"};
    int columns = 0;
    for (const auto& id : ids) {
        const Table& table = table_named(id);
        double thinner = 0;
        for (std::size_t row = 0; row < table.rows.size(); ++row) {
            const auto section = table.section(row, table.column_name(0));
            REQUIRE(section.has_value());
            CHECK_MESSAGE(benchfeed::in(benchfeed::unit::mm2, section->value.area) > thinner, id);
            thinner = benchfeed::in(benchfeed::unit::mm2, section->value.area);
        }
        for (std::size_t column = 0; column < table.columns.size(); ++column) {
            if (table.text_of(table.columns[column].unit) != "A") continue;
            ++columns;
            double before = 0;
            for (std::size_t row = 0; row < table.rows.size(); ++row) {
                const auto amperes = table.number(row, table.column_name(column));
                if (!amperes) continue;
                CHECK_MESSAGE(*amperes > before, id << ", " << table.column_name(column) << ", row " << row);
                before = *amperes;
            }
        }
    }
    CHECK(columns == 73);
}

TEST_CASE("factors never rise downwards, and groups of one need none") {
    const std::vector<std::string> ids{"iec-b52-14",         "iec-b52-17",     "bs-4f3a-ambient-60",
                                       "bs-4f3a-ambient-90", "nec-310-15-b-1", "nec-310-15-c-1",
                                       "nec-400-5-a-3",      "bs-4f1a-reel"};
    for (const auto& id : ids) {
        const Table& table = table_named(id);
        for (std::size_t column = 1; column < table.columns.size(); ++column) {
            const std::string name(table.column_name(column));
            if (table.text_of(table.columns[column].unit) != "1" || name == "to" || name == "from") continue;
            double before = 2;
            for (std::size_t row = 0; row < table.rows.size(); ++row) {
                const auto factor = table.number(row, name);
                if (!factor) continue;
                CHECK_MESSAGE(*factor <= before, id << ", " << name << ", row " << row);
                CHECK(*factor > 0);
                before = *factor;
            }
        }
    }
}

TEST_CASE("bands follow each other without a gap") {
    for (const std::string id : {"nec-310-15-c-1", "nec-400-5-a-3"}) {
        const Table& table = table_named(id);
        for (std::size_t row = 1; row < table.rows.size(); ++row)
            CHECK(cell(table, row, "from") == cell(table, row - 1, "to") + 1);
        CHECK_FALSE(table.number(table.rows.size() - 1, "to").has_value());
    }
    for (const std::string id : {"iec-41-1", "iec-60335-1-11", "iec-54-2", "ul-489-calibration"}) {
        const Table& table = table_named(id);
        const std::string from(table.column_name(0)), to(table.column_name(1));
        const double step = id == "ul-489-calibration" ? 1 : 0;
        for (std::size_t row = 1; row < table.rows.size(); ++row)
            CHECK(cell(table, row, from) == cell(table, row - 1, to) + step);
    }
    const Table& ambient = table_named("nec-310-15-b-1");
    for (std::size_t row = 1; row < ambient.rows.size(); ++row)
        CHECK(cell(ambient, row, "from") == cell(ambient, row - 1, "ambient") + 1);
}

TEST_CASE("the 400.5(A)(3) factors are those of 310.15(C)(1)") {
    const Table& cords = table_named("nec-400-5-a-3");
    const Table& wires = table_named("nec-310-15-c-1");
    for (std::size_t row = 0; row < cords.rows.size(); ++row) {
        const auto there = wires.row_of("from", cell(cords, row, "from"));
        REQUIRE(there.has_value());
        CHECK(cell(cords, row, "factor") == cell(wires, *there, "factor"));
    }
}

TEST_CASE("three loaded conductors never carry more than two, nor cooler insulation more than hotter") {
    const auto at_most = [](const Table& less, std::string_view a, const Table& more, std::string_view b) {
        int compared = 0;
        for (std::size_t row = 0; row < less.rows.size(); ++row) {
            const auto size = less.section(row, less.column_name(0));
            const auto there = size ? more.row_of(size->value) : std::nullopt;
            const auto left = less.number(row, a);
            const auto right = there ? more.number(*there, b) : std::nullopt;
            if (!left || !right) continue;
            ++compared;
            CHECK_MESSAGE(*left <= *right,
                          less.id << " " << a << ", " << more.id << " " << b << ", row " << row);
        }
        CHECK_MESSAGE(compared >= 6, less.id << " " << a);
    };
    for (const char* method : {"A1", "A2", "B1", "B2", "C", "D1"}) {
        at_most(table_named("iec-b52-4"), method, table_named("iec-b52-2"), method);
        at_most(table_named("iec-b52-5"), method, table_named("iec-b52-3"), method);
        at_most(table_named("iec-b52-2"), method, table_named("iec-b52-3"), method);
        at_most(table_named("iec-b52-4"), method, table_named("iec-b52-5"), method);
    }
    at_most(table_named("iec-b52-10"), "E_3", table_named("iec-b52-10"), "E_2");
    at_most(table_named("bs-4f3a"), "three_phase", table_named("bs-4f3a"), "single_phase");
    const Table& nec = table_named("nec-310-16");
    at_most(nec, "cu_60", nec, "cu_75");
    at_most(nec, "cu_75", nec, "cu_90");
    at_most(nec, "al_60", nec, "al_75");
    at_most(nec, "al_75", nec, "al_90");
    at_most(nec, "al_60", nec, "cu_60");
    at_most(nec, "al_90", nec, "cu_90");
    const Table& cords = table_named("nec-400-5-a-1");
    at_most(cords, "a_3ccc", cords, "b_2ccc");
    at_most(cords, "b_2ccc", cords, "heater");
}

// Two prints of one figure: BS 7671 Table 4F3A and DIN VDE 0298-4 Table 11 (note of either).
TEST_CASE("household cords: the British and the German table agree") {
    const Table& british = table_named("bs-4f3a");
    const Table& german = table_named("vde-0298-4-11");
    int compared = 0;
    for (std::size_t row = 0; row < german.rows.size(); ++row) {
        const auto there = british.row_of("section", cell(german, row, "section"));
        if (!there) continue;
        CHECK(cell(german, row, "loaded_2") == cell(british, *there, "single_phase"));
        CHECK(cell(german, row, "loaded_3") == cell(british, *there, "three_phase"));
        ++compared;
    }
    CHECK(compared == 6);
}

// IEC 60204-1 at 40 degC: its PVC columns are those of IEC 60364-5-52 times 0.87, within 0.5 A (note of the
// table).
TEST_CASE("machine wiring at 40 degC is the 30 degC table times its ambient factor") {
    const Table& machine = table_named("iec-60204-1-ampacity");
    const Table& conduit = table_named("iec-b52-4");
    const Table& air = table_named("iec-b52-10");
    const Table& ambient = table_named("iec-b52-14");
    const auto at_40 = ambient.row_of("ambient", 40.0);
    REQUIRE(at_40.has_value());
    const double factor = cell(ambient, *at_40, "pvc_70");
    int compared = 0;
    for (std::size_t row = 0; row < machine.rows.size(); ++row) {
        const auto there = conduit.row_of("section", cell(machine, row, "section"));
        if (!there) continue;
        CHECK(std::abs(cell(machine, row, "B2") - factor * cell(conduit, *there, "B2")) <= 0.5);
        const auto free = air.row_of("section", cell(machine, row, "section"));
        REQUIRE(free.has_value());
        CHECK(std::abs(cell(machine, row, "E") - factor * cell(air, *free, "E_3")) <= 0.5);
        ++compared;
    }
    CHECK(compared == 7);
}

// Terminals are tested with the current of two loaded PVC conductors by method B1 (note of the table).
TEST_CASE("test currents of terminals are the ampacities of method B1") {
    const Table& terminals = table_named("iec-60998-2");
    const Table& cables = table_named("iec-b52-2");
    int compared = 0;
    for (std::size_t row = 0; row < terminals.rows.size(); ++row) {
        const auto there = cables.row_of("section", cell(terminals, row, "section"));
        if (!there) continue;
        CHECK(cell(terminals, row, "test_current") == cell(cables, *there, "B1"));
        ++compared;
    }
    CHECK(compared == 8);
}

TEST_CASE("the cells that changed in 2011 stand in table 310.16 as they are now") {
    const Table& changes = table_named("nec-310-16-editions");
    const Table& now = table_named("nec-310-16");
    for (std::size_t row = 0; row < changes.rows.size(); ++row) {
        const auto there = now.row_of("size", changes.text(row, "size"));
        REQUIRE(there.has_value());
        const std::string metal = changes.text(row, "material") == "Cu" ? "cu_" : "al_";
        const std::string column = metal + std::to_string(static_cast<int>(cell(changes, row, "column")));
        CHECK(cell(changes, row, "from_2011") == cell(now, *there, column));
        CHECK(cell(changes, row, "until_2008") != cell(now, *there, column));
    }
}

// Source   the heat that leaves a conductor at its final temperature, 310.14(B) without losses in the
// insulation: I^2 R(T)
//          goes with T - 30 degC, R(T) with T + 234.5 (copper) or 228.1 (aluminium). Columns are rounded to 5
//          A each.
TEST_CASE("columns of table 310.16 differ as conductors of 60, 75 and 90 degC do") {
    const Table& table = table_named("nec-310-16");
    int compared = 0;
    const auto hold = [&](const std::string& cool, const std::string& warm, double from, double to,
                          double metal) {
        const double ratio = std::sqrt((to - 30) / (from - 30) * (from + metal) / (to + metal));
        for (std::size_t row = 0; row < table.rows.size(); ++row) {
            const auto low = table.number(row, cool), high = table.number(row, warm);
            if (!low || !high) continue;
            CHECK_MESSAGE(std::abs(*high / ratio - *low) <= 2.5 + 2.5 / ratio, table.text(row, "size")
                                                                                   << " " << warm);
            ++compared;
        }
    };
    hold("cu_60", "cu_75", 60, 75, 234.5);
    hold("cu_60", "cu_90", 60, 90, 234.5);
    hold("cu_75", "cu_90", 75, 90, 234.5);
    hold("al_60", "al_75", 60, 75, 228.1);
    hold("al_60", "al_90", 60, 90, 228.1);
    hold("al_75", "al_90", 75, 90, 228.1);
    CHECK(compared == 75);
}

// 240.4(D) caps the device of 14, 12 and 10 AWG at the 60 degC column of today's table 310.16.
TEST_CASE("caps of small conductors are their 60 degC ampacity") {
    const Table& caps = table_named("nec-240-4-d");
    const Table& now = table_named("nec-310-16");
    int compared = 0;
    for (std::size_t row = 0; row < caps.rows.size(); ++row) {
        const auto there = now.row_of("size", caps.text(row, "size"));
        REQUIRE(there.has_value());
        const auto amperes =
            now.number(*there, std::string_view(caps.text(row, "material") == "Cu" ? "cu_60" : "al_60"));
        if (!amperes) continue;
        CHECK(cell(caps, row, "max_device") == *amperes);
        ++compared;
    }
    CHECK(compared == 5);
}

TEST_CASE("a plug cord's greatest load is what Table 4F3A carries, up to the plug's 13 A") {
    const Table& plugs = table_named("bs-1363-cord");
    const Table& cords = table_named("bs-4f3a");
    for (std::size_t row = 0; row < plugs.rows.size(); ++row) {
        const auto there = cords.row_of("section", cell(plugs, row, "section"));
        REQUIRE(there.has_value());
        CHECK(cell(plugs, row, "max_load") == std::min(13.0, cell(cords, *there, "single_phase")));
    }
}
