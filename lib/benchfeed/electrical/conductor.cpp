#include <benchfeed/electrical/conductor.hpp>

#include <boost/units/cmath.hpp>

#include <benchfeed/figures/cable_constructions.hpp>
#include <benchfeed/figures/conductor_temperature.hpp>
#include <benchfeed/figures/iec_43a.hpp>
#include <benchfeed/figures/iec_60028.hpp>
#include <benchfeed/figures/iec_60228_class_1_2.hpp>
#include <benchfeed/figures/iec_60228_class_5.hpp>
#include <benchfeed/figures/iec_60364_5_52_g.hpp>
#include <benchfeed/figures/nec_ch9_8.hpp>
#include <benchfeed/figures/nec_ch9_9.hpp>

namespace benchfeed::electrical {

using tables::Found;
using tables::Missing;
using Cables = figures::cable_constructions;

ImpedancePerLength resistance_at(ImpedancePerLength table, Temperature table_temperature, PerKelvin alpha,
                                 Temperature theta) {
    const TemperatureRise rise = theta - table_temperature;
    return table * (1.0 * unit::one + alpha * rise);
}

namespace {

// ---- NEC ------------------------------------------------------------------------------------------
using Nec = figures::nec_ch9_8;

/// Chapter 9 table 8 prints solid and stranded wire in rows of their own.
std::optional<Nec::Row> nec_row(const tables::Catalogue& tables, const Section& section, bool solid) {
    std::optional<Nec::Row> best;
    for (const Nec::Row row : Nec::rows(tables)) {
        if (!section.gauge || row.size().value.gauge != section.gauge) continue;
        if (!best || (in(unit::one, row.strands().value) == 1.0) == solid) best = row;
    }
    return best;
}

Found<ConductorData> nec_data(const Wire& wire, const tables::Catalogue& tables) {
    using Coefficients = figures::conductor_temperature;
    ConductorData data;
    Section section = wire.section;
    const bool solid = wire.strands == Strands::solid, copper = wire.metal == Metal::copper;
    auto row = nec_row(tables, section, solid);
    if (!row) {
        const auto below = Nec::below(tables, section);
        if (!below) return below.missing();
        data.substituted = true;
        section = below->size().value;
        row = nec_row(tables, section, solid);
        if (!row) return Missing{Nec::id.key.text, section_text(section)};
    }
    data.table = copper ? row->r_cu() : row->r_al();
    data.alpha = copper ? Coefficients::alpha_cu_75(tables) : Coefficients::alpha_al_75(tables);
    data.table_temperature = data.temperature = Nec::temperature(tables).value;
    if (const auto line = figures::nec_ch9_9::at(tables, section)) data.reactance = line->x_pvc();
    data.resistance = data.table.value;
    data.cold = resistance_at(data.table.value, data.table_temperature, data.alpha.value, celsius(20));
    data.plain = data.table;
    data.least = data.cold;
    return data;
}

// ---- IEC ------------------------------------------------------------------------------------------

/// Whether the strands of a cord are tinned is not printed on it: the higher resistance for drops and the
/// least fault, the lower one for the highest fault.
struct Printed {
    tables::Figure<ImpedancePerLength> greatest, plain;
};
Printed printed(const figures::iec_60228_class_5::Row& row) {
    return {row.max_r_tinned(), row.max_r()};
}
Printed printed(const figures::iec_60228_class_1_2::Row& row) {
    return {row.max_r(), row.max_r()};
}

/// The row of the section, or of the next smaller one that is printed.
template <class Classes>
Found<Printed> row_of(const Section& section, const tables::Catalogue& tables, bool& substituted) {
    const auto exact = Classes::at(tables, section);
    substituted = !exact;
    const auto row = exact ? exact : Classes::below(tables, section);
    return row.then([](const auto& found) { return printed(found); });
}

Found<ConductorData> iec_data(const Wire& wire, const tables::Catalogue& tables) {
    const auto kind = Cables::at(tables, wire.construction);
    if (!kind) return kind.missing();
    if (wire.metal != Metal::copper) return Missing{figures::iec_60228_class_1_2::id.key.text, "aluminium"};
    ConductorData data;
    const auto row = wire.strands == Strands::fine
                         ? row_of<figures::iec_60228_class_5>(wire.section, tables, data.substituted)
                         : row_of<figures::iec_60228_class_1_2>(wire.section, tables, data.substituted);
    if (!row) return row.missing();
    data.table = row->greatest;
    data.alpha = figures::iec_60028::alpha_20(tables);
    data.table_temperature = celsius(20);
    data.temperature = kind->conductor_temp().value;
    data.reactance = figures::iec_60364_5_52_g::lambda(tables);
    data.resistance =
        resistance_at(data.table.value, data.table_temperature, data.alpha.value, data.temperature);
    data.cold = data.table.value;
    data.plain = row->plain;
    data.least = data.plain.value;
    return data;
}

}  // namespace

Found<ConductorData> conductor_data(const Wire& wire, const Figures& figures) {
    refuse_all_but_positive("Wire::section", wire.section.area);
    return figures.code == CodeFamily::nec ? nec_data(wire, figures.tables) : iec_data(wire, figures.tables);
}

// ---- along a run ----------------------------------------------------------------------------------

ComplexImpedance impedance_of(const Run& run) {
    refuse_negative("Run::resistance", run.resistance);
    refuse_negative("Run::reactance", run.reactance);
    refuse_negative("Run::length", run.length);
    refuse_negative("Run::passes", Ratio(run.passes * unit::one));
    return rectangular(Impedance(run.resistance * run.length * run.passes),
                       Impedance(run.reactance * run.length * run.passes));
}

VoltagePhasor voltage_drop(const Run& run, CurrentPhasor current) {
    return current * impedance_of(run);
}

Voltage voltage_drop(const Run& run, Current current) {
    refuse_negative("current", current);
    return current * magnitude(impedance_of(run));
}

Impedance fault_loop(const FaultLoop& loop) {
    refuse_negative("FaultLoop::source", loop.source);
    ComplexImpedance sum = rectangular(loop.source, Impedance{});
    for (const Run& run : loop.runs) sum += impedance_of(run);
    return magnitude(sum);
}

Current fault_current(Voltage u0, Impedance loop, Ratio counted_on) {
    refuse_all_but_positive("u0", u0);
    refuse_all_but_positive("loop", loop);
    refuse_all_but_positive("counted_on", counted_on);
    return counted_on * u0 / loop;
}

// ---- heat of a fault ------------------------------------------------------------------------------

JouleIntegral withstood_energy(AdiabaticFactor k, Area section) {
    const auto stood = k * section;  // A s^0.5
    return JouleIntegral(stood * stood);
}

Found<Withstand> withstand(const Wire& wire, const tables::Catalogue& tables) {
    refuse_all_but_positive("Wire::section", wire.section.area);
    const auto kind = Cables::at(tables, wire.construction);
    if (!kind) return kind.missing();
    if (wire.metal != Metal::copper) return Missing{figures::iec_43a::id.key.text, "aluminium"};
    if (kind->adiabatic().empty()) return Missing{figures::iec_43a::id.key.text, wire.construction};
    return figures::iec_43a::at(tables, kind->adiabatic()).then([&](const figures::iec_43a::Row& row) {
        const Area section = wire.section.area;
        auto k = row.k();
        k.written = k.written.substr(0, k.written.find(' '));  // its unit is told beside it
        return Withstand{k, section, withstood_energy(k.value, section)};
    });
}

Duration longest_time(JouleIntegral withstood, Current current) {
    return withstood / (current * current);
}

Area least_section(Current current, Duration time, AdiabaticFactor k) {
    return Area(current * bu::sqrt(time) / k);
}

}  // namespace benchfeed::electrical
