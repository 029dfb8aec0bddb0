// heat.device-overloaded: a set draws more than the protective device carries. It trips in minutes to an
// hour; it does not burn. NEC: noncontinuous + 1.25 x continuous load against the rating.
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/nec_210_20.hpp>
#include <benchfeed/figures/nec_210_23.hpp>
#include <benchfeed/figures/thresholds.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/overload.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::device_overloaded {
namespace {

constexpr std::uint8_t for_hours = 1;   // variant: the attention band of loads that run for hours
constexpr std::uint8_t continuous = 2;  // variant: NEC sum with 1.25 x the loads of three hours and more
constexpr std::uint8_t fastened = 3;    // variant: what is wired beside lamps and what is plugged in

Ratio continuous_factor(const Situation& s) {
    return figures::nec_210_20::continuous_factor(s.tables).value;
}

void add_limits(const Situation& s, Yield& yield, Index element, Part part, Current rating,
                Current other_load) {
    Limit limit;
    limit.at = at_element(element);
    limit.part = part;
    limit.reach = {Reach::Kind::through, element};
    limit.base = other_load;
    limit.edge = rating;
    limit.basis = Basis::standard;
    if (s.nec()) {
        limit.weight.hours_factor = continuous_factor(s);
        limit.variant = continuous;
    }
    yield.limits.push_back(limit);
    const Ratio attention = figures::thresholds::attention(s.tables).value;
    const auto& local = s.plan.local.long_run_share;
    const bool tighter = local.known() && *local < attention;
    if (!tighter && s.nec()) return;  // the factor for hours is in the NEC's own limit
    Limit hours = limit;
    hours.weight.hours_only = true;
    hours.weight.hours_factor = 1.0 * unit::one;
    hours.edge = std::monostate{};
    hours.caution = Current(rating * (tighter ? *local : attention));
    if (tighter) hours.caution_basis = Basis::local;
    hours.weakest = false;
    hours.variant = for_hours;
    yield.limits.push_back(hours);
}

/// A plug fuse below its plug is a device of its own; at the plug's rating the plug's limit says it.
void look_at_fuse(const Situation& s, Yield& yield, Index i) {
    const plan::Element& element = s.plan[i];
    if (as_sold(s, i) || !element.plug.known() || !fused(s, *element.plug)) return;
    if (!element.fuse.known()) {
        yield.outcomes.push_back(undecided(at_element(i), Part::fuse));
        return;
    }
    const ContactRating plug = plug_rating(s, i);
    if (plug.current && above(*plug.current, *element.fuse))
        add_limits(s, yield, i, Part::fuse, *element.fuse, 0.0 * unit::ampere);
}

/// Equipment on a branch circuit that is fastened in place, as far as a plan tells: wired all the way, and no
/// lamp; and whether the circuit feeds lamps or anything plugged in as well.
struct OnCircuit {
    std::vector<Index> fastened;
    Current sum{};
    bool others = false;
};
OnCircuit on_circuit(const Situation& s, Index device) {
    OnCircuit found;
    found.others = feeds_outlets(s, device);
    for (const Index load : loads_below(s, device)) {
        if (behind_a_plug(s, load) || s.plan[load].as<plan::Load>()->kind.is(plan::LoadKind::light)) {
            found.others = true;
            continue;
        }
        found.fastened.push_back(load);
        found.sum += s.network.loads[s.network.load_of[load]].current;
    }
    return found;
}

/// 210.23: the share of a circuit of 15 or 20 A that fastened equipment may take beside lamps or portable
/// tools.
std::optional<tables::Figure<Ratio>> fastened_share(const Situation& s, Current rating) {
    constexpr Current least = 15.0 * unit::ampere, most = 20.0 * unit::ampere;
    if (!s.nec() || above(least, rating) || above(rating, most)) return std::nullopt;
    return figures::nec_210_23::fastened_in_place_total_max_fraction_15_20a(s.tables);
}

/// A caution, and no ok: that what has no plug is fastened in place is read from the plan.
void look_at_fastened(const Situation& s, Yield& yield, Index device, Current rating) {
    const auto share = fastened_share(s, rating);
    if (!share) return;
    const OnCircuit circuit = on_circuit(s, device);
    const Current most = rating * share->value;
    if (!circuit.others || circuit.fastened.empty() || !above(circuit.sum, most)) return;
    Outcome o;
    o.at = at_element(device);
    o.basis = Basis::standard;
    o.ground.grade = share->source.grade;
    o.verdict = Verdict::caution;
    o.value = circuit.sum;
    o.edge = most;
    o.variant = fastened;
    yield.outcomes.push_back(o);
}

Yield look(const Situation& s) {
    Yield yield;
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        look_at_fuse(s, yield, i);
        const auto* device = s.plan[i].as<plan::Device>();
        if (!device) continue;
        // Without an overcurrent part it is a thing in the way, not a device: heat.element-unprotected.
        if (device->kind.is(plan::DeviceKind::residual_current_device)) continue;
        if (device->rating.known()) {
            add_limits(s, yield, i, Part::whole, *device->rating,
                       device->other_load.value_or(0.0 * unit::ampere));
            look_at_fastened(s, yield, i, *device->rating);
        } else
            yield.outcomes.push_back(undecided(at_element(i), Part::whole));
    }
    return yield;
}

