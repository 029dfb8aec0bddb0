// trip.leakage: what healthy tools leak together comes near what the residual current device trips at.
#include <fmt/format.h>

#include <unordered_map>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/figures/iec_531_3_2.hpp>
#include <benchfeed/figures/ul_943.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/contact.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/leaks.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::rules::leakage {
namespace {

/// Standing leakage that a device bears: a share of its trip current (IEC 60364-5-53 531.3.2); US the
/// current below which a class A interrupter never trips (UL 943).
struct Bears {
    Current current{};
    std::optional<tables::Figure<Ratio>> share;
    tables::Citation source;
};
std::optional<Bears> bears(const Situation& s, const plan::Device& device) {
    if (s.nec()) {
        const auto least = figures::ul_943::no_trip_below(s.tables);
        const Current most = figures::ul_943::must_trip_at(s.tables).value;
        const bool class_a =
            !device.residual || !device.residual->trip.known() || !above(*device.residual->trip, most);
        if (!class_a) return std::nullopt;
        return Bears{least.value, std::nullopt, least.source};
    }
    const auto share = figures::iec_531_3_2::share(s.tables);
    if (!device.residual || !device.residual->trip.known()) return std::nullopt;
    return Bears{Current(*device.residual->trip * share.value), share, share.source};
}

struct Sum {
    Current current{};
    std::vector<Index> loads;
    Index set = no_set;
};

/// What the loads of one set leak behind each device with a residual part above them, by element index.
std::unordered_map<Index, Sum> sums_of_set(const Situation& s, Index set) {
    std::unordered_map<Index, Sum> sums;
    for (const Index load : s.plan.sets[set].loads) {
        const auto one = leaks(s, load);
        if (!one) continue;
        for (const Index device : residual_devices_above(s, load)) {
            Sum& sum = sums[device];
            sum.set = set;
            sum.current += one->value;
            sum.loads.push_back(load);
        }
    }
    return sums;
}

/// For each device the set whose loads leak most behind it; of equals the first by name.
std::unordered_map<Index, Sum> most_of_sets(const Situation& s) {
    std::unordered_map<Index, Sum> most;
    for (Index set = 0; set < s.plan.sets.size(); ++set)
        for (auto& [device, sum] : sums_of_set(s, set)) {
            Sum& kept = most[device];
            const bool more = kept.set == no_set || above(sum.current, kept.current);
            const bool alike = !more && !above(kept.current, sum.current);
            if (more || (alike && s.plan.sets[set].name < s.plan.sets[kept.set].name)) kept = std::move(sum);
        }
    return most;
}

Yield look(const Situation& s) {
    Yield yield;
    for (const network::LoadPoint& load : s.network.loads)
        if (const auto one = leaks(s, load.element); !one && !residual_devices_above(s, load.element).empty())
            yield.cannot_judge(at_element(load.element), Part::whole, one.missing());
    const auto sums = most_of_sets(s);
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* device = s.plan[i].as<plan::Device>();
        const auto found = sums.find(i);
        const auto most = device && found != sums.end() ? bears(s, *device) : std::nullopt;
        if (!most) continue;
        const Sum& sum = found->second;
        Outcome o;
        o.at = at_element(i);
        o.set = sum.set;
        o.basis = s.nec() ? Basis::marking : Basis::standard;
        o.value = sum.current;
        o.caution = most->current;
        // US: at 4 mA it may trip; elsewhere more than the share is too much.
        const bool reaches = s.nec() ? !above(most->current, sum.current) : above(sum.current, most->current);
        if (reaches) o.verdict = Verdict::caution;
        yield.outcomes.push_back(o);
    }
    return yield;
}

Explanation explain(const Situation& s, const Outcome& o, const Limit*) {
    const plan::Element& element = s.plan[o.at.index];
    const auto& device = *element.as<plan::Device>();
    const Bears most = *bears(s, device);
    const Sum sum = sums_of_set(s, o.set).at(o.at.index);
    Explanation e;
    e.place = {device.residual ? place_of(device.residual->trip, element) : element.header, ""};
    e.headline =
        fmt::format("{}: {} may leak {} together; {} tolerates {}", set_words(s, o.set), list(s, sum.loads),
                    to_text(sum.current), element.words(), to_text(most.current));
    Working working;
    std::vector<Value> terms;
    std::string pattern, names;
    for (const Index load : sum.loads) {
        const auto one = *leaks(s, load);
        terms.push_back(working.written(to_text(one.value, 6)));
        pattern += pattern.empty() ? "{}" : " + {}";
        names += (names.empty() ? "" : " + ") + s.plan[load].name;
        e.sources.push_back(one.source);
    }
    working.note(
        "Assumed: each leaks what its kind may at most; a healthy tool leaks less, one with a drive or a "
        "filter can leak more.");
    Value total = terms.front();
    if (terms.size() > 1) total = working.add("I_leak", names, pattern, terms, "mA");
    Value limit = working.written(to_text(most.current, 6));
    if (most.share)
        limit = working.add("I_most", "share * I_dn", "{} * {}",
                            {working.written(tables::written_number(*most.share)),
                             working.written(to_text(*device.residual->trip, 6))},
                            "mA");
    const bool at_least = s.nec() && !above(most.current, sum.current);
    working.compare(total, o.verdict == Verdict::caution ? (at_least ? ">=" : ">") : (s.nec() ? "<" : "<="),
                    limit, {network::cited(most.source)});
    e.steps = working.finish();
    e.sources.push_back(most.source);
    if (o.verdict == Verdict::ok) return e;
    e.consequence = "It trips without a fault, now and then, and somebody gets used to closing it again.";
    e.remedies = {{Cost::free, "run fewer tools at a time behind it, and unplug what is not used"},
                  {Cost::free, "if one tool alone trips it: take that tool out of service"},
                  {Cost::electrician, "a second circuit with a device of its own"}};
    return e;
}

}  // namespace

const Rule rule{.id = "trip.leakage",
                .title = "healthy tools leak what the residual current device trips at",
                .harm = Harm::trip,
                .essential = false,
                .families = "iec nec",
                .since = "0.1.0",
                .sections = {Depends::nothing},
                .look = look,
                .explain = explain};

}  // namespace benchfeed::rules::leakage
