// What arithmetic fixes of the tables of devices, motors, boxes and receptacles.
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

namespace {

/// Motor tables print whole amperes or one decimal.
bool rounds_as_printed(double printed, double computed) {
    const double unit = printed == std::floor(printed) ? 1.0 : 0.1;
    return std::abs(printed - computed) <= 0.5 * unit * (1 + 1e-9);
}

std::size_t row_of_power(const Table& table, std::string_view label) {
    const auto row = table.row_of("hp_label", label);
    REQUIRE_MESSAGE(row.has_value(), label);
    return *row;
}

}  // namespace

// BS 7671 411.4.4: Zs <= U0 Cmin / (n In), n = 5, 10, 20. The table's note: seven cells are rounded up by up
// to 0.005 ohm, so the smaller of table and quotient rules.
TEST_CASE("greatest loop impedances are 0.95 x 230 V over the upper edge of the trip band") {
    const std::string up = "rounded up by up to 0.005 ohm (note of the table)";
    Deviations deviations(Deviations::List{{"bs-41-3: 20 A, B", up},
                                           {"bs-41-3: 25 A, B", up},
                                           {"bs-41-3: 32 A, B", up},
                                           {"bs-41-3: 10 A, C", up},
                                           {"bs-41-3: 16 A, C", up},
                                           {"bs-41-3: 20 A, D", up},
                                           {"bs-41-3: 25 A, D", up}});
    const Table& table = table_named("bs-41-3");
    const Table& bands = table_named("iec-60898-instantaneous");
    const double volts = table.number("u0").value_or(0) * table.number("cmin").value_or(0);
    for (std::size_t row = 0; row < table.rows.size(); ++row)
        for (const std::string curve : {"B", "C", "D"}) {
            const auto band = bands.row_of("curve", curve);
            REQUIRE(band.has_value());
            const double quotient = volts / (cell(bands, *band, "up_to") * cell(table, row, "rating"));
            const double printed = cell(table, row, curve);
            deviations.tell(table, row, curve, printed <= quotient);
            CHECK_MESSAGE(std::abs(printed - quotient) < 0.01, curve << " " << row);
        }
    deviations.check(18);
}

TEST_CASE("a fuse may have a higher loop at 5 s than at 0.4 s") {
    const Table& slow = table_named("bs-41-4");
    int compared = 0;
    for (std::size_t row = 0; row < slow.rows.size(); ++row) {
        std::string id = "bs-41-2-";
        for (const char letter : slow.text(row, "device"))
            if (letter != ' ') id += static_cast<char>(std::tolower(letter));
        const Table& fast = table_named(id);
        const auto there = fast.row_of("rating", cell(slow, row, "rating"));
        REQUIRE(there.has_value());
        CHECK(cell(slow, row, "max_zs") > cell(fast, *there, "max_zs"));
        ++compared;
    }
    CHECK(compared == 16);
}

// IEC 60364-4-41 411.5.3: R_A <= 50 V / I_dn.
TEST_CASE("electrode resistances are 50 V over the residual current") {
    const Table& table = table_named("iec-411-5-3");
    const double volts = table.number("touch_voltage").value_or(0);
    for (std::size_t row = 0; row < table.rows.size(); ++row)
        CHECK(std::abs(cell(table, row, "max_ra") - volts / (cell(table, row, "trip") / 1000)) <= 0.5);
}

// UL 943: t = (20 / I)^1.43 s, I in mA.
TEST_CASE("trip times of Class A interrupters follow the formula") {
    const Table& table = table_named("ul-943");
    const std::vector<std::string> printed{"5.59", "2.69", "1.00", "0.56", "0.100", "0.025"};
    REQUIRE(table.rows.size() == printed.size());
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        CHECK(cell(table, row, "max_trip") == std::stod(printed[row]));
        CHECK(benchfeed::test::prints_as(std::pow(20 / cell(table, row, "fault"), 1.43), printed[row]));
    }
}

