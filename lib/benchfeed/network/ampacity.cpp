#include <benchfeed/network/ampacity.hpp>

#include <algorithm>

#include <benchfeed/base/quantity_text.hpp>

namespace benchfeed::network {

using plan::Cable;
using plan::Element;
using plan::Method;
using plan::Plan;
using tables::Figure;
using tables::Key;
using tables::Table;

namespace {

struct Question {
    const Plan& plan;
    const tables::Catalogue& tables;
    const Network& network;
    Index element;
    const Cable& cable;
    const plan::Stock& stock;
    const Table& constructions;
    std::size_t row;  ///< of the construction
    [[nodiscard]] bool nec() const { return network.practice.family == Family::nec; }
    [[nodiscard]] std::string path(std::string_view field) const {
        return plan[element].path() + ".cable." + std::string(field);
    }
    [[nodiscard]] std::string_view text(std::string_view column) const {
        return constructions.text(row, column);
    }
};

void refuse(Ampacity& found, std::string path, std::string why) {
    found.missing = std::move(path);
    found.why = std::move(why);
}

void use_grade(Ampacity& found, const tables::Citation& source) {
    found.grade = std::min(found.grade, source.grade);
}

/// The last printed figure of a table that ends before what is asked.
void stand_in(Ampacity& found, std::string path, std::string why) {
    found.beyond = true;
    if (found.missing.empty()) refuse(found, std::move(path), std::move(why));
}

std::optional<Area> area_of(const Table& table, std::size_t row) {
    const auto section = table.section(row, table.column_name(0));
    return section ? std::optional(section->value.area) : std::nullopt;
}

/// Row of the section as far as it has a figure in this column; else the next smaller one that has, which a
/// thicker core outdoes; else the smallest one that has, which a thinner core does not reach.
std::optional<std::size_t> section_row(const Question& q, Ampacity& found, const Table& table,
                                       std::string_view column, std::string why) {
    const Section& section = *q.stock.section;
    const auto exact = table.row_of(section);
    if (exact && table.current(*exact, column)) return exact;
    found.substituted = true;
    std::optional<std::size_t> smaller, smallest;
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        const auto area = area_of(table, row);
        if (!area || !table.current(row, column)) continue;
        if (!smallest || *area < *area_of(table, *smallest)) smallest = row;
        if (*area < section.area && (!smaller || *area > *area_of(table, *smaller))) smaller = row;
    }
    if (!smaller) stand_in(found, q.stock.path() + ".section", std::move(why));
    return smaller ? smaller : smallest;
}

std::string_view method_column(Method method) {
    switch (method) {
        case Method::a1:
            return "A1";
        case Method::a2:
            return "A2";
        case Method::b1:
            return "B1";
        case Method::b2:
            return "B2";
        case Method::c:
            return "C";
        case Method::d1:
            return "D1";
        case Method::e:
            return "E";
        default:
            return "";
    }
}

/// Fixed cable, IEC: table and column by method. Accessories are made for 70 degC, so a 90 degC insulation
/// is rated by the 70 degC table.
bool find_iec_fixed(const Question& q, Ampacity& found) {
    if (!q.cable.method.known()) {
        refuse(found, q.path("method"), "its method of installation is not known");
        return false;
    }
    const int loaded = loaded_conductors(q.plan, q.element);
    const bool free_air = q.cable.method.is(Method::e);
    const tables::Key id = free_air ? Key("iec-b52-10") : loaded == 2 ? Key("iec-b52-2") : Key("iec-b52-4");
    std::string column(method_column(q.cable.method.get()));
    if (free_air) column = loaded == 2 ? "E_2" : "E_3";
    const Table* table = q.tables.table(id);
    if (column.empty() || !table || !table->column(column)) {
        refuse(found, q.path("method"), "no table here has method " + std::string(q.cable.method.word()));
        return false;
    }
    const auto row = section_row(q, found, *table, column,
                                 "no table here has fixed cable of " + section_text(*q.stock.section));
    if (row) found.base = *table->current(*row, column);
    return row.has_value();
}

bool find_cord(const Question& q, Ampacity& found) {
    const bool two = loaded_conductors(q.plan, q.element) == 2;
    const Table* table = q.tables.table(q.text(two ? "ampacity_2" : "ampacity_3"));
    const std::string column(q.text(two ? "column_2" : "column_3"));
    if (!table || !table->column(column)) {
        refuse(found, q.stock.path() + ".type", "no table here rates a cord of type " + *q.stock.type);
        return false;
    }
    const auto row = section_row(q, found, *table, column,
                                 "no table here has a cord of " + section_text(*q.stock.section));
    if (row) found.base = *table->current(*row, column);
    return row.has_value();
}

std::string nec_column(const plan::Stock& stock, std::string_view degrees) {
    return (stock.conductor.is(plan::Metal::copper) ? "cu_" : "al_") + std::string(degrees);
}

/// Fixed conductors, NEC 310.16: corrected in the column of the insulation, capped at the 60 degC column
/// (110.14(C) up to 100 A; 334.80 for NM).
bool find_nec_fixed(const Question& q, Ampacity& found) {
    const Table* table = q.tables.table("nec-310-16");
    const std::string why = "table 310.16 has no figure for " + section_text(*q.stock.section);
    if (!table) {
        refuse(found, q.stock.path() + ".section", why);
        return false;
    }
    // The column of 60 degC begins last: where it has a figure, so have the others.
    const auto row = section_row(q, found, *table, nec_column(q.stock, "60"), why);
    const auto cell =
        row ? table->current(*row, nec_column(q.stock, q.text("insulation_column"))) : std::nullopt;
    if (!cell) {
        refuse(found, q.stock.path() + ".section", why);
        return false;
    }
    found.base = *cell;
    found.cap = *table->current(*row, nec_column(q.stock, "60"));
    return true;
}

/// The last row that has a figure in this column.
std::optional<Figure<Ratio>> last_printed(const Table& table, std::string_view column) {
    for (std::size_t row = table.rows.size(); row-- > 0;)
        if (auto factor = table.ratio(row, column)) return factor;
    return std::nullopt;
}

/// Ambient factor of the next printed row at or above; none at the base temperature.
bool find_ambient(const Question& q, Ampacity& found) {
    const auto& own = q.cable.ambient;
    const auto& ambient = own.known() ? own : q.plan.head.ambient;
    found.ambient_assumed = ambient.assumed();
    if (!ambient.known()) {
        refuse(found, own.stated_unknown ? q.path("ambient") : "plan.ambient",
               "the air around it is not known");
        return false;
    }
    const Table* table = q.tables.table(q.text("ambient_table"));
    const std::string column(q.text("ambient_column"));
    const double degrees = in_celsius(*ambient);
    const auto row = table ? table->row_at_or_above("ambient", degrees) : std::nullopt;
    auto factor = row ? table->ratio(*row, column) : std::nullopt;
    const bool printed = factor.has_value();
    if (!printed) {
        factor = table ? last_printed(*table, column) : std::nullopt;
        if (!factor) {
            refuse(found, q.path("ambient"), "at " + to_text(*ambient) + " its table ends");
            return false;
        }
        stand_in(found, q.path("ambient"), "at " + to_text(*ambient) + " its table ends");
    }
    const bool credit = q.plan.local.ambient_credit.is(true);
    const double k = in(unit::one, factor->value);
    if (k < 1 || (k > 1 && credit))
        found.factors.push_back({"k_ambient",
                                 to_text(*ambient) + (printed ? " around it" : " around it, by the last row"),
                                 *factor});
    return true;
}

bool find_grouping(const Question& q, Ampacity& found) {
    const int circuits = q.cable.grouped.value_or(1);
    if (circuits <= 1) return true;
    std::optional<Figure<Ratio>> factor;
    const Table* table = nullptr;
    std::string_view column = "factor";
    if (q.nec()) {
        const int carrying = circuits * loaded_conductors(q.plan, q.element);
        if (carrying <= 3) return true;
        table = q.tables.table(found.cord ? Key("nec-400-5-a-3") : Key("nec-310-15-c-1"));
        const auto row = table ? table->row_in_range("from", "to", carrying) : std::nullopt;
        factor = row ? table->ratio(*row, column) : std::nullopt;
    } else {
        column = "bunched";
        table = q.tables.table("iec-b52-17");
        const auto row = table ? table->row_at_or_above("circuits", circuits) : std::nullopt;
        factor = row ? table->ratio(*row, column) : std::nullopt;
    }
    if (!factor) {
        const std::string why = "no table here has " + std::to_string(circuits) + " circuits together";
        factor = table ? last_printed(*table, column) : std::nullopt;
        if (!factor) {
            refuse(found, q.path("grouped"), why);
            return false;
        }
        stand_in(found, q.path("grouped"), why);
    }
    found.factors.push_back({"k_group", std::to_string(circuits) + " circuits together", *factor});
    return true;
}

void find_four_loaded(const Question& q, Ampacity& found) {
    if (loaded_conductors(q.plan, q.element) < 4) return;
    if (q.nec() && found.cord) {
        const Table* table = q.tables.table("nec-400-5-a-3");
        const auto row = table ? table->row_in_range("from", "to", 4) : std::nullopt;
        if (const auto factor = row ? table->ratio(*row, "factor") : std::nullopt)
            found.factors.push_back({"k_cores", "four loaded cores", *factor});
    } else if (q.network.practice.four_loaded) {
        found.guidance = Factor{"k_cores", "four loaded cores", *q.network.practice.four_loaded};
    }
}

}  // namespace

