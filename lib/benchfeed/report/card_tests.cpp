// The tests on the sheet: what is read while the bench is dead, and what with the power on.
#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/report/card_parts.hpp>
#include <benchfeed/rules/held_against.hpp>
#include <benchfeed/rules/stops.hpp>
#include <benchfeed/rules/supplies.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>
#include <benchfeed/rules/volt_readings.hpp>

namespace benchfeed::report {

using plan::Index;
using rules::Situation;

namespace {

std::string ohms(Impedance value) {
    return fmt::format("{:.2f} ohm", in(unit::ohm, value));
}

/// Places at which the same is expected share one test.
void add_row(std::vector<SheetTest>& rows, const std::string& place, std::string test, std::string expected,
             std::string stop, const std::vector<std::string>& found = {}) {
    for (SheetTest& row : rows)
        if (row.test == test && row.expected == expected && row.stop == stop && !row.places.empty()) {
            row.places.push_back(place);
            row.found.insert(row.found.end(), found.begin(), found.end());
            return;
        }
    SheetTest made{0, std::move(test), std::move(expected), std::move(stop), {}, found};
    if (!place.empty()) made.places.push_back(place);
    rows.push_back(std::move(made));
}
/// Something that is done once, for a thing that has a name instead of a key.
void add_once(std::vector<SheetTest>& rows, const std::string& name, const std::string& test,
              std::string expected, std::string stop) {
    rows.push_back({0, name.empty() ? test : name + ": " + test, std::move(expected), std::move(stop), {}});
}
/// "O1 0.07 ohm, O2 0.08 ohm on 2026-05-02": those of one day in one line. Each ends in its date.
std::vector<std::string> by_date(const std::vector<std::string>& found) {
    constexpr std::size_t date = std::string_view(" on 2026-05-02").size();
    std::vector<std::string> lines;
    for (const std::string& one : found) {
        const std::string tail = one.substr(one.size() - date);
        if (!lines.empty() && lines.back().ends_with(tail))
            lines.back().replace(lines.back().size() - date, date, ", " + one);
        else
            lines.push_back(one);
    }
    return lines;
}
/// What the plan says was read, by test and place, and what of it found a row.
class Found {
public:
    explicit Found(const Situation& s) : s_(s) {
        for (const plan::MeterReading* r : rules::latest_readings(s.plan)) {
            const Key key{r->test.get(), r->element, r->metal};
            if (!all_.contains(key)) order_.push_back(key);
            all_[key].push_back(r);
        }
    }
    /// "O1 0.9 ohm on 2026-05-02".
    std::vector<std::string> at(Index element, plan::Test test, const std::string& key = "") {
        return take({test, element, plan::nowhere}, key);
    }
    std::vector<std::string> at_metal(Index metal) {
        return take({plan::Test::protective, plan::nowhere, metal}, "");
    }
    /// Insulation is read anywhere, in one test.
    std::vector<std::string> insulation() {
        std::vector<std::string> found;
        for (const Key& key : order_)
            if (std::get<plan::Test>(key) == plan::Test::insulation)
                for (std::string& words : take(key, s_.plan[std::get<1>(key)].words()))
                    found.push_back(std::move(words));
        return found;
    }
    /// "fault loop at the wall outlet: 0.5 ohm on 2026-05-02": what no row has, dead or live.
    std::vector<std::string> others(bool live) {
        std::vector<std::string> found;
        for (const Key& key : order_) {
            if (taken_.contains(key) || plan::is_live(std::get<plan::Test>(key)) != live) continue;
            const plan::MeterReading& first = *all_[key].front();
            const std::string place =
                fmt::format("{} at {}:", rules::words(first.test.get()), rules::place_words(s_, first));
            for (std::string& words : take(key, place)) found.push_back(std::move(words));
        }
        return found;
    }

private:
    using Key = std::tuple<plan::Test, Index, Index>;
    std::vector<std::string> take(const Key& key, const std::string& place) {
        std::vector<std::string> found;
        const auto it = all_.find(key);
        if (it == all_.end()) return found;
        taken_.insert(key);
        for (const plan::MeterReading* r : it->second)
            found.push_back(fmt::format("{}{}{}{} on {}", place, place.empty() ? "" : " ", *r->found,
                                        r->cold.is(false) ? ", conductors warm," : "", *r->date));
        return found;
    }

