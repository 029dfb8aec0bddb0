// The tests on the sheet: what is read while the bench is dead, and what with the power on.
#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <utility>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/report/card_parts.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::report {

using plan::Index;
using rules::Situation;

namespace {

std::string ohms(Impedance value) {
    return fmt::format("{:.2f} ohm", in(unit::ohm, value));
}

/// Outlets in which a reading is the same share one row.
struct Row {
    std::vector<std::string> where;
    std::string test, expected, stop;
};
void add_row(std::vector<Row>& rows, std::string where, std::string test, std::string expected,
             std::string stop) {
    for (Row& row : rows)
        if (row.test == test && row.expected == expected && row.stop == stop) {
            row.where.push_back(std::move(where));
            return;
        }
    rows.push_back({{std::move(where)}, std::move(test), std::move(expected), std::move(stop)});
}
/// "every outlet", "every outlet but the lamp outlet", or their names.
std::string where_words(const std::vector<std::string>& where, const std::vector<std::string>& outlets) {
    std::vector<std::string> missing;
    for (const std::string& outlet : outlets)
        if (std::find(where.begin(), where.end(), outlet) == where.end()) missing.push_back(outlet);
    if (where.size() + missing.size() != outlets.size() || where.size() < 3 || missing.size() > 2)
        return rules::list(where);
    return missing.empty() ? "every outlet" : "every outlet but " + rules::list(missing);
}
void put_rows(SheetSection& section, const std::vector<Row>& rows, const std::vector<std::string>& outlets) {
    section.table.head = {"test", "expected", "stop if", "read"};
    for (const Row& row : rows) {
        const std::string where = where_words(row.where, outlets);
        section.table.rows.push_back(
            {row.test + (where.empty() ? "" : ": " + where), row.expected, row.stop, ""});
    }
}

std::vector<std::string> tested_outlets(const Situation& s, const advice::Readings& read) {
    std::vector<std::string> names;
    for (const auto& r : read.outlets) names.push_back(s.plan[r.outlet].words());
    return names;
}

std::string from_words(const Situation& s) {
    return rules::bench_plugs(s).empty() ? "From " + rules::source_place(s, s.network.order.front())
                                         : "From the pins of the plug";
}

/// "L and N", "L1 and L2", "L1, L2, L3 and N": the live contacts that there are.
std::string live_words(plan::Conductors conductors) {
    using plan::Conductor;
    const bool one_line = conductors.lines() == 1;
    std::vector<std::string> names;
    for (const auto& [c, name] :
         {std::pair{Conductor::l1, "L1"}, {Conductor::l2, "L2"}, {Conductor::l3, "L3"}})
        if (conductors.has(c)) names.emplace_back(one_line ? "L" : name);
    if (conductors.has(Conductor::n)) names.emplace_back("N");
    return rules::list(names);
}
/// The two that a reading out and back joins.
std::string linked_words(plan::Conductors conductors) {
    plan::Conductors two;
    if (const auto pairs = network::pairs_of(conductors); pairs.count > 0) {
        two.add(pairs.begin()->from);
        two.add(pairs.begin()->to);
    }
    const bool one_line = conductors.lines() == 1;
    return one_line ? "L and N" : live_words(two);
}
plan::Conductors conductors_of(const Situation& s, Index outlet) {
    return s.plan[outlet].conductors.value_or(plan::Conductors{});
}
/// All that any tested outlet has.
plan::Conductors conductors_of(const Situation& s, const advice::Readings& read) {
    plan::Conductors all;
    for (const auto& r : read.outlets)
        all.mask = static_cast<std::uint8_t>(all.mask | conductors_of(s, r.outlet).mask);
    return all;
}

std::string ohms_or_unknown(const std::optional<Impedance>& value) {
    return value ? ohms(*value) : unknown;
}
std::string above_words(const std::optional<Impedance>& stop) {
    return stop ? "above " + ohms(*stop) : "an electrician says";
}

void add_protective_rows(std::vector<Row>& rows, const Situation& s, const advice::Readings& read) {
    const auto add = [&](std::string where, const advice::Ohms& reading) {
        add_row(rows, std::move(where), "protective conductor", ohms_or_unknown(reading.expected),
                above_words(reading.stop));
    };
    for (const auto& r : read.outlets) add(s.plan[r.outlet].words(), r.protective);
    for (const auto& m : read.metals) add("metal of " + s.plan.metals[m.metal].name, m.protective);
}

/// Live contacts joined at an outlet, read from the plug, and the link out again.
void add_link_rows(std::vector<Row>& rows, const Situation& s, const advice::Readings& read) {
    std::vector<Row> removed;
    for (const auto& r : read.outlets) {
        const std::string name = s.plan[r.outlet].words();
        const plan::Conductors used = conductors_of(s, r.outlet);
        const std::string more =
            read.loop_excess ? fmt::format("open, or {} more", read.loop_excess->written) : "open";
        if (r.open_when_dead) {
            add_row(rows, name, live_words(used) + ", behind a release", "open", "joined");
            continue;
        }
        if (r.neutral) add_row(rows, name, "N, all the way", ohms(*r.neutral), more);
        add_row(rows, name, "fit a link between " + linked_words(used) + " at the outlet, switch on",
                ohms_or_unknown(r.round), more);
        add_row(removed, name, "REMOVE the link, read again", "open", "joined");
    }
    rows.insert(rows.end(), removed.begin(), removed.end());
}

bool has_link(const advice::Readings& read) {
    return std::any_of(read.outlets.begin(), read.outlets.end(),
                       [](const auto& r) { return !r.open_when_dead; });
}

/// A switch stands before an outlet that can be read while the bench is dead.
bool has_switch(const Situation& s, const advice::Readings& read, const advice::Schedule& schedule) {
    return std::any_of(read.outlets.begin(), read.outlets.end(), [&](const auto& r) {
        return !r.open_when_dead &&
               std::any_of(schedule.gates.begin(), schedule.gates.end(),
                           [&](const auto& gate) { return s.network.hangs_below(r.outlet, gate.element); });
    });
}

}  // namespace