bool ampacity_needs_method(const Plan& plan, const tables::Catalogue& tables, Index element) {
    const auto& cable = plan[element].cable;
    const Table* constructions = tables.table("cable-constructions");
    if (!cable || cable->stock_index == plan::nowhere || !constructions) return false;
    const auto row = constructions->row_of("construction", plan.stocks[cable->stock_index].type.value_or(""));
    return row && constructions->text(*row, "use") == "fixed" && constructions->text(*row, "family") == "iec";
}

int loaded_conductors(const Plan& plan, Index index) {
    const Element& element = plan[index];
    const plan::Conductors used = element.conductors.value_or(plan::Conductors{});
    const auto* sw = element.as<plan::Switch>();
    if (sw && sw->wiring.is(plan::Wiring::loop)) return 2 * sw->poles.value_or(1);
    // Two lines and neutral: the neutral counts unless it carries only the difference, which nobody promises.
    return std::clamp(used.live(), 2, 3);
}

Ampacity ampacity(const Plan& plan, const tables::Catalogue& tables, const Network& network, Index element) {
    Ampacity found;
    const Element& e = plan[element];
    if (!e.cable || e.cable->stock_index == plan::nowhere) {
        refuse(found, e.path() + ".cable", "the plan does not say what cable it is");
        return found;
    }
    const plan::Stock& stock = plan.stocks[e.cable->stock_index];
    const Table* constructions = tables.table("cable-constructions");
    const auto row = constructions && stock.type.known() ? constructions->row_of("construction", *stock.type)
                                                         : std::nullopt;
    if (!row || !stock.section.known()) {
        refuse(found, stock.path() + ".type", "its type or section is not known");
        return found;
    }
    const Question q{plan, tables, network, element, *e.cable, stock, *constructions, *row};
    found.cord = q.text("use") == "cord";
    found.grade = tables::Grade::two_sources;
    const bool metal_known = stock.conductor.known();
    const bool copper = stock.conductor.is(plan::Metal::copper);
    if (!metal_known || (!copper && (!q.nec() || found.cord))) {
        refuse(found, stock.path() + ".conductor",
               metal_known ? "the tables here are for copper" : "its metal is not known");
        return found;
    }
    const bool have_cell = found.cord ? find_cord(q, found)
                           : q.nec()  ? find_nec_fixed(q, found)
                                      : find_iec_fixed(q, found);
    if (!have_cell || !find_ambient(q, found) || !find_grouping(q, found)) return found;
    find_four_loaded(q, found);
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
    return found;
}

}  // namespace benchfeed::network
