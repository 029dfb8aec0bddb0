// What holds cables, and what is written on them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <benchfeed/advice/part_lists.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::advice {

using rules::Situation;

namespace {

enum class Lies : std::uint8_t { loose, clipped, in_conduit, unknown };

Lies lies(const plan::Cable& cable) {
    using plan::Route;
    if (cable.method.is(plan::Method::conduit) || cable.route.is(Route::conduit)) return Lies::in_conduit;
    if (cable.route.is(Route::floor) || cable.route.is(Route::buried)) return Lies::loose;
    return cable.route.known() || cable.method.known() ? Lies::clipped : Lies::unknown;
}

/// Spacing of what holds a cable: sheathed cable of a house has its own in the US.
Allowance<Length> spacing_for(const Situation& s, const plan::Stock& stock, const Allowances& allowances) {
    const tables::Table* table = s.tables.table("part-allowances");
    const bool chosen = !allowances.clip_spacing.source;
    if (chosen || !s.nec() || rules::is_cord(s, stock) || !table) return allowances.clip_spacing;
    const auto staples = table->length("staple_spacing_us");
    return staples ? Allowance<Length>{staples->value, std::string(staples->written), staples->source}
                   : allowances.clip_spacing;
}

/// One at the start of a run, then one for each spacing begun.
int clips_for(Length run, Length spacing) {
    return static_cast<int>(std::ceil(run / spacing - 1e-9)) + 1;
}

PartLine clips_line(const Situation& s, Index i, const Allowances& allowances) {
    const plan::Cable& cable = *s.plan[i].cable;
    const plan::Stock& stock = stock_of_cable(s, i);
    const Allowance<Length> spacing = spacing_for(s, stock, allowances);
    PartLine line;
    line.group = PartGroup::fixing;
    line.what = fmt::format("clip for {}, one every {}", rules::cable_words(stock), spacing.written);
    line.places.push_back({i, "", rules::Part::cable});
    if (!cable.length.known()) {
        line.choose.push_back(
            fmt::format("how many: measure the run, one every {} and one", spacing.written));
        return line;
    }
    const int clips = clips_for(*cable.length, spacing.value);
    if (lies(cable) == Lies::clipped)
        line.count = clips;
    else
        line.choose.push_back("whether: only where the run is fixed, which the plan does not say");
    line.places.back().detail = fmt::format("{} for {}", clips, rules::length_words(s, *cable.length));
    line.notes.push_back("one at the start of a run, then one for each spacing begun");
    return line;
}

}  // namespace

void add_fixing(const Situation& s, const Allowances& allowances, PartLines& lines) {
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (!s.plan[i].cable || s.network.house[i] || rules::as_sold(s, i)) continue;
        const Lies how = lies(*s.plan[i].cable);
        const bool reel = s.plan[i].cable->reel.known() && !s.plan[i].cable->reel.is(plan::Reel::none);
        if (how == Lies::loose || reel) continue;
        // A cord from a plug lies free between the wall and the bench.
        if (how == Lies::unknown && s.plan[i].plug.written()) continue;
        if (how != Lies::in_conduit) {
            lines.add(clips_line(s, i, allowances));
            continue;
        }
        PartLine line;
        line.group = PartGroup::fixing;
        line.what = "conduit or trunking, with what holds it and guards its ends";
        const auto& length = s.plan[i].cable->length;
        line.places.push_back(
            {i, length.known() ? rules::length_words(s, *length) : "length unknown", rules::Part::cable});
        line.choose.push_back(
            "its size: the cables that share it, measured; bends that a cable can be pulled through");
        lines.add(std::move(line));
    }
    PartLine grommets;
    grommets.group = PartGroup::fixing;
    grommets.what = "grommet for each hole in a panel through which a cable goes";
    grommets.choose.push_back("how many and how wide: the holes, which the plan does not say");
    lines.add(std::move(grommets));
}

void add_labels(const Situation& s, PartLines& lines) {
    const auto label = [&](std::string what, int count) {
        if (count == 0) return;
        PartLine line;
        line.group = PartGroup::labels;
        line.what = std::move(what);
        line.count = count;
        lines.add(std::move(line));
    };
    int runs = 0, named = 0;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (s.network.house[i] || rules::is_tool_socket(s, i)) continue;
        const plan::Kind kind = s.plan[i].kind;
        named += kind == plan::Kind::outlet || kind == plan::Kind::switch_ || kind == plan::Kind::device;
        runs += s.plan[i].cable && !rules::as_sold(s, i);
    }
    label("label that does not fade, for an outlet, a switch or a device", named);
    label("cable marker, one at each end of a run", 2 * runs);
    if (rules::bench_plugs(s).size() > 1)
        label("sign at each plug and at the box: more than one supply, pull both", 1);
    label("holder for the sheet in the cabinet", 1);
}

}  // namespace benchfeed::advice
