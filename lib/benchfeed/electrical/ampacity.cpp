#include <benchfeed/electrical/ampacity.hpp>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/bs_4f3a.hpp>
#include <benchfeed/figures/bs_4f3a_ambient_60.hpp>
#include <benchfeed/figures/cable_constructions.hpp>
#include <benchfeed/figures/iec_b52_10.hpp>
#include <benchfeed/figures/iec_b52_14.hpp>
#include <benchfeed/figures/iec_b52_17.hpp>
#include <benchfeed/figures/iec_b52_2.hpp>
#include <benchfeed/figures/iec_b52_4.hpp>
#include <benchfeed/figures/nec_310_15_b_1.hpp>
#include <benchfeed/figures/nec_310_15_c_1.hpp>
#include <benchfeed/figures/nec_310_16.hpp>
#include <benchfeed/figures/nec_400_5_a_1.hpp>
#include <benchfeed/figures/nec_400_5_a_3.hpp>

namespace benchfeed::electrical {

using tables::Catalogue;
using tables::Figure;
using Cables = figures::cable_constructions;
using Lacks = Ampacity::Lacks;

namespace {

struct Question {
    const Installation& of;
    const Figures& figures;
    const Cables::Row& cable;
    [[nodiscard]] bool nec() const { return figures.code == CodeFamily::nec; }
    [[nodiscard]] const Catalogue& tables() const { return figures.tables; }
    [[nodiscard]] const Section& section() const { return of.wire.section; }
    [[nodiscard]] bool copper() const { return of.wire.metal == Metal::copper; }
};

void refuse(Ampacity& found, Lacks lacks, std::string why) {
    found.lacks = lacks;
    found.why = std::move(why);
}

void use_grade(Ampacity& found, const tables::Citation& source) {
    found.grade = std::min(found.grade, source.grade);
}

/// The last printed figure of a table that ends before what is asked.
void stand_in(Ampacity& found, Lacks lacks, std::string why) {
    found.beyond = true;
    if (found.lacks == Lacks::nothing) refuse(found, lacks, std::move(why));
}

// ---- the printed cell -----------------------------------------------------------------------------

template <class Row>
Section section_of_row(const Row& row) {
    if constexpr (requires { row.section(); })
        return row.section().value;
    else
        return row.size().value;
}

/// Row of the section as far as it has a figure in this column; else the next smaller one that has, which a
/// thicker core outdoes; else the smallest one that has, which a thinner core does not reach.
template <class Of, class Column>
std::optional<typename Of::Row> section_row(const Question& q, Ampacity& found, Column column,
                                            const std::string& why) {
    using Row = typename Of::Row;
    const auto printed = [&](const Row& row) {
        return std::optional<Figure<Current>>(column(row)).has_value();
    };
    if (const auto exact = Of::at(q.tables(), q.section()); exact && printed(*exact)) return *exact;
    found.substituted = true;
    std::optional<Row> smaller, smallest;
    for (const Row row : Of::rows(q.tables())) {
        if (!printed(row)) continue;
        const Area area = section_of_row(row).area;
        if (!smallest || area < section_of_row(*smallest).area) smallest = row;
        if (area < q.section().area && (!smaller || area > section_of_row(*smaller).area)) smaller = row;
    }
    if (!smallest)
        refuse(found, Lacks::section, why);
    else if (!smaller)
        stand_in(found, Lacks::section, why);
    return smaller ? smaller : smallest;
}

/// Takes the cell of a column. False: the table has none.
template <class Of, class Column>
bool take_cell(const Question& q, Ampacity& found, Column column, const std::string& why) {
    const auto row = section_row<Of>(q, found, column, why);
    if (row) found.base = *std::optional<Figure<Current>>(column(*row));
    return row.has_value();
}

/// The columns of tables B.52.2 and B.52.4 that have the same names.
template <class Of>
bool take_method(const Question& q, Ampacity& found, Method method, const std::string& why) {
    using Row = typename Of::Row;
    switch (method) {
        case Method::a1:
            return take_cell<Of>(
                q, found, [](const Row& row) { return row.a1(); }, why);
        case Method::a2:
            return take_cell<Of>(
                q, found, [](const Row& row) { return row.a2(); }, why);
        case Method::b1:
            return take_cell<Of>(
                q, found, [](const Row& row) { return row.b1(); }, why);
        case Method::b2:
            return take_cell<Of>(
                q, found, [](const Row& row) { return row.b2(); }, why);
        case Method::c:
            return take_cell<Of>(
                q, found, [](const Row& row) { return row.c(); }, why);
        case Method::d1:
            return take_cell<Of>(
                q, found, [](const Row& row) { return row.d1(); }, why);
        default:
            return false;
    }
}

bool has_method(Method method) {
    return method <= Method::d1 || method == Method::e;
}

std::string_view words(Method method) {
    constexpr std::string_view all[] = {"A1", "A2", "B1", "B2",    "C",       "D1",
                                        "D2", "E",  "F",  "cable", "conduit", "free air"};
    return all[static_cast<std::size_t>(method)];
}

/// Fixed cable, IEC: table and column by method. Accessories are made for 70 degC, so a 90 degC insulation
/// is rated by the 70 degC table.
bool find_iec_fixed(const Question& q, Ampacity& found) {
    if (!q.of.method) {
        refuse(found, Lacks::method, "its method of installation is not known");
        return false;
    }
    const Method method = *q.of.method;
    if (!has_method(method)) {
        refuse(found, Lacks::method, "no table here has method " + std::string(words(method)));
        return false;
    }
    const std::string why = "no table here has fixed cable of " + section_text(q.section());
    if (method == Method::e) {
        using Air = figures::iec_b52_10;
        return q.of.loaded == 2 ? take_cell<Air>(
                                      q, found, [](const Air::Row& row) { return row.e_2(); }, why)
                                : take_cell<Air>(
                                      q, found, [](const Air::Row& row) { return row.e_3(); }, why);
    }
    return q.of.loaded == 2 ? take_method<figures::iec_b52_2>(q, found, method, why)
                            : take_method<figures::iec_b52_4>(q, found, method, why);
}

/// Two loaded cores, by the column that the construction names.
bool find_cord_of_two(const Question& q, Ampacity& found, const std::string& why) {
    using Iec = figures::bs_4f3a;
    using Nec = figures::nec_400_5_a_1;
    switch (q.cable.column_2()) {
        case Cables::Column2::single_phase:
            return take_cell<Iec>(
                q, found, [](const Iec::Row& row) { return row.single_phase(); }, why);
        case Cables::Column2::b_2ccc:
            return take_cell<Nec>(
                q, found, [](const Nec::Row& row) { return row.b_2ccc(); }, why);
        case Cables::Column2::heater:
            return take_cell<Nec>(
                q, found, [](const Nec::Row& row) { return row.heater(); }, why);
        case Cables::Column2::by_method:
        case Cables::Column2::by_insulation:
            break;
    }
    refuse(found, Lacks::construction, "no table here rates a cord of type " + q.of.wire.construction);
    return false;
}

bool find_cord(const Question& q, Ampacity& found) {
    using Iec = figures::bs_4f3a;
    using Nec = figures::nec_400_5_a_1;
    const std::string why = "no table here has a cord of " + section_text(q.section());
    if (q.of.loaded == 2) return find_cord_of_two(q, found, why);
    switch (q.cable.column_3()) {
        case Cables::Column3::three_phase:
            return take_cell<Iec>(
                q, found, [](const Iec::Row& row) { return row.three_phase(); }, why);
        case Cables::Column3::a_3ccc:
            return take_cell<Nec>(
                q, found, [](const Nec::Row& row) { return row.a_3ccc(); }, why);
        case Cables::Column3::by_method:
        case Cables::Column3::by_insulation:
            break;
    }
    refuse(found, Lacks::construction, "no table here rates a cord of type " + q.of.wire.construction);
    return false;
}

using Nec310 = figures::nec_310_16;

std::optional<Figure<Current>> at_60(const Question& q, const Nec310::Row& row) {
    return q.copper() ? row.cu_60() : row.al_60();
}
/// In the column of the insulation.
std::optional<Figure<Current>> insulated(const Question& q, const Nec310::Row& row) {
    switch (q.cable.insulation_column()) {
        case Cables::InsulationColumn::n60:
            return at_60(q, row);
        case Cables::InsulationColumn::n90:
            return q.copper() ? row.cu_90() : row.al_90();
        case Cables::InsulationColumn::none:
            break;
    }
    return std::nullopt;
}

/// Fixed conductors, NEC 310.16: corrected in the column of the insulation, capped at the 60 degC column
/// (110.14(C) up to 100 A; 334.80 for NM).
bool find_nec_fixed(const Question& q, Ampacity& found) {
    const std::string why = "table 310.16 has no figure for " + section_text(q.section());
    // The column of 60 degC begins last: where it has a figure, so have the others.
    const auto row = section_row<Nec310>(
        q, found, [&](const Nec310::Row& one) { return at_60(q, one); }, why);
    const auto cell = row ? insulated(q, *row) : std::nullopt;
    if (!cell) {
        refuse(found, Lacks::section, why);
        return false;
    }
    found.base = *cell;
    found.cap = at_60(q, *row);
    return true;
}

// ---- factors --------------------------------------------------------------------------------------

/// A factor, and whether it is of the row that was asked for or of the last one.
struct Taken {
    Figure<Ratio> figure;
    bool printed = true;
};

/// In the first row at or above; else the last row that has a figure.
template <class Of, class Column>
std::optional<Taken> ambient_factor(const Catalogue& tables, Temperature ambient, Column column) {
    if (const auto row = Of::ambient_at_or_above(tables, ambient))
        if (const std::optional<Figure<Ratio>> factor = column(*row)) return Taken{*factor, true};
    std::optional<Taken> last;
    for (const auto row : Of::rows(tables))
        if (const std::optional<Figure<Ratio>> factor = column(row)) last = Taken{*factor, false};
    return last;
}

std::optional<Taken> ambient_factor(const Question& q, Temperature ambient) {
    using Iec = figures::iec_b52_14;
    using Cord = figures::bs_4f3a_ambient_60;
    using Nec = figures::nec_310_15_b_1;
    switch (q.cable.ambient_column()) {
        case Cables::AmbientColumn::pvc_70:
            return ambient_factor<Iec>(q.tables(), ambient, [](const Iec::Row& row) { return row.pvc_70(); });
        case Cables::AmbientColumn::factor:
            return ambient_factor<Cord>(q.tables(), ambient,
                                        [](const Cord::Row& row) { return row.factor(); });
        case Cables::AmbientColumn::f_60:
            return ambient_factor<Nec>(q.tables(), ambient, [](const Nec::Row& row) { return row.f_60(); });
        case Cables::AmbientColumn::f_90:
            return ambient_factor<Nec>(q.tables(), ambient, [](const Nec::Row& row) { return row.f_90(); });
    }
    return std::nullopt;
}

/// Ambient factor of the next printed row at or above; none at the base temperature.
bool find_ambient(const Question& q, Ampacity& found) {
    if (!q.of.ambient) {
        refuse(found, Lacks::ambient, "the air around it is not known");
        return false;
    }
    const Temperature ambient = *q.of.ambient;
    const auto factor = ambient_factor(q, ambient);
    const std::string ends = "at " + to_text(ambient) + " its table ends";
    if (!factor) {
        refuse(found, Lacks::ambient, ends);
        return false;
    }
    if (!factor->printed) stand_in(found, Lacks::ambient, ends);
    const double k = in(unit::one, factor->figure.value);
    if (k < 1 || (k > 1 && q.of.ambient_credit))
        found.factors.push_back(
            {"k_ambient", to_text(ambient) + (factor->printed ? " around it" : " around it, by the last row"),
             factor->figure});
    return true;
}

/// In the row of so many conductors; else in the last one.
template <class Of>
std::optional<Taken> nec_grouping(const Catalogue& tables, int carrying) {
    if (const auto row = Of::in_range(tables, carrying * unit::one)) return Taken{row->factor(), true};
    std::optional<Taken> last;
    for (const auto row : Of::rows(tables)) last = Taken{row.factor(), false};
    return last;
}
std::optional<Taken> iec_grouping(const Catalogue& tables, int circuits) {
    using Of = figures::iec_b52_17;
    if (const auto row = Of::circuits_at_or_above(tables, circuits * unit::one))
        if (const std::optional<Figure<Ratio>> factor = row->bunched()) return Taken{*factor, true};
    std::optional<Taken> last;
    for (const auto row : Of::rows(tables))
        if (const std::optional<Figure<Ratio>> factor = row.bunched()) last = Taken{*factor, false};
    return last;
}

bool find_grouping(const Question& q, Ampacity& found) {
    const int circuits = q.of.circuits, carrying = circuits * q.of.loaded;
    if (circuits <= 1 || (q.nec() && carrying <= 3)) return true;
    const auto factor = !q.nec()     ? iec_grouping(q.tables(), circuits)
                        : found.cord ? nec_grouping<figures::nec_400_5_a_3>(q.tables(), carrying)
                                     : nec_grouping<figures::nec_310_15_c_1>(q.tables(), carrying);
    const std::string why = "no table here has " + std::to_string(circuits) + " circuits together";
    if (!factor) {
        refuse(found, Lacks::grouping, why);
        return false;
    }
    if (!factor->printed) stand_in(found, Lacks::grouping, why);
    found.factors.push_back({"k_group", std::to_string(circuits) + " circuits together", factor->figure});
    return true;
}

/// Four loaded cores of a cord: a factor of the NEC, guidance elsewhere. False: its table has no such row.
bool find_four_loaded(const Question& q, Ampacity& found) {
    if (q.of.loaded < 4) return true;
    if (!q.nec() || !found.cord) {
        if (q.of.four_loaded) found.guidance = Factor{"k_cores", "four loaded cores", *q.of.four_loaded};
        return true;
    }
    const auto row = figures::nec_400_5_a_3::in_range(q.tables(), 4.0 * unit::one);
    if (row)
        found.factors.push_back({"k_cores", "four loaded cores", row->factor()});
    else
        refuse(found, Lacks::grouping, "no table here has four loaded cores");
    return static_cast<bool>(row);
}

/// Times the factors, at most the cap; the grade is the lowest of all.
void multiply(Ampacity& found) {
    Current iz = found.base.value;
    use_grade(found, found.base.source);
    for (const Factor& factor : found.factors) {
        iz = iz * factor.figure.value;
        use_grade(found, factor.figure.source);
    }
    if (found.cap) {
        use_grade(found, found.cap->source);
        iz = std::min(iz, found.cap->value);
    }
    found.value = iz;
}

}  // namespace

Ampacity ampacity(const Installation& installation, const Figures& figures) {
    refuse_all_but_positive("Wire::section", installation.wire.section.area);
    if (installation.circuits < 1) throw Refused("Installation::circuits: 1 or more");
    if (installation.loaded < 1) throw Refused("Installation::loaded: 1 or more");
    Ampacity found;
    const auto cable = Cables::at(figures.tables, installation.wire.construction);
    if (!cable) {
        refuse(found, Lacks::construction, "its type or section is not known");
        return found;
    }
    const Question q{installation, figures, *cable};
    found.cord = cable->use() == Cables::Use::cord;
    found.grade = tables::Grade::two_sources;
    if (!q.copper() && (!q.nec() || found.cord)) {
        refuse(found, Lacks::metal, "the tables here are for copper");
        return found;
    }
    const bool have_cell = found.cord ? find_cord(q, found)
                           : q.nec()  ? find_nec_fixed(q, found)
                                      : find_iec_fixed(q, found);
    if (have_cell && find_ambient(q, found) && find_grouping(q, found) && find_four_loaded(q, found))
        multiply(found);
    return found;
}

}  // namespace benchfeed::electrical