Explanation explain_fastened(const Situation& s, const Outcome& o) {
    const plan::Element& element = s.plan[o.at.index];
    const Current rating = *element.as<plan::Device>()->rating;
    const auto share = *fastened_share(s, rating);
    const OnCircuit circuit = on_circuit(s, o.at.index);
    Explanation e;
    e.place = {place_of(element.as<plan::Device>()->rating, element), "feeds lamps or outlets as well"};
    for (const Index load : circuit.fastened)
        e.related.push_back({s.plan[load].header, "wired, without a plug"});
    e.sources.push_back(share.source);
    Working working;
    const Value sum = sum_of(working, s, circuit.fastened, "I_fastened");
    const Value most =
        working.add("I_most", "share * In", "{} * {}",
                    {working.written(to_text(share.value)), working.written(to_text(rating, 6))}, "A",
                    {network::cited(share.source)});
    working.compare(sum, ">", most);
    e.steps = working.finish();
    const bool one = circuit.fastened.size() == 1;
    e.headline = capital(list(s, circuit.fastened)) + (one ? " is" : " are") + " wired to " +
                 element.words() + " and " + (one ? "draws " : "draw ") + to_text(o.value) +
                 "; beside lamps or what is plugged in the code " + "leaves " + to_text(o.edge) +
                 " to equipment that is fastened in place";
    e.consequence = "It works; an inspector may refuse it, and lamps and tools find little left.";
    e.remedies = {{Cost::electrician, "a circuit of its own for what is wired"}};
    return e;
}

Explanation explain(const Situation& s, const Outcome& outcome, const Limit* limit) {
    if (outcome.variant == fastened) return explain_fastened(s, outcome);
    const plan::Element& element = s.plan[outcome.at.index];
    if (outcome.part == Part::fuse) {
        if (outcome.verdict == Verdict::cannot_judge && outcome.limit == plan::nowhere)
            return ask_for_rating(s, outcome, place_of(element.plug, element), element.path() + ".fuse",
                                  "Which fuse is in " + words(s, outcome.at, Part::plug) + "?",
                                  "printed on the fuse: open the plug");
        Explanation e = explain_overload(
            s, outcome, *limit, {.rating = to_text(*element.fuse), .source = {}, .place = element.fuse.span});
        if (outcome.verdict == Verdict::cannot_judge) return e;
        e.consequence =
            "The fuse blows, or holds and the plug gets hot: a plug fuse may carry much more than its figure "
            "for half an hour.";
        return e;
    }
    const auto& device = *element.as<plan::Device>();
    if (outcome.verdict == Verdict::cannot_judge && outcome.limit == plan::nowhere)
        return ask_for_rating(s, outcome, place_of(device.rating, element), element.path() + ".rating",
                              "What is the rating of " + element.words() + "?",
                              "printed on its handle or front, behind the letter if it has one");
    Explanation e = explain_overload(
        s, outcome, *limit,
        {.rating = to_text(*device.rating), .source = {}, .place = place_of(device.rating, element)});
    if (outcome.verdict == Verdict::cannot_judge) return e;
    if (outcome.variant == for_hours)
        e.consequence = "Loads that run for hours warm the device: it may trip on a hot day.";
    else
        e.consequence =
            "It may trip after minutes to an hour of such work, with the blade in the wood. A larger device "
            "is "
            "never the cure.";
    return e;
}

}  // namespace

const Rule rule{.id = "heat.device-overloaded",
                .title = "a set draws more than its protective device carries",
                .harm = Harm::heat,
                .essential = true,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::device_overloaded
