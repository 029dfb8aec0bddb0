#include <benchfeed/rules/contact.hpp>

#include <algorithm>

#include <benchfeed/figures/nec_210_21_b_2.hpp>
#include <benchfeed/figures/permitted_outlet_pairs.hpp>
#include <benchfeed/figures/thresholds.hpp>

namespace benchfeed::rules {

Outcome undecided(At at, Part part, std::uint8_t variant) {
    Outcome outcome;
    outcome.at = at;
    outcome.part = part;
    outcome.verdict = Verdict::cannot_judge;
    outcome.variant = variant;
    return outcome;
}

std::optional<tables::Figure<Current>> permitted_pair(const Situation& s, Current outlet, Current device) {
    const auto pair = figures::permitted_outlet_pairs::at(s.tables, s.practice().region, outlet);
    if (!pair || above(device, pair->device_rating().value)) return std::nullopt;
    return pair->device_rating();
}

void add_worse(std::vector<Outcome>& outcomes, const Outcome& added) {
    for (auto there = outcomes.rbegin(); there != outcomes.rend() && there->at == added.at; ++there) {
        if (there->part != added.part) continue;
        if (added.verdict > there->verdict) *there = added;
        return;
    }
    outcomes.push_back(added);
}

namespace {

/// The receptacle whose contacts a part is one half of.
Index receptacle_of(const Situation& s, Index element, Part part) {
    const Index at = part == Part::plug ? s.plan[element].parent : element;
    const bool outlet = at != plan::nowhere && s.plan[at].kind == plan::Kind::outlet;
    return outlet && part != Part::inlet ? at : plan::nowhere;
}

}  // namespace

std::optional<tables::Figure<Current>> receptacle_load(const Situation& s, Index element, Part part) {
    const Index at = s.nec() ? receptacle_of(s, element, part) : plan::nowhere;
    if (at == plan::nowhere || s.plan.supply_of(at).circuit.is(plan::Circuit::individual))
        return std::nullopt;
    const auto rating = outlet_rating(s, at).current;
    const auto circuit = network::overload_guard(s.plan, s.tables, at, network::Place::whole).found;
    std::optional<tables::Figure<Current>> found;
    if (!rating) return found;
    for (const auto row : figures::nec_210_21_b_2::rows(s.tables)) {
        if (row.receptacle_rating().value != *rating) continue;
        const bool this_circuit =
            circuit && circuit->rating && row.circuit_rating().value == *circuit->rating;
        if (!found || this_circuit) found = row.max_load();
    }
    return found;
}

void add_contact_limits(const Situation& s, Yield& yield, Index element, Part part, Reach reach,
                        const ContactRating& rating, const std::string& pattern) {
    if (!rating.current) {
        yield.outcomes.push_back(undecided(at_element(element), part));
        return;
    }
    Limit limit;
    limit.at = at_element(element);
    limit.part = part;
    limit.reach = reach;
    limit.edge = *rating.current;
    limit.ground = rating.ground;
    limit.once_per_set = true;
    const Current sure = rating.doubt.value_or(*rating.current);
    limit.caution = Current(sure * figures::thresholds::attention(s.tables).value);
    if (rating.doubt) limit.doubt = *rating.doubt;
    if (s.nec() && s.plan.supply_of(element).circuit.is(plan::Circuit::individual))
        limit.caution = std::monostate{};  // a single receptacle on its own circuit may be used in full
    if (const auto most = receptacle_load(s, element, part); most && !above(most->value, sure)) {
        limit.caution = most->value;
        limit.caution_basis = Basis::standard;
    }
    yield.limits.push_back(limit);

    std::optional<Current> for_hours;
    if (const auto hot = carried_for_hours(s, pattern)) for_hours = hot->value;
    const auto& local = s.plan.local.long_run_share;
    const bool tighter = local.known() && (!for_hours || *rating.current * *local < *for_hours);
    if (tighter) for_hours = Current(*rating.current * *local);
    if (for_hours) {
        Limit hours = limit;
        hours.weight.hours_only = true;
        hours.edge = std::monostate{};
        hours.caution = *for_hours;
        if (tighter) hours.caution_basis = Basis::local;
        hours.weakest = false;
        hours.once_per_set = false;
        hours.variant = 1;
        yield.limits.push_back(hours);
    }
}

}  // namespace benchfeed::rules