// 310.15 and 430.248: the 200 V and 208 V columns are 15 and 10 % above 230 V, 115 V twice, 460 V half, 575 V
// 0.4.
TEST_CASE("full-load currents scale with the voltage") {
    Deviations deviations(Deviations::List{
        {"nec-430-250: 40, v575", "no reason found; 41 A printed where 0.4 x 104 A is 41.6 A"},
        {"nec-430-250: 3, v575", "no reason found; 3.9 A printed where 0.4 x 9.6 A is 3.84 A"}});
    struct Scale {
        std::string_view column;
        double of_230;
    };
    for (const std::string id : {"nec-430-248", "nec-430-250"}) {
        const Table& table = table_named(id);
        for (std::size_t row = 0; row < table.rows.size(); ++row)
            for (const auto& [column, of_230] : {Scale{"v115", 2}, Scale{"v200", 1.15}, Scale{"v208", 1.1},
                                                 Scale{"v460", 0.5}, Scale{"v575", 0.4}})
                if (const auto printed = table.number(row, column))
                    deviations.tell(table, row, column,
                                    rounds_as_printed(*printed, of_230 * cell(table, row, "v230")));
    }
    deviations.check(96);
}

TEST_CASE("horsepower labels and numbers agree, and currents rise with them") {
    for (const std::string id : {"nec-430-248", "nec-430-250", "nec-430-251-a", "nec-430-251-b"}) {
        const Table& table = table_named(id);
        double before = 0, amperes = 0;
        for (std::size_t row = 0; row < table.rows.size(); ++row) {
            const std::string label(table.text(row, "hp_label"));
            const auto dash = label.find('-'), slash = label.find('/');
            double value = slash == std::string::npos || dash != std::string::npos ? std::stod(label) : 0;
            if (slash != std::string::npos) {
                const std::string part = label.substr(dash == std::string::npos ? 0 : dash + 1);
                value += std::stod(part) / std::stod(part.substr(part.find('/') + 1));
            }
            CHECK_MESSAGE(agrees(cell(table, row, "hp"), value, 3e-4), id << " " << label);
            CHECK(cell(table, row, "hp") > before);
            CHECK(cell(table, row, "v230") > amperes);
            before = cell(table, row, "hp");
            amperes = cell(table, row, "v230");
        }
    }
}

// Table 430.251(A): locked-rotor current is six times full-load current; 208 V from 230 V by the voltage.
TEST_CASE("locked-rotor currents of single-phase motors are six times full load") {
    const Table& locked = table_named("nec-430-251-a");
    const Table& full = table_named("nec-430-248");
    for (std::size_t row = 0; row < locked.rows.size(); ++row) {
        const std::size_t there = row_of_power(full, locked.text(row, "hp_label"));
        CHECK(agrees(cell(locked, row, "v115"), 6 * cell(full, there, "v115"), 1e-9));
        CHECK(agrees(cell(locked, row, "v230"), 6 * cell(full, there, "v230"), 1e-9));
        CHECK(rounds_as_printed(cell(locked, row, "v208"), cell(locked, row, "v230") * 230 / 208));
    }
}

TEST_CASE("locked-rotor currents of three-phase motors scale with the voltage") {
    const Table& table = table_named("nec-430-251-b");
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        const double at_230 = cell(table, row, "v230");
        CHECK(rounds_as_printed(cell(table, row, "v200"), 1.15 * at_230));
        CHECK(rounds_as_printed(cell(table, row, "v208"), at_230 * 230 / 208));
        CHECK(rounds_as_printed(cell(table, row, "v460"), at_230 / 2));
        CHECK(rounds_as_printed(cell(table, row, "v575"), 0.4 * at_230));
    }
}

// Table 430.7(B): each letter ends 0.01 kVA/hp below the next; I, O and Q are not used.
TEST_CASE("code letters are contiguous") {
    const Table& table = table_named("nec-430-7-b");
    std::string letters;
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        letters += table.text(row, "letter");
        if (row > 0) CHECK(agrees(cell(table, row, "from"), cell(table, row - 1, "to") + 0.01, 1e-9));
    }
    CHECK(letters == "ABCDEFGHJKLMNPRSTUV");
    CHECK(cell(table, 0, "from") == 0);
    CHECK_FALSE(table.number(table.rows.size() - 1, "to").has_value());
}