SheetSection dead_tests(const Situation& s, const advice::Readings& read, const advice::Schedule& schedule) {
    SheetSection section{"DEAD: unplugged, tools out, for the builder. " + from_words(s) + " to each place." +
                             (has_link(read) ? " Every link that is fitted COMES OUT AGAIN" : ""),
                         {"Expected: cold, strands plain; tinned ones read a little more."},
                         {},
                         false,
                         false};
    const std::string live = live_words(conductors_of(s, read));
    std::vector<Row> rows;
    add_protective_rows(rows, s, read);
    add_link_rows(rows, s, read);
    if (has_switch(s, read, schedule))
        add_row(rows, "", "each switch off: its outlet open, no other changes", "open", "joined");
    add_row(rows, "", live + " to each other and to PE; no coil, lamp or electronics between", "open",
            "joined");
    if (read.insulation_least)
        add_row(rows, "",
                fmt::format("insulation at {} DC, {} to PE, electronics and coils disconnected",
                            to_text(read.insulation_volts->value), live),
                "far more", "below " + std::string(read.insulation_least->written));
    else
        add_row(rows, "", "insulation: an electrician chooses voltage and limit", unknown,
                "an electrician says");
    put_rows(section, rows, tested_outlets(s, read));
    return section;
}

namespace {

/// What goes dead when a stop is pressed: the tools behind it, or where none is plugged in the contactors.
std::string stopped_words(const Situation& s, const rules::Stop& stop) {
    const std::vector<Index> loads = rules::stopped_by(s, stop);
    return loads.empty() ? "what is behind " + rules::list(s, stop.opens) : rules::list(s, loads);
}

/// Pressed and pulled out again, each emergency stop.
void add_stop_tests(std::vector<Row>& rows, const Situation& s) {
    const tables::Table* table = s.tables.table("thresholds");
    const std::string often = table ? ", " + std::string(table->text("stop_test")) : "";
    for (const rules::Stop& stop : rules::emergency_stops(s)) {
        const std::string name = s.plan[stop.element].words();
        if (!stop.known || stop.opens.empty()) {
            add_row(rows, name, "pressed while everything runs", unknown, "a blade runs on");
            continue;
        }
        add_row(rows, name, "pressed while everything runs" + often, stopped_words(s, stop) + ": dead",
                "one runs on");
        add_row(rows, name, "pulled out again", "all of it stays dead", "something starts");
    }
}

/// "fall of volts when a 230 V heater of 10 A is switched on, ...": where the meters stand.
std::string fall_words(const Situation& s, Index outlet, const advice::FallReading& fall) {
    const std::string heater = fmt::format("a {} heater of {}", to_text(fall.heater), to_text(fall.load));
    switch (fall.from) {
        case advice::FallFrom::idle:
            return "volts at the outlet fall when " + heater + " is switched on there: by";
        case advice::FallFrom::source:
            return fmt::format("{} on: volts at {} less volts at the outlet, both at once", heater,
                               rules::source_place(s, outlet));
        case advice::FallFrom::wall:
            break;
    }
    return heater + " on: volts at the wall outlet less volts at the outlet, both at once";
}

/// No heater is made for three lines: each line is looked at, and the way round.
void add_three_line_rows(std::vector<Row>& rows, const Situation& s, Index outlet) {
    const auto conductors = conductors_of(s, outlet);
    const auto& supply = s.plan.supply_of(outlet);
    const std::string name = s.plan[outlet].words(),
                      lines = to_text(network::nominal_between(supply, conductors));
    add_row(rows, name, "volts between each two lines", lines + ", all alike", "one is missing");
    if (conductors.has(plan::Conductor::n))
        add_row(rows, name, "volts of each line to N, one line loaded",
                to_text(magnitude(network::nominal_voltage(supply, plan::Conductor::l1))) + ", all alike",
                "another line rises");
    add_row(rows, name, "rotation, then the motor at the machine", "as marked", "it turns backwards");
}

/// A motor on three lines that is wired shows its direction nowhere but at itself.
void add_wired_motor_rows(std::vector<Row>& rows, const Situation& s) {
    for (const Index i : s.network.order) {
        const plan::Element& e = s.plan[i];
        const auto* load = e.as<plan::Load>();
        if (!load || e.plug.known() || e.plug.stated_unknown || !rules::turns(*load)) continue;
        if (conductors_of(s, i).lines() == 3)
            add_row(rows, e.words(), "which way it turns, with the blade off", "as marked",
                    "it turns backwards");
    }
}

void add_volt_rows(std::vector<Row>& rows, const Situation& s, const advice::Readings& read) {
    for (const auto& r : read.outlets) {
        if (!r.fall) {
            add_three_line_rows(rows, s, r.outlet);
            continue;
        }
        add_row(rows, s.plan[r.outlet].words(), fall_words(s, r.outlet, *r.fall),
                r.fall->expected ? to_text(*r.fall->expected, 2) : "a length is not known",
                r.fall->stop ? "more than " + to_text(*r.fall->stop, 2) : "an electrician says");
    }
}

void add_loop_rows(std::vector<Row>& rows, const Situation& s, const advice::Readings& read) {
    for (const auto& r : read.outlets) {
        if (rules::is_own_source(s, r.outlet)) continue;  // its loop says nothing of what opens
        std::string stop = above_words(r.loop_stop);
        if (r.loop_doubt && r.loop_stop && *r.loop_doubt < *r.loop_stop)
            stop += fmt::format("; doubtful above {}", ohms(*r.loop_doubt));
        add_row(rows, s.plan[r.outlet].words(),
                r.loop_by_residual ? "fault loop, for the residual device to open" : "fault loop",
                ohms_or_unknown(r.loop), stop);
    }
}

void add_residual_rows(std::vector<Row>& rows, const Situation& s, const advice::Readings& read) {
    for (const auto& r : read.residuals) {
        const std::string name = s.plan[r.device].words();
        std::string at = "residual device at " + to_text(r.test),
                    stop = r.most ? "slower than " + to_text(r.most->value) : "an electrician says";
        if (r.high_test) {
            at += " (" + to_text(*r.high_test) + ")";
            stop += " (" + to_text(r.most_at_high->value) + ")";
        }
        // A tester drives its current to earth, and from a floating source none comes back.
        if (!rules::is_floating(s, r.device)) add_row(rows, name, at, "opens", stop);
        if (r.stays)
            add_row(rows, name, "residual device below " + to_text(r.stays->value), "stays on", "opens");
        add_row(rows, name, "test button", "opens", "it stays");
    }
}

}  // namespace

SheetSection live_tests(const Situation& s, const advice::Readings& read) {
    SheetSection section{"LIVE: electrician", {}, {}, false, false};
    std::vector<Row> rows;
    add_volt_rows(rows, s, read);
    add_wired_motor_rows(rows, s);
    if (!s.nec()) add_loop_rows(rows, s, read);
    add_residual_rows(rows, s, read);
    const bool releases =
        std::any_of(s.plan.elements.begin(), s.plan.elements.end(), [](const plan::Element& e) {
            const auto* sw = e.as<plan::Switch>();
            return sw && sw->no_volt.is(true);
        });
    if (releases)
        add_row(rows, "", "power off and on with the tool on, each no-volt switch", "it stays off",
                "it starts");
    add_stop_tests(rows, s);
    add_row(rows, "", "plug and cord, after half an hour of the heaviest set", "warm", "too hot to hold");
    put_rows(section, rows, tested_outlets(s, read));
    return section;
}

}  // namespace benchfeed::report