    const Situation& s_;
    std::map<Key, std::vector<const plan::MeterReading*>> all_;
    std::vector<Key> order_;  ///< of the file
    std::set<Key> taken_;
};
/// What no row of a section has, as lines of it.
void add_others(SheetSection& section, Found& found, bool live) {
    const std::vector<std::string> others = found.others(live);
    for (const std::string& one : by_date(others)) section.lines.push_back("Also read: " + one + ".");
}
void number_all(std::vector<SheetTest>& rows, int& number) {
    for (SheetTest& row : rows) {
        row.number = ++number;
        row.found = by_date(row.found);
    }
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
plan::Conductors conductors_of(const Situation& s, const rules::Readings& read) {
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

using Keys = std::vector<std::string>;

void add_protective_rows(std::vector<SheetTest>& rows, const Situation& s, const rules::Readings& read,
                         const Keys& keys, Found& found) {
    for (const auto& r : read.outlets)
        add_row(rows, keys[r.outlet], "protective conductor", ohms_or_unknown(r.protective.expected),
                above_words(r.protective.stop), found.at(r.outlet, plan::Test::protective, keys[r.outlet]));
    for (const auto& m : read.metals) {
        const std::string& name = s.plan.metals[m.metal].name;
        add_once(rows, "metal of " + name, "protective conductor", ohms_or_unknown(m.protective.expected),
                 above_words(m.protective.stop));
        rows.back().found = found.at_metal(m.metal);
    }
}

/// Live contacts joined at an outlet, read from the plug, and the link out again. A neutral that is not part
/// of that comes first: three tools on three lines without it get each other's volts.
void add_link_rows(std::vector<SheetTest>& rows, const Situation& s, const rules::Readings& read,
                   const Keys& keys, Found& found) {
    const std::string more =
        read.loop_excess ? fmt::format("open, or {} more", read.loop_excess->written) : "open";
    for (const auto& r : read.outlets)
        if (!r.open_when_dead && r.neutral)
            add_row(rows, keys[r.outlet], "N, all the way", ohms(*r.neutral), more,
                    found.at(r.outlet, plan::Test::neutral, keys[r.outlet]));
    for (const auto& r : read.outlets) {
        const plan::Conductors used = conductors_of(s, r.outlet);
        if (r.open_when_dead)
            add_row(rows, keys[r.outlet], live_words(used) + " (a no-volt release is in between)", "open",
                    "joined", found.at(r.outlet, plan::Test::link, keys[r.outlet]));
        else
            add_row(rows, keys[r.outlet],
                    "fit a link between " + linked_words(used) +
                        " at the outlet, switch on, read. Then REMOVE the link: open again",
                    ohms_or_unknown(r.round), more, found.at(r.outlet, plan::Test::link, keys[r.outlet]));
    }
}

/// On more than one line each of them can end at another contact.
void add_polarity_rows(std::vector<SheetTest>& rows, const Situation& s, const rules::Readings& read,
                       const Keys& keys) {
    for (const auto& r : read.outlets)
        if (!r.open_when_dead && conductors_of(s, r.outlet).lines() > 1)
            add_row(rows, keys[r.outlet], "each of " + live_words(conductors_of(s, r.outlet)) + " in turn",
                    "joined to its own pin alone", "joined to another");
}

/// A switch stands before an outlet.
bool has_switch(const Situation& s, Index outlet, const advice::Schedule& schedule) {
    return std::any_of(schedule.gates.begin(), schedule.gates.end(),
                       [&](const auto& gate) { return s.network.hangs_below(outlet, gate.element); });
}

}  // namespace

SheetSection dead_tests(const Situation& s, const rules::Readings& read, const advice::Schedule& schedule,
                        int& number) {
    SheetSection section{"DEAD tests: unplugged, tools out, for the builder", {}};
    section.wide = true;
    section.lines = {from_words(s) +
                     " to each place. Expected: cold, strands plain; tinned ones read a little more."};
    const auto keys = outlet_keys(s);
    const std::string live = live_words(conductors_of(s, read));
    std::vector<SheetTest> rows;
    Found found(s);
    add_protective_rows(rows, s, read, keys, found);
    add_link_rows(rows, s, read, keys, found);
    if (read.insulation_least)
        add_once(rows, "",
                 fmt::format("insulation at {} DC, {} to PE, electronics and coils disconnected",
                             to_text(read.insulation_volts->value), live),
                 "well above the limit", "below " + std::string(read.insulation_least->written));
    else
        add_once(rows, "", "insulation: an electrician chooses voltage and limit", unknown,
                 "an electrician says");
    rows.back().found = found.insulation();
    add_polarity_rows(rows, s, read, keys);
    for (const auto& r : read.outlets)
        if (!r.open_when_dead && has_switch(s, r.outlet, schedule))
            add_row(rows, keys[r.outlet], "its switch off; no other outlet changes", "open", "joined");
    add_once(rows, "", live + " to each other and to PE; no coil, lamp or electronics between", "open",
             "joined");
    add_others(section, found, false);
    number_all(rows, number);
    section.tests = std::move(rows);
    return section;
}

namespace {

/// What goes dead when a stop is pressed: the tools behind it, or where none is plugged in the contactors.
std::string stopped_words(const Situation& s, const rules::Stop& stop) {
    const std::vector<Index> loads = rules::stopped_by(s, stop);
    return loads.empty() ? "what is behind " + rules::list(s, stop.opens) : rules::list(s, loads);
}

/// Pressed and pulled out again, each emergency stop.
void add_stop_tests(std::vector<SheetTest>& rows, const Situation& s) {
    const tables::Table* table = s.tables.table("thresholds");
    const std::string often = table ? ", " + std::string(table->text("stop_test")) : "";
    for (const rules::Stop& stop : rules::emergency_stops(s)) {
        const std::string name = s.plan[stop.element].words();
        if (!stop.known || stop.opens.empty()) {
            add_once(rows, name, "pressed while everything runs", unknown, "a blade runs on");
            continue;
        }
        add_once(rows, name, "pressed while everything runs" + often, stopped_words(s, stop) + ": dead",
                 "one runs on");
        add_once(rows, name, "pulled out again", "all of it stays dead", "something starts");
    }
}

/// "fall of volts when a 230 V heater of 10 A is switched on, ...": where the meters stand.
std::string fall_words(const Situation& s, Index outlet, const rules::FallReading& fall) {
    const std::string heater = fmt::format("a {} heater of {}", to_text(fall.heater), to_text(fall.load));
    switch (fall.from) {
        case rules::FallFrom::idle:
            return "volts at the outlet fall when " + heater + " is switched on there: by";
        case rules::FallFrom::source:
            return fmt::format("{} on: volts at {} less volts at the outlet, both at once", heater,
                               rules::source_place(s, outlet));
        case rules::FallFrom::wall:
            break;
    }
    return heater + " on: volts at the wall outlet less volts at the outlet, both at once";
}

/// What is done, what is expected, and where somebody stops.
struct VoltWords {
    std::string test, expected, stop;
};
VoltWords volt_words(const rules::VoltReading& r) {
    const std::string most = r.most ? rules::shown(*r.most) : unknown;
    const std::string apart = r.least ? "below " + rules::shown(*r.least) + " or above " + most : "";
    const std::string alike = r.expected ? rules::shown(*r.expected) + ", all alike" : "";
    switch (r.test) {
        case plan::Test::lines:
            return {"volts between each two lines", alike, apart};
        case plan::Test::line_to_neutral:
            return {"volts of each line to N", alike, apart};
        case plan::Test::line_to_earth:
            return {"volts of each line to PE", alike, apart};
        case plan::Test::neutral_to_earth:
            return {"volts of N to PE", "near 0",
                    "above " + most + "; doubtful above " + (r.doubt ? rules::shown(*r.doubt) : unknown)};
        default:
            return {"one line loaded: volts of the other lines to N", "as before",
                    "one rises by more than " + most + ": unplug everything"};
    }
}

/// On more than one line each of them is looked at, and on three the way round.
void add_line_rows(std::vector<SheetTest>& rows, const Situation& s, Index outlet, const std::string& key,
                   Found& found) {
    for (const rules::VoltReading& r : rules::volt_readings(s, outlet)) {
        const VoltWords words = volt_words(r);
        add_row(rows, key, words.test, words.expected, words.stop, found.at(outlet, r.test, key));
    }
    if (conductors_of(s, outlet).lines() == 3)
        add_row(rows, key, "rotation by meter, then the motor at the machine", "as marked",
                "it turns backwards", found.at(outlet, plan::Test::rotation, key));
}

/// A motor on three lines that is wired shows its direction nowhere but at itself.
void add_wired_motor_rows(std::vector<SheetTest>& rows, const Situation& s) {
    for (const Index i : s.network.order) {
        const plan::Element& e = s.plan[i];
        const auto* load = e.as<plan::Load>();
        if (!load || e.plug.known() || e.plug.stated_unknown || !rules::turns(*load)) continue;
        if (conductors_of(s, i).lines() == 3)
            add_once(rows, e.words(), "which way it turns, with the blade off", "as marked",
                     "it turns backwards");
    }
}

void add_volt_rows(std::vector<SheetTest>& rows, const Situation& s, const rules::Readings& read,
                   const Keys& keys, Found& found) {
    for (const auto& r : read.outlets) {
        if (conductors_of(s, r.outlet).lines() > 1) add_line_rows(rows, s, r.outlet, keys[r.outlet], found);
        if (!r.fall) continue;  // no heater is made for three lines
        add_row(rows, keys[r.outlet], fall_words(s, r.outlet, *r.fall),
                r.fall->expected ? to_text(*r.fall->expected, 2) : "a length is not known",
                r.fall->stop ? "more than " + to_text(*r.fall->stop, 2) : "an electrician says",
                found.at(r.outlet, plan::Test::fall, keys[r.outlet]));
    }
}

void add_loop_rows(std::vector<SheetTest>& rows, const Situation& s, const rules::Readings& read,
                   const Keys& keys, Found& found) {
    for (const auto& r : read.outlets) {
        if (rules::is_own_source(s, r.outlet)) continue;  // its loop says nothing of what opens
        std::string stop = above_words(r.loop_stop);
        if (r.loop_doubt && r.loop_stop && *r.loop_doubt < *r.loop_stop)
            stop += fmt::format("; doubtful above {}", ohms(*r.loop_doubt));
        const std::string each = conductors_of(s, r.outlet).lines() > 1 ? ", each line" : "";
        add_row(rows, keys[r.outlet],
                (r.loop_by_residual ? "fault loop, for the residual device to open" : "fault loop") + each,
                ohms_or_unknown(r.loop), stop, found.at(r.outlet, plan::Test::loop, keys[r.outlet]));
    }
}

void add_residual_rows(std::vector<SheetTest>& rows, const Situation& s, const rules::Readings& read,
                       Found& found) {
    for (const auto& r : read.residuals) {
        const std::string name = s.plan[r.device].words();
        std::string at = "residual device at " + to_text(r.test),
                    stop = r.most ? "slower than " + to_text(r.most->value) : "an electrician says";
        if (r.high_test) {
            at += " (" + to_text(*r.high_test) + ")";
            stop += " (" + to_text(r.most_at_high->value) + ")";
        }
        if (conductors_of(s, r.device).lines() > 1) at += ", each line";
        // A tester drives its current to earth, and from a floating source none comes back.
        if (!rules::is_floating(s, r.device)) {
            add_once(rows, name, at, "opens", stop);
            rows.back().found = found.at(r.device, plan::Test::residual);
            const std::string high = r.high_test ? to_text(*r.high_test) + ":" : "";
            for (std::string& words : found.at(r.device, plan::Test::residual_high, high))
                rows.back().found.push_back(std::move(words));
            for (std::string& words : found.at(r.device, plan::Test::ramp, "opens at"))
                rows.back().found.push_back(std::move(words));
        }
        if (r.stays)
            add_once(rows, name, "residual device below " + to_text(r.stays->value), "stays on", "opens");
        add_once(rows, name, "test button", "opens", "it does not trip");
    }
}

/// The tool on, power off and on again: at each outlet behind a no-volt switch.
void add_release_rows(std::vector<SheetTest>& rows, const Situation& s, const rules::Readings& read,
                      const Keys& keys) {
    for (const auto& r : read.outlets)
        for (Index up = s.plan[r.outlet].parent; up != plan::nowhere; up = s.plan[up].parent) {
            const auto* sw = s.plan[up].as<plan::Switch>();
            if (!sw || !sw->no_volt.is(true)) continue;
            add_row(rows, keys[r.outlet], "no-volt switch: power off and on with the tool on", "it stays off",
                    "it starts");
            break;
        }
}

}  // namespace

SheetSection live_tests(const Situation& s, const rules::Readings& read, int& number) {
    SheetSection section{"LIVE tests: power on, for an electrician", {}};
    section.wide = true;
    const auto keys = outlet_keys(s);
    std::vector<SheetTest> rows;
    Found found(s);
    add_volt_rows(rows, s, read, keys, found);
    add_wired_motor_rows(rows, s);
    if (!s.nec()) add_loop_rows(rows, s, read, keys, found);
    add_residual_rows(rows, s, read, found);
    add_release_rows(rows, s, read, keys);
    add_stop_tests(rows, s);
    add_once(rows, "", "plug and cord, after half an hour of the heaviest set", "warm", "too hot to hold");
    add_others(section, found, true);
    number_all(rows, number);
    section.tests = std::move(rows);
    if (conductors_of(s, read).lines() > 1)
        section.lines.emplace_back("Never pull a fuse or open a line while a motor runs.");
    return section;
}

}  // namespace benchfeed::report