TEST_CASE("single-phase code letters follow from table 430.251(A)") {
    const Table& letters = table_named("motor-code-letters-1ph");
    const Table& locked = table_named("nec-430-251-a");
    const Table& bands = table_named("nec-430-7-b");
    for (std::size_t row = 0; row < letters.rows.size(); ++row) {
        const double power = cell(letters, row, "hp");
        const auto there = locked.row_of("hp", power);
        REQUIRE(there.has_value());
        const double kva = cell(locked, *there, "v230") * 230 / power / 1000;
        CHECK(std::abs(kva - cell(letters, row, "kva_per_hp")) <= 0.05);
        const auto band = bands.row_of("letter", letters.text(row, "letter"));
        REQUIRE(band.has_value());
        CHECK(kva >= cell(bands, *band, "from"));
        CHECK(kva < cell(bands, *band, "to") + 0.01);
    }
}

// 1 in3 is 16.387 cm3; the printed metric volumes are rounded, up to 0.5 % off (note of the table).
TEST_CASE("box volumes in cm3 and in3 agree") {
    Deviations deviations(Deviations::List{});
    for (const std::string id : {"nec-314-16-a", "nec-314-16-b"}) {
        const Table& table = table_named(id);
        for (std::size_t row = 0; row < table.rows.size(); ++row) {
            const double exact = cell(table, row, "volume") * 16.387064;
            deviations.tell(table, row, "volume_metric",
                            agrees(cell(table, row, "volume_metric"), exact, 0.005));
        }
    }
    deviations.check(31);
}

TEST_CASE("a receptacle takes 80 % of its rating on a circuit with several") {
    const Table& table = table_named("nec-210-21-b-2");
    for (std::size_t row = 0; row < table.rows.size(); ++row)
        CHECK(agrees(cell(table, row, "max_load"), 0.8 * cell(table, row, "receptacle_rating"), 1e-9));
}

TEST_CASE("wire sizes of branch circuits carry the circuit, and equipment grounding never shrinks") {
    const Table& circuits = table_named("nec-210-24");
    const Table& ampacity = table_named("nec-310-16");
    for (std::size_t row = 0; row < circuits.rows.size(); ++row) {
        const auto there = ampacity.row_of("size", circuits.text(row, "min_cu"));
        REQUIRE(there.has_value());
        CHECK(cell(ampacity, *there, "cu_60") >= cell(circuits, row, "device"));
    }
    const Table& ground = table_named("nec-250-122");
    for (const std::string metal : {"cu", "al"})
        for (std::size_t row = 1; row < ground.rows.size(); ++row)
            CHECK(ground.section(row, metal)->value.area > ground.section(row - 1, metal)->value.area);
}

TEST_CASE("cord sets of watts and amperes, residual devices, time bands") {
    const Table& cords = table_named("cpsc-cords");
    for (std::size_t row = 0; row < cords.rows.size(); ++row)
        CHECK(cell(cords, row, "power") == 120 * cell(cords, row, "rated"));
    const Table& residual = table_named("iec-61008-times");
    for (std::size_t row = 0; row < residual.rows.size(); ++row) {
        CHECK(cell(residual, row, "at_1") > cell(residual, row, "at_2"));
        CHECK(cell(residual, row, "at_2") > cell(residual, row, "at_5"));
    }
    const Table& bands = table_named("iec-60898-instantaneous");
    for (std::size_t row = 1; row < bands.rows.size(); ++row)
        CHECK(cell(bands, row, "over") == cell(bands, row - 1, "up_to"));
    const Table& times = table_named("iec-60898-times");
    CHECK(times.number("tripping").value_or(0) ==
          table_named("iec-60364-4-43-433").number("overload_factor").value_or(1));
}

// Two printed limits of one class: tools and appliances are of one body of standards (clause 13).
TEST_CASE("tools and appliances of one class may leak the same") {
    const Table& limits = table_named("iec-leakage-limits");
    const auto limit = [&](const std::string& of) {
        const auto row = limits.row_of(limits.column_name(0), of);
        REQUIRE_MESSAGE(row.has_value(), of);
        return limits.number(*row, limits.column_name(1));
    };
    CHECK(limit("hand-held or transportable tool, class I") == limit("appliance, portable class I"));
    CHECK(limit("hand-held or transportable tool, class II") == limit("appliance class II"));
}
