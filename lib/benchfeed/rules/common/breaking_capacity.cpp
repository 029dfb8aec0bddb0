// heat.breaking-capacity: a device that cannot break the highest fault current may burst.
#include <fmt/format.h>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/fault_words.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>

namespace benchfeed::rules::breaking_capacity {
namespace {

constexpr std::uint8_t small_current = 1, ask_breaking = 2;  // 0: compared with the mark

std::optional<tables::Figure<Current>> small_fault(const Situation& s) {
    const tables::Table* table = s.tables.table("thresholds");
    return table ? table->current("small_fault_current") : std::nullopt;
}

bool breaks_faults(const Situation& s, const plan::Device& device) {
    const tables::Table* functions = s.tables.table("device-functions");
    const auto row = functions && device.standard.known()
                         ? functions->row_of("standard", device.standard.word())
                         : std::nullopt;
    if (!row) return !device.kind.is(plan::DeviceKind::residual_current_device);
    return functions->flag(*row, "short_circuit").value_or(false);
}

std::optional<Outcome> judge_device(const Situation& s, Index i) {
    const auto& device = *s.plan[i].as<plan::Device>();
    // How much flows is asked for by plan.unknown: nothing to add before it is known.
    const auto current = network::most_fault_current(s.plan, s.tables, s.network, i);
    if (!breaks_faults(s, device) || !current) return std::nullopt;
    Outcome o;
    o.at = at_element(i);
    o.basis = Basis::standard;
    o.value = *current;
    if (device.breaking.known()) {
        o.edge = *device.breaking;
        if (above(*current, *device.breaking)) o.verdict = Verdict::fail;
        return o;
    }
    const auto small = small_fault(s);
    if (!small) return std::nullopt;
    if (above(*current, small->value)) return undecided(o.at, Part::whole, ask_breaking);
    o.variant = small_current;
    o.basis = Basis::practice;
    o.ground.grade = small->source.grade;
    if (!o.ground.carries_ok()) return undecided(o.at, Part::whole, ask_breaking);
    return o;
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].kind == plan::Kind::device)
            if (const auto outcome = judge_device(s, i)) yield.outcomes.push_back(*outcome);
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& device = *element.as<plan::Device>();
    const Current current = *network::most_fault_current(s.plan, s.tables, s.network, o.at.index);
    const std::string name = element.words();
    if (o.variant == ask_breaking)
        return ask_for_rating(
            s, o, place_of(device.breaking, element), element.path() + ".breaking",
            fmt::format("What fault current can {} break? Up to {} may flow there", name, to_text(current)),
            "printed on its front in a box: 4500, 6000, 10000");
    Explanation e;
    e.place = {place_of(device.breaking, element), ""};
    Working working;
    const Value flows = explain_most_current(working, s, o.at.index);
    if (o.variant == small_current) {
        e.headline = fmt::format("At {} up to {} flow in a fault, which any device of its kind breaks", name,
                                 to_text(current));
        e.sources.push_back(small_fault(s)->source);
        working.compare(flows, "<=", working.written(small_fault(s)->written),
                        {network::cited(small_fault(s)->source)});
        e.steps = working.finish();
        return e;
    }
    working.compare(flows,
                    o.verdict == Verdict::fail ? ">" : "<=", working.written(to_text(*device.breaking, 6)));
    e.steps = working.finish();
    e.headline = fmt::format("{} breaks {}; up to {} may flow there in a fault", capital(name),
                             to_text(*device.breaking), to_text(current));
    if (o.verdict == Verdict::ok) return e;
    e.short_words = name + " may burst in a short circuit";
    e.consequence = "It may weld shut or burst, and the cable behind it burns.";
    e.remedies = {{Cost::electrician,
                   "a device with a higher breaking capacity, or one upstream that limits "
                   "the current"}};
    return e;
}

}  // namespace

const Rule rule{.id = "heat.breaking-capacity",
                .title = "a device cannot break the fault current",
                .harm = Harm::heat,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::way, More::hurts},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::breaking_capacity
